// A round of taps as the record keeps it: how the piece was held, each tap that was kept, and what was read from them.
import * as v from 'valibot';
import { leastRateHz, mostRateHz, RECORDER_FAULTS } from '../signal/tap.ts';
import { atLeastZero, finite, id, instant, line, positive } from './fields.ts';

export const holds = ['at-node', 'on-foam', 'in-mould', 'box-open', 'box-hole-blocked', 'box-back-damped'] as const;
export const bridges = ['off', 'taped', 'glued'] as const;

/** The modes that the taps of a free board or bar are taken for; a stick's bending is its long-grain bending. */
export const tapKinds = ['long-grain-bending', 'cross-grain-bending', 'twist'] as const;

const modeSchema = v.looseObject({
  frequencyHz: v.looseObject({ value: positive, sigma: atLeastZero }),
  q: v.looseObject({ value: positive, sigma: atLeastZero }),
  levelDb: finite,
  amplitudes: v.array(finite),
  /** the same with its sign, see `Wave` */
  waves: v.optional(v.array(v.looseObject({ cosine: finite, sine: finite }))),
  resolution: v.picklist(['single', 'pair']),
  /** probability that it is the piece's and not the room's answer to it */
  ofPiece: v.optional(finite),
});

const placeSchema = v.looseObject({
  hold: v.pipe(v.number(), v.integer(), v.minValue(0)),
  tap: v.pipe(v.number(), v.integer(), v.minValue(0)),
});

const fitSchema = v.looseObject({
  method: line,
  modes: v.array(modeSchema),
  used: v.array(placeSchema),
  setAside: v.array(placeSchema),
  /** modes that belong to the room, told by a control clap and left out of `modes` */
  ofRoom: v.optional(v.array(modeSchema)),
  /** energy of the room's answer over the piece's, dB, where it hides all but the strongest modes */
  roomAnswerDb: v.optional(finite),
  /** the tap before still rang before every tap: the noise of the room is not known */
  isRungOver: v.optional(v.literal(true)),
  /** what the recorder was found to do to the sound: no Q is known through a gain or a suppressor */
  recorder: v.optional(v.picklist(RECORDER_FAULTS)),
  /** holds that do not ring alike, how far apart (relative in frequency), and which one was left out if it could be told */
  disagreement: v.optional(
    v.looseObject({ apart: positive, hold: v.optional(v.pipe(v.number(), v.integer(), v.minValue(0))) }),
  ),
  scatterKnown: v.boolean(),
});

/** A resonance of the room, from a control clap. */
const roomPoleSchema = v.looseObject({
  frequencyHz: v.looseObject({ value: positive, sigma: atLeastZero }),
  q: v.looseObject({ value: positive, sigma: atLeastZero }),
});

const tapSchema = v.looseObject({
  id,
  atIso: instant,
  sampleRateHz: v.pipe(finite, v.minValue(leastRateHz), v.maxValue(mostRateHz)),
  aboveRoomDb: finite,
  /** counted from 0; nobody picks a piece up a thousand times for one round */
  hold: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(999)),
  /** in a roving round: which of its spots was tapped, counted from 0 */
  rovingSpot: v.optional(v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(99))),
  /** in a roving round, the maker's word: kept, but nothing is concluded from it */
  leftOut: v.optional(v.literal(true)),
});

/** A spot of a roving round: where it lies on the plan, or nothing where nothing is drawn. */
const rovingSpotSchema = v.looseObject({ xMm: v.optional(finite), yMm: v.optional(finite) });

const supportSchema = v.looseObject({
  hold: v.picklist(holds),
  bridge: v.picklist(bridges),
  strung: v.boolean(),
  /** a known lump fixed at the bridge for this round only */
  addedMassG: v.optional(positive),
  /** the same at the middle of the back */
  addedMassOnBackG: v.optional(positive),
});

export const roundSchema = v.looseObject({
  id,
  atIso: instant,
  support: supportSchema,
  /** where the finger lands; one of the page's spots or the maker's own words */
  spot: line,
  /** the mode that the hold and the spot were chosen for, where a free board or bar is measured */
  wanted: v.optional(v.picklist(tapKinds)),
  /** microphone and what it did to the sound, or the file the taps came from */
  source: line,
  /** `open` while taps are still being taken; `set-aside` by the maker: kept, but nothing is concluded from it */
  state: v.picklist(['open', 'closed', 'set-aside']),
  taps: v.array(tapSchema),
  /** the numbered spots of a round that goes from spot to spot; its modes are those of an ordinary round of the same step */
  roving: v.optional(v.looseObject({ spots: v.pipe(v.array(rovingSpotSchema), v.maxLength(100)) })),
  /** what the room itself rang at when the taps were taken, where somebody clapped for it */
  roomPoles: v.optional(v.array(roomPoleSchema)),
  /** the maker's word: every hold counts, even one that the others do not bear out */
  countsEveryHold: v.optional(v.literal(true)),
  /** derived from the taps; recomputed when the method changes */
  fit: v.optional(fitSchema),
});
