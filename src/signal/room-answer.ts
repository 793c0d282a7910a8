// How much of what rings is the room's answer to the piece: what no sum of decaying modes explains and no noise.

import type { JointFit } from './joint-fit.ts';
import { leftoversOf } from './order.ts';
import { energyOf } from './project.ts';

/** The answer is looked for in the first part of the decay, s. */
const EARLY_S = 0.25;
/** What one tap shows of it by chance: three standard deviations of the noise's energy and of its level, read from half a second. */
const CHANCE = 0.16;

/** The answer above which only its loudest modes are told from the room's, and the person is told so: 20 dB under the piece. */
export const LOUD_ANSWER = 0.01;

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
export const noiseOfAnswer = (answer: number): number => 0.55 * answer * (1 + 60 * answer);
