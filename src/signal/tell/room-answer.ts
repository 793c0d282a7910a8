// How much of what rings is the room's answer to the piece: what no sum of decaying modes explains and no noise.

import type { JointFit } from '../agree/joint-fit.ts';
import { energyOf } from '../prepare/hearing.ts';
import { leftoversOf } from '../search/order.ts';

/** The answer is looked for in the first part of the decay, s. */
const EARLY_S = 0.25;
/** What one tap shows of it by chance: three standard deviations of the noise's energy and of its level, read from half a second. */
const CHANCE = 0.16;

/**
 * The answer, 33 dB under the piece, from which on the piece is told from the room by the pattern over the taps. Chosen by rounds
 * of tests/bench/rooms.ts, seeds from 733 to 738 million: of 26 rounds between this and 24 dB under the piece the pattern told
 * 183 modes of the piece and none of the room's.
 */
export const ANSWERING_ROOM = 0.0005;

/** The answer above which only its loudest modes are told from the room's, and the person is told so: 20 dB under the piece. */
export const LOUD_ANSWER = 0.01;

/**
 * What rings must explain so many times what the room answers there: the answer's resonances have exponentially distributed
 * energies, and one in twenty exceeds this, -ln 0.05 (Schroeder, J. Acoust. Soc. Am. 34 (1962) 1819, from memory).
 */
export const OVER_ANSWER = 3;

/**
 * Energy left over early in the decays over the energy of all that rings, 0 where it may be chance.
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

/**
 * Noise, as a part of a mode's own energy, that pulls the mode as much as an answer of this size does beyond what is read
 * along the modes: early leftovers that no small bend explains. Chosen on synthetic rooms of seeds that no table shows.
 */
export const noiseOfAnswer = (answer: number): number => answer * (0.1 + 45 * answer);
