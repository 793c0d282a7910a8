// The next pass from the record: how the maker's own blade errs, and how deep to go by measured moves and typed cuts alone.
import { heightAtMm, lowestMm } from '../brace/profile.ts';
import { weatherBetween, weatherSpreadHz } from '../compare/conditions.ts';
import type { Track, TrackPoint } from '../compare/tracks.ts';
import { difference, type Estimate, estimate, scaled } from '../quantity/estimate.ts';
import { type CutMade, cutsMade } from '../record/cuts.ts';
import { planBraceLengthMm } from '../record/plan-brace.ts';
import type { Cut, InstrumentRecord, Target } from '../record/record.ts';
import { foreseenBend, type MeasuredMove, type NextPass, nextPass, USUAL_PASS_MM } from './next-pass.ts';
import { CUT_SIGMA_MM } from './shaving.ts';

/** Cuts that CUT_SIGMA_MM counts for beside the maker's own. Our choice. */
const PRIOR_CUTS = 4;

/**
 * Spread of the maker's blade, one sigma, mm: depth as measured by the heights after a cut, less the depth that was meant;
 * the usual spread counts as a few cuts beside them.
 */
export function bladeSpread(record: InstrumentRecord): number {
  const missedMm = cutsMade(record).flatMap((made) => {
    const reached = reachedMm(made);
    return reached === undefined ? [] : [reached - made.cut.offMm!];
  });
  const squares = missedMm.reduce((sum, mm) => sum + mm ** 2, PRIOR_CUTS * CUT_SIGMA_MM ** 2);
  return Math.sqrt(squares / (PRIOR_CUTS + missedMm.length));
}

/** Depth of a cut by the heights measured after it, mm, where a depth was meant and heights of one brace tell. */
function reachedMm({ cut, on }: CutMade): number | undefined {
  const { offMm, heights = [], heightLeftMm, fromMm = 0 } = cut;
  const [only] = on;
  if (offMm === undefined || only === undefined || on.length > 1) return undefined;
  const { brace } = only;
  if (heights.length > 0)
    return (
      heights.reduce((sum, { atMm, heightMm }) => sum + heightAtMm(brace.profile, atMm) - heightMm, 0) / heights.length
    );
  if (heightLeftMm === undefined) return undefined;
  return lowestMm(brace.profile, fromMm, cut.toMm ?? planBraceLengthMm(brace)) - heightLeftMm;
}

/** A pass like the last, sized by what like passes have done. */
export interface MeasuredPass {
  readonly next: NextPass;
  /** the last cut, whose place the pass is for; undefined where none was entered */
  readonly at: Cut | undefined;
  /** of each aim, cuts at that place whose moves were measured, none of them mixed with other cuts */
  readonly moves: readonly (readonly MeasuredMove[])[];
}

/** A mode through the steps of one stage under one support, and what is wanted of it. */
export interface MeasuredAim {
  readonly track: Track;
  readonly target: Pick<Target, 'frequencyHz' | 'toleranceHz'>;
}

/**
 * What 1 mm off the legs of a braced top does to a low mode, as a share of its frequency, where nothing is known of the place:
 * a slope of nought is as well possible as twice that. Our calculation: half a millimetre off 150 mm of a brace of 14 mm
 * takes 1.6 to 2.6 % where the brace carries 30 to 50 % of the mode's stiffness.
 */
const UNKNOWN_SLOPE: Estimate = { value: -0.04, sigma: 0.04 };

/** Where the slope is not foreseen, neither is the bend: by the shaved solids a pass of 1 mm falls by a tenth more than the slope. */
const UNKNOWN_BEND_SHARE = 0.1;

/**
 * The next pass from measured moves and typed cuts, without a plan: one for all that is wanted together.
 * @param aims   at least one
 * @param limits the maker's limit of the chance to go past
 */
