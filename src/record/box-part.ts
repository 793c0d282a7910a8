// What the record keeps of the closed box: its sizes, which peak the maker says is which, the strings, and the repair.
// Units in every name; everything optional, since a maker measures what is at hand.
import * as v from 'valibot';
import { planSchema } from './plan-part.ts';

const finite = v.pipe(v.number(), v.finite());
const positive = v.pipe(finite, v.gtValue(0));
const atLeastZero = v.pipe(finite, v.minValue(0));
const word = v.pipe(v.string(), v.maxLength(200));
const id = v.pipe(v.string(), v.regex(/^[A-Za-z0-9_-]{1,64}$/));
const measured = v.object({ value: positive, sigma: atLeastZero });

export const boxPeakParts = ['air', 'top', 'back', 'other'] as const;

const cavitySchema = v.looseObject({
  from: v.picklist(['outline', 'volume']),
  /** inside measures */
  bodyLengthMm: v.optional(positive),
  lowerBoutMm: v.optional(positive),
  waistMm: v.optional(positive),
  upperBoutMm: v.optional(positive),
  tailDepthMm: v.optional(positive),
  neckDepthMm: v.optional(positive),
  topDomeRadiusM: v.optional(positive),
  backDomeRadiusM: v.optional(positive),
  /** blocks, linings and braces, litres */
  occupiedL: v.optional(atLeastZero),
  /** typed, litres */
  volumeL: v.optional(positive),
  /** half width of the 95 % interval of the volume, % */
  volumeDoubtPercent: v.optional(positive),
  holeRadiusMm: v.optional(positive),
  /** thickness of the top at the rim of the hole */
  holeEdgeMm: v.optional(atLeastZero),
  pressureHpa: v.optional(v.pipe(finite, v.minValue(600), v.maxValue(1100))),
});

/** Which part the maker says a peak of a round belongs to. */
const peakSchema = v.looseObject({ id, roundId: id, frequencyHz: positive, part: v.picklist(boxPeakParts) });

const stringSchema = v.looseObject({
  kind: v.picklist(['plain', 'wound', 'weighed']),
  /** steel where not given; nylon: plain, or silvered copper wound on a floss of nylon */
  material: v.optional(v.picklist(['steel', 'nylon'])),
  diameterMm: v.optional(positive),
  coreMm: v.optional(positive),
  unitMassGPerM: v.optional(positive),
});

export const bridgeTurnTimes = ['10 min', '1 day', '1 week', '1 year'] as const;

const stringsSchema = v.looseObject({
  setName: word,
  otherSetName: v.optional(word),
  ownSet: v.optional(v.array(stringSchema)),
  scaleMm: positive,
  tuning: word,
  saddleHeightMm: positive,
  breakAngleDeg: atLeastZero,
  neckAngleDeg: finite,
  ageYears: v.optional(atLeastZero),
  /** slope of the bridge's top against the top's rim, with the strings slack and at pitch */
  bridgeSlackDeg: v.optional(finite),
  bridgeTunedDeg: v.optional(finite),
  /** how far the top stands up behind the bridge, strings at pitch */
  bellyMm: v.optional(atLeastZero),
  /** strings above the 12th fret, 1st and last string */
  action12Mm: v.optional(v.looseObject({ first: positive, last: positive })),
  /** angle of the bridge against the slack state, in time after stringing */
  turns: v.optional(v.array(v.looseObject({ after: v.picklist(bridgeTurnTimes), turnDeg: finite }))),
  /** how far the top has risen at the saddle against the slack state */
  rises: v.optional(v.array(v.looseObject({ after: v.picklist(bridgeTurnTimes), riseMm: finite }))),
});

const woodSchema = v.looseObject({
  /** the piece of the records the figures were taken from */
  pieceId: v.optional(id),
  /** or two strips of it, each read along its own length: one cut along the grain, one across */
  alongPieceId: v.optional(id),
  acrossPieceId: v.optional(id),
  densityKgM3: v.optional(measured),
  eLongGpa: v.optional(measured),
  eCrossGpa: v.optional(measured),
  /** shear in the plane of the plate */
  gGpa: v.optional(measured),
});

export const topDamages = ['cracked', 'loose-brace', 'sunken', 'sanded-thin'] as const;
export const matchWishes = ['along', 'across', 'both', 'mass'] as const;

const damages = v.array(v.picklist(topDamages));

/** A place of damage on the outline: x from the tail, y toward treble, as seen from outside, mm. */
const damageMarkSchema = v.looseObject({
  id,
  face: v.picklist(['top', 'back']),
  damage: v.picklist(topDamages),
  xMm: finite,
  yMm: finite,
  note: word,
  atIso: v.pipe(v.string(), v.isoTimestamp()),
});

const repairSchema = v.looseObject({
  /** the instrument whose readings are the wish; may be this one */
  recordId: id,
  /** the last step before the repair */
  stepId: id,
  topDamage: damages,
  marks: v.optional(v.array(damageMarkSchema)),
  /** the maker looked and found nothing wrong; absent where nobody was asked */
  isTopSound: v.optional(v.boolean()),
  isBackSound: v.optional(v.boolean()),
  backDamage: v.optional(damages),
  /** weight that was set on the old bridge, strings off, and how far it went down */
  bridgeLoadG: v.optional(positive),
  bridgeDownMm: v.optional(measured),
  /** the removed top, as a strip of it was read */
  oldWood: woodSchema,
  oldThicknessMm: v.optional(measured),
  /** the removed top as it was measured and drawn */
  oldPlan: v.optional(planSchema),
  newWood: woodSchema,
  newThicknessMm: v.optional(positive),
  matchBy: v.picklist(matchWishes),
  /** moisture of the new wood when it was read less that of the old, % */
  moistureDifferencePercent: v.optional(finite),
});

const aimSchema = v.looseObject({
  id,
  /** counted from the lowest, 0-based */
  mode: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(2)),
  frequencyHz: positive,
  toleranceHz: positive,
});

export const boxPartSchema = v.looseObject({
  cavity: v.optional(cavitySchema),
  /** false where the back shows no peak of its own */
  backAnswers: v.optional(v.boolean()),
  peaks: v.optional(v.array(peakSchema)),
  aims: v.optional(v.array(aimSchema)),
  tuning: v.optional(word),
  frets: v.optional(v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(30))),
  warningCents: v.optional(v.pipe(finite, v.minValue(0), v.maxValue(50))),
  strings: v.optional(stringsSchema),
  repair: v.optional(repairSchema),
});
