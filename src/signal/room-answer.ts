// How much of what rings is the room's answer to the piece: what no sum of decaying modes explains and no noise.

import { curvatures } from './curvature.ts';
import type { JointFit } from './joint-fit.ts';
import { explained, leftoversOf } from './order.ts';
import { energyOf } from './project.ts';
import { studentWidening } from './random-effects.ts';

/** The answer is looked for in the first part of the decay, s. */
const EARLY_S = 0.25;
/** What one tap shows of it by chance: three standard deviations of the noise's energy and of its level, read from half a second. */
const CHANCE = 0.16;

/** The answer above which only its loudest modes are told from the room's, and the person is told so: 20 dB under the piece. */
export const LOUD_ANSWER = 0.01;

/**
 * What rings must explain so many times what the room answers there: the answer's resonances have exponentially distributed
 * energies, and one in twenty exceeds this, -ln 0.05 (Schroeder, J. Acoust. Soc. Am. 34 (1962) 1819, from memory).
 */
export const OVER_ANSWER = 3;

/**
 * Energy left over early in the decays over the energy of all that rings, 0 where it may be chance.
 * The poles of a piece are pulled by about the root of it: half a bandwidth times that, and ln Q by twice as much.
 * Source: our own measurement on synthetic rooms, tails of -34 to -10 dB and 0.25 to 1.5 s; tests/bench/robustness.ts.
 */
export function roomAnswer({ search, fit }: JointFit): number {
  const { groups } = search;
  const { grid } = groups[0]!;
  const left = leftoversOf(search, fit);
  const rows = Math.min(grid.rows, Math.ceil(EARLY_S * grid.sampleRateHz));
  const found = left.reduce((sum, r) => sum + energyOf(r.subarray(0, rows)), 0);
  const ringing = groups.reduce((sum, { energies }) => sum + energies.reduce((a, b) => a + b - grid.rows, 0), 0);
  const byChance = rows * left.length * (1 + CHANCE / Math.sqrt(left.length));
  return Math.max(0, found - byChance) / Math.max(ringing, byChance);
}

/** Noise, as a part of a mode's own energy, that pulls the mode as much as the answer does; the second term fitted to halls. */
const noiseOfAnswer = (answer: number): number => 0.55 * answer * (1 + 60 * answer);

/**
 * Pull at the mode by the room's answer over the curvature it leaves, both squared and in noise variances: 2 to 4 in rooms of
 * 0.2 to 1 s. Fitted to the coverage of taps of 30 dB in a living room, tests/bench/robustness.ts.
 */
const PULL_OVER_CURVATURE = 3.6;

/**
 * Noise, the same in all taps, that would pull each mode as much as the room's answer does, (M,), in noise variances a tap.
 * The larger of two readings: what is left over early, and how the leftovers of all modes curve together. The second
 * sees an answer that lies under the noise: it is alike in all taps, and of the modes' own shape.
 * A mode of energy g and decay a curves by level (1 + r g a): r by maximum likelihood for exponentials of that mean.
 * Source: the answer as a random walk of the mode's amplitude, our derivation; tests/bench/robustness.ts.
 */
export function answerPulls({ search, fit }: JointFit, level: number, answer: number): number[] {
  const taps = search.groups.reduce((sum, decays) => sum + decays.taps.length, 0);
  const gains = explained(search, fit).map((ofTaps) => ofTaps.reduce((sum, gain) => sum + gain, 0) / taps);
  const early = noiseOfAnswer(answer);
  const weights = gains.map((gain, m) => (gain / level) * taps * fit[0]!.poles[m]!.decayPerS);
  const curved = curvatures(search, fit).map(({ alike }) => alike / (2 * level));
  const rate = rateOf(curved, weights) * studentWidening(2 * curved.length);
  return gains.map((gain, m) => Math.max(early * gain, (PULL_OVER_CURVATURE * rate * weights[m]! * level) / taps));
}

/** The r that makes exponentials of mean 1 + r w likeliest; 0 where chance makes them as well. */
function rateOf(seen: readonly number[], weights: readonly number[]): number {
  const slope = (r: number): number =>
    seen.reduce((sum, x, m) => sum + weights[m]! * (x / (1 + r * weights[m]!) ** 2 - 1 / (1 + r * weights[m]!)), 0);
  if (slope(0) <= 0) return 0;
  let high = 1 / Math.max(...weights);
  while (slope(high) > 0) high *= 2;
  let low = 0;
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (slope(middle) > 0) low = middle;
    else high = middle;
  }
  return low;
}
