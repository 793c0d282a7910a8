// What every tap and every hold says of the modes by itself.
import { wishOf } from './agreement.ts';
import type { JointFit } from './joint-fit.ts';
import { type Reading, scatteringMean } from './random-effects.ts';

/** Longest step believed, decay rates in frequency and e-folds in decay: there the expansion of the leftover ends. */
const LONGEST_STEP = 1;

/** Readings of ln frequency (even index) and ln decay (odd) of each mode, (2 M,). */
type PoleReadings = readonly Reading[];

/** The readings of a fit. */
export interface Readings {
  /** (K,) */
  readonly taps: readonly PoleReadings[];
  /** (H,), in the order of their first taps */
  readonly holds: readonly PoleReadings[];
  /** true where the holds' variances already hold the scatter of their taps */
  readonly scatterIncluded: boolean;
}

/**
 * Each tap's and each hold's reading: the poles of its group plus the Newton step it wishes for. Where taps may differ, a
 * hold's reading is the random-effects mean of its taps.
 * @param noise variance of the whitened noise about each mode, (M,), for a tap by itself
 * @param ofAll the same for taps together: what is not noise but the room's answer is alike in all and does not average out
 */
export function readingsOf(
  { search, fit, partition }: JointFit,
  holdOf: readonly number[],
  noise: readonly number[],
  ofAll: readonly number[] = noise,
): Readings {
  const read = (g: number, which: readonly number[], variances = noise): PoleReadings => {
    const p = fit[g]!;
    const { step, covariance } = wishOf(search.groups[g]!, p, which);
    return [...step].map((wished, i) => {
      const x = Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, wished));
      const { frequencyHz, decayPerS } = p.poles[i >> 1]!;
      const ofFrequency = i % 2 === 0;
      const unit = ofFrequency ? decayPerS / (2 * Math.PI * frequencyHz) : 1;
      return {
        value: Math.log(ofFrequency ? frequencyHz : decayPerS) + x * unit,
        variance: covariance[i * (step.length + 1)]! * unit * unit * variances[i >> 1]!,
      };
    });
  };
  const taps: PoleReadings[] = [];
  partition.forEach((group, g) => {
    group.forEach((k, i) => {
      taps[k] = read(g, [i]);
    });
  });
  let scatterIncluded = false;
  const holds = [...new Set(holdOf)].map((hold) => {
    const own = taps.filter((_, k) => holdOf[k] === hold);
    const inGroup = partition.map((group) => group.flatMap((k, i) => (holdOf[k] === hold ? [i] : [])));
    const present = inGroup.flatMap((which, g) => (which.length > 0 ? [g] : []));
    const isPlain = own.length === 1 || (present.length === 1 && !search.elastic);
    if (isPlain) return read(present[0]!, inGroup[present[0]!]!, ofAll);
    scatterIncluded = true;
    return own[0]!.map((_, i) => scatteringMean(own.map((tap) => tap[i]!)));
  });
  return { taps, holds, scatterIncluded };
}
