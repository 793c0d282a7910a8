// The taps that the listener's tests and bench are made on: known onsets, known signal-to-noise ratio.
import { type Random, randomFrom } from '../../src/demo/random.ts';
import { addHum, roomNoise } from '../../src/demo/room.ts';
import { addTap, type PieceMode, quantised } from '../../src/demo/tap-synth.ts';

const modes = (...rows: readonly (readonly [number, number, number])[]): PieceMode[] =>
  rows.map(([frequencyHz, q, db]) => ({ frequencyHz, q, level: 0.2 * 10 ** (db / 20) }));

/** Pieces a luthier taps: a top's six modes, one mode, 5 Hz pairs, a heavily damped plate, a board. */
export const PIECES: Readonly<Record<string, readonly PieceMode[]>> = {
  'six modes': modes([98, 35, 0], [172, 45, -3], [205, 60, -10], [236, 50, -6], [318, 70, -12], [420, 55, -8]),
  'one mode': modes([180, 50, 0]),
  'pair 1:0.7': modes([200, 50, 0], [205, 50, -3]),
  'pair 1:1': modes([200, 50, 0], [205, 50, 0]),
  'damped, Q 15': modes([110, 15, 0], [190, 15, -2], [260, 15, -4], [370, 15, -6], [520, 15, -8]),
  board: modes([49, 74, -14], [65, 118, -14], [125, 52, -8], [260, 60, -14]),
};

export interface TapScene {
  readonly piece: readonly PieceMode[];
  readonly sampleRateHz: number;
  /** onsets, s, and strength of each tap */
  readonly taps: readonly (readonly [number, number])[];
  readonly durationS: number;
  /** strongest mode's power at the onset over the noise power, dB; Infinity for no noise */
  readonly snrDb: number;
  readonly seed: number;
  readonly humLevel?: number;
}

/** The scene as a 16-bit microphone hears it. */
export function scene({ piece, sampleRateHz, taps, durationS, snrDb, seed, humLevel }: TapScene): Float32Array {
  const chance = randomFrom(seed);
  const length = Math.round(durationS * sampleRateHz);
  const strongest = Math.max(...piece.map((mode) => mode.level));
  const rms = (strongest / Math.SQRT2) * 10 ** (-snrDb / 20);
  const sound = rms > 0 ? roomNoise(length, sampleRateHz, rms, chance) : new Float64Array(length);
  if (humLevel !== undefined) {
    addHum(sound, sampleRateHz, 50.02, [humLevel, humLevel / 2, humLevel / 2, humLevel / 3], chance);
  }
  for (const [onsetS, strength] of taps) addTap(sound, sampleRateHz, piece, strike(onsetS, strength, chance), chance);
  return quantised(sound);
}

function strike(onsetS: number, strength: number, chance: Random) {
  const contactS = chance.between(0.001, 0.003);
  return { onsetS, contactS, strength, spot: [0.5, 0.5] as const, rustle: chance.between(0.05, 0.3) };
}
