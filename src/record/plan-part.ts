// The bracing plan of a record: the top as it was glued together, before anything was shaved. What was shaved since is
// in the steps (cuts.ts). Axes as in plate/outline.ts: x from the tail toward the neck, y to the right as seen
// from outside with the neck up, whichever hand plays. A drawing may hold mistakes; they are named, not refused.
import * as v from 'valibot';
import { sectionShapes } from '../brace/section.ts';

const finite = v.pipe(v.number(), v.finite());
const positive = v.pipe(finite, v.gtValue(0));
const line = v.pipe(v.string(), v.maxLength(500));
const id = v.pipe(v.string(), v.regex(/^[A-Za-z0-9_-]{1,64}$/));
const spread = v.looseObject({ value: finite, sigma: v.pipe(finite, v.minValue(0)) });

const place = v.looseObject({ xMm: finite, yMm: finite });
const height = v.looseObject({ atMm: finite, heightMm: finite });

/** Heights along a brace, at distances from its first end, straight between them. */
export const profileSchema = v.array(height);

const woodSchema = v.looseObject({
  name: line,
  /** the wood of the handbook that lends the ratios nobody measures at the bench */
  speciesId: line,
  /** the measured piece of this record that the constants were taken from, as far as it was measured */
  pieceId: v.optional(id),
  /** the other half of a joined top */
  otherPieceId: v.optional(id),
  eLongGpa: spread,
  eCrossGpa: spread,
  /** in the plane of the plate */
  shearGpa: spread,
  densityKgM3: spread,
});

const outlineSchema = v.variant('kind', [
  v.looseObject({
    kind: v.literal('body'),
    lengthMm: positive,
    /** widths, and where along the body they are measured, from the tail */
    lowerAtMm: finite,
    lowerMm: finite,
    waistAtMm: finite,
    waistMm: finite,
    upperAtMm: finite,
    upperMm: finite,
  }),
  v.looseObject({
    kind: v.literal('points'),
    /** file it came from */
    source: line,
    points: v.array(place),
  }),
]);

const braceSchema = v.looseObject({
  id,
  name: line,
  from: place,
  to: place,
  widthMm: finite,
  profile: profileSchema,
  section: v.picklist(sectionShapes),
  /** of a stick of its own; the plan's brace wood where it is absent */
  wood: v.optional(woodSchema),
  /** turn of the grain away from the brace */
  grainDeg: finite,
  /** carries the string load: not to be voiced without thought */
  structural: v.boolean(),
  /** lowest height allowed on each stretch, set before voicing */
  floors: v.array(v.looseObject({ fromMm: finite, toMm: finite, heightMm: finite })),
});

const slabSchema = v.looseObject({
  /** along the centre line */
  alongMm: finite,
  acrossMm: finite,
  thicknessMm: finite,
  wood: woodSchema,
});

/** What decides where a pattern puts the braces. */
const layoutEntries = {
  outline: outlineSchema,
  soundhole: v.optional(v.looseObject({ xMm: finite, yMm: finite, radiusMm: finite })),
  scaleMm: positive,
  fretsToBody: v.pipe(v.number(), v.integer(), v.minValue(5), v.maxValue(24)),
  /** how far behind the scale length the saddle stands */
  setbackTrebleMm: finite,
  setbackBassMm: finite,
  liningMm: finite,
};

export const planSchema = v.looseObject({
  ...layoutEntries,
  /** what the braces were laid out for, where that was changed since */
  laidFor: v.optional(v.looseObject(layoutEntries)),
  /** how far apart the outer strings are at the saddle */
  stringSpreadMm: positive,
  bridge: slabSchema,
  bridgePlate: slabSchema,
  thicknessMm: finite,
  wood: woodSchema,
  braceWood: woodSchema,
  /** neck block and tail block, along and across */
  neckBlock: v.looseObject({ alongMm: finite, acrossMm: finite }),
  tailBlock: v.looseObject({ alongMm: finite, acrossMm: finite }),
  /** how much the held rim resists turning, N m / rad per m of rim: nought is a hinge */
  rimStiffnessN: spread,
  braces: v.array(braceSchema),
});
