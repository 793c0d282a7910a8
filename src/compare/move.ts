// How far a mode moved between two steps, and whether the move can be believed.
import { difference, type Estimate, HALF_WIDTH_95 } from '../quantity/estimate.ts';
import type { Mode } from '../signal/tap.ts';

/** The change of one mode between two steps. */
export interface Move {
  /** after minus before, Hz */
  readonly frequencyHz: Estimate;
  /** after minus before */
  readonly q: Estimate;
  /** false: no change in frequency that can be trusted (the 95 % interval holds zero) */
  readonly isTrusted: boolean;
  /** a true move of this size would have been seen in 95 of 100 such comparisons, Hz */
  readonly smallestSeenHz: number;
}

/** Normal quantile of 95 %, one-sided: chance of missing a true move of the smallest size is 5 %. */
const MISS_5 = 1.6448536269514722;

/**
 * The move of a mode from one step to the next; the two rounds are independent measurements.
 * A change is trusted beyond 1.96 sigma; the smallest move that would have been seen with 95 % certainty is
 * (1.96 + 1.645) sigma. Source: decision and detection limit, Currie, Anal. Chem. 40 (1968) 586, two-sided.
 * @param before the mode at the earlier step
 * @param after  the same mode at the later step
 */
export function moveOf(before: Mode, after: Mode): Move {
  const frequencyHz = difference(after.frequencyHz, before.frequencyHz);
  return {
    frequencyHz,
    q: difference(after.q, before.q),
    isTrusted: Math.abs(frequencyHz.value) > HALF_WIDTH_95 * frequencyHz.sigma,
    smallestSeenHz: (HALF_WIDTH_95 + MISS_5) * frequencyHz.sigma,
  };
}
