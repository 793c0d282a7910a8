// Taps that cannot be used: sounds that grow instead of dying away, and taps that disagree with the others of their round.
import { wishOf } from './agreement.ts';
import type { JointFit } from './joint-fit.ts';
import { noiseLevel } from './order.ts';
import type { Tap } from './tap.ts';

/** Part of a round that may be set aside at most, and taps needed to tell who is the odd one. */
const MOST_SET_ASIDE = 1 / 3;
const FEWEST_TAPS = 3;
/** How far beyond the middle tap of the round a tap's wish (chi-square a degree) or leftover must lie. */
const ODD_WISH = 12;
const ODD_LEFTOVER = 1.6;

/**
 * Whether a sound dies away after its onset: more energy in the first half than in the second.
 * A played-backwards tap, or a swelling tone, does not.
 */
export function ringsDown({ samples, onsetIndex }: Tap): boolean {
  const middle = (onsetIndex + samples.length) >> 1;
  const energy = (from: number, to: number): number => {
    let sum = 0;
    for (let n = from; n < to; n++) sum += samples[n]! * samples[n]!;
    return sum;
  };
  return energy(onsetIndex, middle) > energy(middle, samples.length);
}

/**
 * Positions (in the order of the fit's taps) of taps that disagree with the others, at most a third of them, the oddest first.
 * A tap is odd if, next to the middle tap of the round, it wishes its poles elsewhere or leaves far more unexplained.
 */
export function disagreeing({ search, fit, partition }: JointFit, holdOf: readonly number[]): number[] {
  const taps = holdOf.length;
  if (taps < FEWEST_TAPS) return [];
  const noise = noiseLevel(search, fit);
  const wishes = new Array<number>(taps).fill(0);
  const left = new Array<number>(taps).fill(0);
  partition.forEach((group, g) => {
    group.forEach((k, i) => {
      const wish = wishOf(search.groups[g]!, fit[g]!, [i]);
      wishes[k] = wish.chiSquare / (wish.step.length * noise);
      left[k] = fit[g]!.left[i]! / search.groups[g]!.grid.rows;
    });
  });
  const oddness = wishes.map((wish, k) =>
    Math.max(wish / (ODD_WISH * Math.max(1, middle(wishes))), left[k]! / (ODD_LEFTOVER * middle(left))),
  );
  return [...oddness.keys()]
    .filter((k) => oddness[k]! > 1)
    .sort((a, b) => oddness[b]! - oddness[a]!)
    .slice(0, Math.floor(taps * MOST_SET_ASIDE));
}

function middle(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[sorted.length >> 1]!;
}
