// A piece of wood as the record keeps it: what it is, its sizes and mass with their spread, its rounds of taps, and what
// was read from them. It belongs to an instrument or lies on the stock shelf, which is a record of its own kind.
import * as v from 'valibot';
import { sectionShapes } from '../brace/section.ts';
import { CRITERIA } from '../wood/thickness.ts';
import { atLeastZero, climateSchema, finite, id, instant, line, positive, prose } from './fields.ts';
import { roundSchema, tapKinds } from './round-part.ts';

export const pieceKinds = ['top', 'back', 'side', 'brace-stock', 'bridge-blank'] as const;

const pieceShapes = ['rectangle', 'cut-out'] as const;

/** A measured size, mass or constant: more than nothing, with its standard deviation. */
const amount = v.looseObject({ value: positive, sigma: atLeastZero });

/** One deflection test on two supports, loaded in the middle. */
const deflectionSchema = v.looseObject({
  /** which way the piece bends; one test each */
  id: v.picklist(['along', 'across']),
  spanMm: v.optional(amount),
  loadG: v.optional(amount),
  deflectionMm: v.optional(amount),
});

/** What was read from taps, ruler and scale, with the air it holds for. */
const readingSchema = v.looseObject({
  /** name and version of the method, or where the figures came from */
  method: line,
  atIso: instant,
  densityKgM3: v.optional(amount),
  eLongGpa: v.optional(amount),
  eCrossGpa: v.optional(amount),
  gGpa: v.optional(amount),
  qLong: v.optional(amount),
  qCross: v.optional(amount),
  qTwist: v.optional(amount),
});

/** How thick the maker means this plate to be, and the line where the machine stops. */
const thicknessingSchema = v.looseObject({
  /** what it should equal */
  reference: v.variant('from', [
    /** the plate made of another piece */
    v.looseObject({ from: v.literal('piece'), pieceId: id }),
    /** a plate of the handbook's wood of this species */
    v.looseObject({ from: v.literal('handbook'), thicknessMm: positive }),
    v.looseObject({
      from: v.literal('own'),
      thicknessMm: positive,
      eLongGpa: positive,
      eCrossGpa: positive,
      gGpa: positive,
      densityKgM3: positive,
    }),
  ]),
  /** by which way of being equal */
  by: v.picklist(CRITERIA),
  /** the moving part of the top, as if clamped */
  patchLengthMm: positive,
  patchWidthMm: positive,
  /** of the plate, for its mass */
  areaCm2: positive,
  /** what sanding and finish will still take; the setting's where not given */
  marginMm: v.optional(atLeastZero),
  /** the line as it was noted: it stays when the figures behind it change */
  stop: v.optional(v.looseObject({ mm: positive, atIso: instant })),
});

/** What brace a stick is to become, and on what plate. */
const braceUseSchema = v.looseObject({
  section: v.picklist(sectionShapes),
  widthMm: positive,
  /** heights at distances from its first end */
  stations: v.array(v.looseObject({ atMm: finite, heightMm: atLeastZero })),
  plateMm: positive,
  /** strip of plate that goes along with it */
  stripMm: positive,
  /** E of the plate along the brace */
  plateGpa: positive,
});

export const pieceSchema = v.looseObject({
  id,
  kind: v.picklist(pieceKinds),
  name: line,
  /** id of a listed species, or the maker's own words */
  species: line,
  /** along the grain */
  lengthMm: v.optional(amount),
  widthMm: v.optional(amount),
  thicknessMm: v.optional(amount),
  massG: v.optional(amount),
  /** whether it is a rectangle, as a board has to be to be read; undefined until the maker says */
  shape: v.optional(v.picklist(pieceShapes)),
  /** from its thinnest to its thickest place */
  unevenMm: v.optional(atLeastZero),
  /** thickness it was finished to, where it has become a plate */
  finishedMm: v.optional(amount),
  climate: climateSchema,
  /** by a meter; else it follows from the climate */
  moisturePercent: v.optional(atLeastZero),
  notes: prose,
  photoId: v.optional(id),
  rounds: v.array(roundSchema),
  /** which frequency is which mode, where the maker typed or chose it; else the strongest of the round made for it */
  modes: v.array(v.looseObject({ id: v.picklist(tapKinds), frequencyHz: amount, q: v.optional(amount) })),
  reading: v.optional(readingSchema),
  caliper: v.array(v.looseObject({ id, xMm: finite, yMm: finite, thicknessMm: positive })),
  deflections: v.array(deflectionSchema),
  thicknessing: v.optional(thicknessingSchema),
  brace: v.optional(braceUseSchema),
});
