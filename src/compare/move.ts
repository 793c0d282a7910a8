// How far a mode moved between two measurements, and whether that can be believed.
import { difference, type Estimate, estimate, HALF_WIDTH_95 } from '../quantity/estimate.ts';

/** The change of one mode. */
export interface Move {
  readonly hz: Estimate;
  /** of the frequency before */
  readonly percent: Estimate;
  readonly cents: Estimate;
  /** the smallest move, in either direction, that these two measurements could have told from none, Hz */
  readonly smallestHz: number;
  /** the move is larger than that */
  readonly trusted: boolean;
}

/**
 * The move from one measurement of a mode to another, both independent.
 * @param before frequency, Hz, > 0
 * @param after  frequency, Hz, > 0
 * @throws RangeError if a frequency is not above zero
 * Source: propagation of uncertainty to first order, JCGM 100:2008 (GUM) eq. 10; a move counts where zero lies outside
 * its 95 % interval.
 */
export function moveBetween(before: Estimate, after: Estimate): Move {
  if (!(before.value > 0 && after.value > 0))
    throw new RangeError(`moveBetween: ${before.value} and ${after.value} Hz, need frequencies above 0`);
  const hz = difference(after, before);
  const ratio = after.value / before.value;
  const ratioSigma = ratio * Math.hypot(before.sigma / before.value, after.sigma / after.value);
  const smallestHz = HALF_WIDTH_95 * hz.sigma;
  return {
    hz,
    percent: estimate(100 * (ratio - 1), 100 * ratioSigma),
    cents: estimate(1200 * Math.log2(ratio), (1200 / Math.LN2) * (ratioSigma / ratio)),
    smallestHz,
    trusted: Math.abs(hz.value) > smallestHz,
  };
}
