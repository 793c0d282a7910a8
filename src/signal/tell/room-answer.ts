// How much of what rings is the room's answer to the piece: what no sum of decaying modes explains and no noise.

import type { JointFit } from '../agree/joint-fit.ts';
import { ofPiece } from '../agree/tap-pattern.ts';
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

/**
 * How loud a room may be before only the loudest modes are told from its answer and the person is told so, 20 dB under the piece
 * by what is left over; by `roomLoudness`, which counts the room's poles as well, 16.6 dB.
 * The second was chosen by rounds of tests/bench/rooms.ts, seeds from 743, 748 and 850 million: 4 of 216 rounds 15 cm from a plate
 * lie above it, 94 % of 360 rounds 60 and 80 cm away or 30 cm from a point.
 */
export const LOUD_ANSWER = 0.01;
export const LOUD_ROOM = 0.022;

/** Where the room's poles are counted. */
const COUNTED_TO_HZ = 500;

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
 * Energy of the room's answer over the piece's where the taps tell whose a pole is: the geometric mean of what is left over early
 * and of what is left of the whole record together with the poles, as far as each is probably the room's. A loud room hides from the first, since
 * its answer takes poles; from the second where a true mode passes for the room's. Above 500 Hz a piece has more modes than the taps tell apart.
 * @param early    {@link roomAnswer} of the early part
 * @param lnBayes  of each pole, see `tapPatterns`
 * @param waves    of each pole at the onset, see `onsetWaves`
 */
export function roomLoudness(
  early: number,
  joint: JointFit,
  lnBayes: readonly number[],
  waves: readonly Float64Array[],
): number {
  let [ofAll, ofRoom] = [0, 0];
  joint.fit[0]!.poles.forEach(({ frequencyHz, decayPerS }, m) => {
    if (frequencyHz > COUNTED_TO_HZ) return;
    const ring = energyOf(waves[m]!) / decayPerS;
    ofAll += ring;
    ofRoom += ring * (1 - ofPiece(lnBayes[m]!, 0));
  });
  const whole = roomAnswer(joint) + (ofAll > 0 ? ofRoom / ofAll : 0);
  return Math.sqrt(early * whole);
}

/**
 * Noise, as a part of a mode's own energy, that pulls the mode as much as an answer of this size does beyond what is read
 * along the modes: early leftovers that no small bend explains. Chosen on synthetic rooms of seeds that no table shows.
 */
export const noiseOfAnswer = (answer: number): number => answer * (0.1 + 45 * answer);