export function nextPassMeasured(
  record: InstrumentRecord,
  aims: readonly MeasuredAim[],
  limits: { readonly chancePast?: number } = {},
): MeasuredPass {
  const bladeMm = bladeSpread(record);
  const made = cutsMade(record);
  const at = made.at(-1)?.cut;
  const moves = aims.map(({ track }) => (at === undefined ? [] : comparableMoves(record, track, made, at, bladeMm)));
  const next = nextPass(
    aims.map(({ track, target }, i) => {
      const nowHz = track.points.at(-1)!.mode.frequencyHz;
      const hzPerMm = scaled(UNKNOWN_SLOPE, nowHz.value);
      return {
        frequencyHz: target.frequencyHz,
        toleranceHz: target.toleranceHz,
        nowHz,
        hzPerMm,
        hzPerMm2: foreseenBend(hzPerMm.value, UNKNOWN_BEND_SHARE * hzPerMm.value),
        weatherHz: weatherSpreadHz(nowHz.value),
        moves: moves[i]!,
      };
    }),
    { mostMm: Math.min(USUAL_PASS_MM, spareMm(record, made.at(-1))), bladeMm, ...limits },
  );
  return { next, at, moves };
}

/** Wood above the floor that was set in words for the brace that was cut last, mm; without one there is no bound. */
function spareMm(record: InstrumentRecord, last: CutMade | undefined): number {
  const floor = record.floors.find(({ brace }) => brace === last?.cut.brace);
  return floor === undefined || last?.heightLeftMm === undefined
    ? Infinity
    : Math.max(0, last.heightLeftMm - floor.heightMm);
}

/** Stretches with this share of the shorter one in common are one place. Our choice. */
const SAME_PLACE = 0.5;

function isSamePlace(a: Cut, b: Cut): boolean {
  const isSameBrace =
    a.braceIds.length > 0 || b.braceIds.length > 0
      ? a.braceIds.length === b.braceIds.length && a.braceIds.every((id) => b.braceIds.includes(id))
      : a.brace === b.brace;
  if (!isSameBrace) return false;
  if (a.fromMm === undefined || a.toMm === undefined || b.fromMm === undefined || b.toMm === undefined) return true;
  const common = Math.min(a.toMm, b.toMm) - Math.max(a.fromMm, b.fromMm);
  return common >= SAME_PLACE * Math.min(a.toMm - a.fromMm, b.toMm - b.fromMm);
}

/** Moves from one measurement to the next between which nothing was cut but this place; the known weather is taken out. */
function comparableMoves(
  record: InstrumentRecord,
  { points }: Track,
  made: readonly CutMade[],
  place: Cut,
  bladeMm: number,
): readonly MeasuredMove[] {
  const indexOf = ({ step }: TrackPoint) => record.steps.findIndex(({ id }) => id === step.id);
  return points.slice(1).flatMap((after, i): MeasuredMove[] => {
    const before = points[i]!;
    const between = new Set(record.steps.slice(indexOf(before) + 1, indexOf(after) + 1).map(({ id }) => id));
    const cuts = made.filter(({ step }) => between.has(step.id));
    const isComparable = cuts.every(({ cut, heightOffMm }) => heightOffMm !== undefined && isSamePlace(cut, place));
    const depthMm = cuts.reduce((sum, { heightOffMm = 0 }) => sum + heightOffMm, 0);
    if (!isComparable || !(depthMm > 0)) return [];
    const hz = difference(after.mode.frequencyHz, before.mode.frequencyHz);
    const weather = weatherBetween(before.step, after.step)?.frequencyRatio ?? estimate(1, 0);
    const byAir = scaled(estimate(weather.value - 1, weather.sigma), before.mode.frequencyHz.value);
    return [
      {
        depthMm: estimate(depthMm, bladeMm * Math.sqrt(cuts.length)),
        hz: difference(hz, byAir),
        endsNow: after === points.at(-1),
      },
    ];
  });
}
