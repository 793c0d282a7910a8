// The course of one mode toward its target: how far it still is, what a gram or a millimetre has moved it so far, and
// whether another pass like the last one would be too much.
import type { Estimate } from '../quantity/estimate.ts';
import { chanceBelow } from '../quantity/quantile.ts';
import type { Removal } from '../record/cuts.ts';
import type { Target } from '../record/record.ts';
import type { Track } from './tracks.ts';

/** Chance to go past a band with one pass that a maker takes who has not set another. Our choice. */
export const CHANCE_PAST = 0.1;

/** What the course can say of the next pass. */
type Verdict =
  /** inside the tolerance: stop here */
  | { readonly kind: 'within'; readonly surely: boolean }
  /** beyond the target on the side that wood cannot be put back to */
  | { readonly kind: 'past' }
  /** another pass like the last one takes the mode beyond the target's far edge with more than CHANCE_PAST */
  | { readonly kind: 'next-overshoots'; readonly nextHz: Estimate; readonly chancePast: number }
  | {
      readonly kind: 'keep-going';
      readonly nextHz: Estimate;
      readonly chancePast: number;
      readonly passesLeft: Estimate;
    }
  | { readonly kind: 'cannot-say'; readonly because: Missing };

/** Why there is no forecast from the past steps. */
export type Missing =
  | { readonly what: 'steps'; readonly have: number; readonly need: number }
  | { readonly what: 'amounts' }
  | { readonly what: 'effect' };

/** Rate at which removal has moved a mode, or what is missing to know it. */
export type Rate =
  | { readonly kind: 'rate'; readonly perUnit: Estimate }
  | { readonly kind: 'missing'; readonly because: Missing };

/** Where one mode stands on its way. */
export interface CourseToTarget {
  /** target minus present frequency, Hz; negative while the mode still lies above the target */
  readonly leftHz: Estimate;
  readonly perGram: Rate;
  readonly perMm: Rate;
  readonly verdict: Verdict;
}

const massOffG = (removal: Removal) => removal.massOffG;
const heightOffMm = (removal: Removal) => removal.heightOffMm;

/** Fewest measured points from which a rate is fitted: two passes and the start. */
const leastPoints = 3;

/**
 * The course of a tracked mode toward a target.
 * @param track the mode through the steps
 * @param removed what every step of the record took off, in order, so that removals between two measurements are counted
 */
export function courseToward(track: Track, removed: readonly Removal[], target: Target): CourseToTarget {
  const now = track.points.at(-1)!.mode.frequencyHz;
  const leftHz = { value: target.frequencyHz - now.value, sigma: now.sigma };
  const perGram = rate(track, removed, massOffG);
  const perMm = rate(track, removed, heightOffMm);
  return { leftHz, perGram, perMm, verdict: judge(track, removed, target, perGram, perMm) };
}

function judge(track: Track, removed: readonly Removal[], target: Target, perGram: Rate, perMm: Rate): Verdict {
  const now = track.points.at(-1)!.mode.frequencyHz;
  const away = now.value - target.frequencyHz;
  if (Math.abs(away) <= target.toleranceHz)
    return { kind: 'within', surely: Math.abs(away) + 2 * now.sigma <= target.toleranceHz };
  if (away < 0) return { kind: 'past' };
  const [known, amountOf] = perGram.kind === 'rate' ? [perGram, massOffG] : [perMm, heightOffMm];
  if (known.kind === 'missing') return { kind: 'cannot-say', because: known.because };
  // A rate rests on passes that took something off.
  const lastPass = removed.map(amountOf).findLast((amount) => amount !== undefined && amount > 0)!;
  const move = { value: known.perUnit.value * lastPass, sigma: known.perUnit.sigma * lastPass };
  // A rate that is not clearly downward cannot tell how many passes are left.
  if (move.value + 2 * move.sigma >= 0) return { kind: 'cannot-say', because: { what: 'effect' } };
  const nextHz = { value: now.value + move.value, sigma: Math.hypot(now.sigma, move.sigma) };
  const chancePast = chanceBelow(nextHz, target.frequencyHz - target.toleranceHz);
  if (chancePast > CHANCE_PAST) return { kind: 'next-overshoots', nextHz, chancePast };
  const passes = -away / move.value;
  const sigma = Math.abs(passes) * Math.hypot(now.sigma / away, move.sigma / move.value);
  return { kind: 'keep-going', nextHz, chancePast, passesLeft: { value: passes, sigma } };
}

/**
 * Straight line through frequency against the amount removed so far; its slope is the movement per unit.
 * Weighted least squares with the points' own sigma, the slope's sigma widened by the Birge ratio where the points
 * scatter about the line more than they claim.
 * Source: Bevington and Robinson 2003, Data Reduction and Error Analysis, eq. 6.12 and 6.22; Birge 1932.
 */
function rate(track: Track, removed: readonly Removal[], amountOf: (removal: Removal) => number | undefined): Rate {
  const removedBy = new Map<string, number>();
  let sum = 0;
  for (const removal of removed) {
    const amount = amountOf(removal);
    if (amount !== undefined && amount > 0) sum += amount;
    removedBy.set(removal.stepId, sum);
  }
  const points = track.points.map((point) => ({
    x: removedBy.get(point.step.id) ?? 0,
    y: point.mode.frequencyHz.value,
    w: 1 / Math.max(point.mode.frequencyHz.sigma, 1e-6) ** 2,
  }));
  if (points.length < leastPoints)
    return { kind: 'missing', because: { what: 'steps', have: points.length, need: leastPoints } };
  const places = new Set(points.map((point) => point.x)).size;
  if (places < leastPoints) return { kind: 'missing', because: { what: 'amounts' } };
  const weight = points.reduce((s, p) => s + p.w, 0);
  const meanX = points.reduce((s, p) => s + p.w * p.x, 0) / weight;
  const meanY = points.reduce((s, p) => s + p.w * p.y, 0) / weight;
  const sxx = points.reduce((s, p) => s + p.w * (p.x - meanX) ** 2, 0);
  const sxy = points.reduce((s, p) => s + p.w * (p.x - meanX) * (p.y - meanY), 0);
  const slope = sxy / sxx;
  const chi2 = points.reduce((s, p) => s + p.w * (p.y - meanY - slope * (p.x - meanX)) ** 2, 0);
  const birge = Math.sqrt(Math.max(1, chi2 / (points.length - 2)));
  return { kind: 'rate', perUnit: { value: slope, sigma: birge / Math.sqrt(sxx) } };
}
