// How far the holds of a round scatter: each time a piece is picked up anew, its modes shift a little, all together.
import { type Reading, studentWidening, weightedMean } from './random-effects.ts';

/** Scatter of every frequency between careful holds, relative. Common practice, no source. */
export const USUAL_FREQUENCY_SCATTER = 0.0005;
/** Scatter of the logarithm of the decay between careful holds. Common practice, no source. */
export const USUAL_DECAY_SCATTER = 0.02;
/** Holds that the usual scatter counts for. */
const USUAL_HOLDS = 1;

/** One quantity of one mode. */
export interface HeldQuantity {
  readonly holds: readonly Reading[];
  /** factor on the holds' variances from the scatter of their taps */
  readonly inflation: number;
}

/** What all holds say of it together. */
export interface Trusted {
  readonly value: number;
  /** standard deviation that the noise alone would leave */
  readonly noiseOnly: number;
  readonly stated: number;
}

/**
 * Combines the readings of one quantity for all modes. variance = noise + s^2 / H k^2 with the scatter between the H holds
 *   s^2 = (n0 usual^2 + (H - 1) seen^2) / (n0 + H - 1),   k = t(n0 + H - 1) / 1.96.
 * `seen` is half the mode's own, half pooled over all modes; picking a piece up anew shifts its modes together, so that many
 * modes are no more degrees of freedom than one. What is usual counts as n0 = 1 further hold: two holds that happen to
 * agree must not be taken for certainty. One hold alone says nothing of scatter, and none is added.
 * Source: variances shrunk toward a prior one, with moderated t: Smyth, Stat. Appl. Genet. Mol. Biol. 3 (2004) 3; a prior
 * worth one observation: Kass & Wasserman, J. Am. Stat. Assoc. 90 (1995) 928. Coverage: tests/signal/agree/hold-scatter.test.ts.
 * @param usual standard deviation between careful holds, relative in frequency or logarithmic in decay
 */
export function acrossHolds(modes: readonly HeldQuantity[], usual: number): readonly Trusted[] {
  const count = modes[0]?.holds.length ?? 0;
  const inflated = modes.map(({ holds, inflation }) =>
    holds.map(({ value, variance }) => ({ value, variance: variance * inflation })),
  );
  const excess = inflated.map((holds) => {
    const mean = holds.reduce((sum, { value }) => sum + value, 0) / count;
    const seen = holds.reduce((sum, { value }) => sum + (value - mean) ** 2, 0) / Math.max(1, count - 1);
    const expected = holds.reduce((sum, { variance }) => sum + variance, 0) / count;
    return { beyond: count > 1 ? seen - expected : 0, expected };
  });
  const pooled = pooledScatter(excess);
  return inflated.map((holds, m) => {
    const seen = Math.max(0, (pooled + excess[m]!.beyond) / 2);
    const degrees = USUAL_HOLDS + count - 1;
    const scatter = count > 1 ? (USUAL_HOLDS * usual ** 2 + (count - 1) * seen) / degrees : 0;
    const variance = weightedMean(holds, 0).variance + (scatter / count) * studentWidening(degrees);
    return {
      value: weightedMean(holds, scatter).value,
      noiseOnly: Math.sqrt(weightedMean(modes[m]!.holds, 0).variance),
      stated: Math.sqrt(variance),
    };
  });
}

/** Scatter variance common to all modes: mean of what their holds show beyond noise, the well-known modes weighing more. */
function pooledScatter(excess: readonly { readonly beyond: number; readonly expected: number }[]): number {
  let pooled = 0;
  for (let pass = 0; pass < 3; pass++) {
    let sum = 0;
    let weight = 0;
    for (const { beyond, expected } of excess) {
      const w = 1 / (expected + pooled) ** 2;
      sum += w * beyond;
      weight += w;
    }
    pooled = weight > 0 ? Math.max(0, sum / weight) : 0;
  }
  return pooled;
}
