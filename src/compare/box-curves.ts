// The model's response laid over the measured spectrum.
import { type Box, boxModes } from '../box/pistons.ts';
import { boxResponse } from '../box/response.ts';

interface CurvePoint {
  readonly x: number;
  readonly y: number;
}

export interface BoxCurves {
  /** predicted level, shifted onto the measured one where there is one, dB */
  readonly level: readonly CurvePoint[];
  readonly measured: readonly CurvePoint[];
  /** dB added to the predicted level; undefined without a measured spectrum */
  readonly shiftDb: number | undefined;
  /** velocity of the top at the bridge per newton, dB re 1 m/s per N */
  readonly mobility: readonly CurvePoint[];
}

const STEP_HZ = 0.5;
/** The range in which three pistons are a box, Hz. Common practice, no source. */
const FROM_HZ = 50;
const TO_HZ = 320;

/** How far beyond the outermost modes the two curves are laid on one another, as a share. */
const MARGIN = 0.1;

/**
 * Curves over 50 to 320 Hz. A microphone that is not calibrated and a finger of unknown force leave the height of the
 * measured curve open, so the predicted one is moved by the mean difference over the range in which the modes lie.
 * @param distanceM    microphone to box, m, > 0
 * @param frequencyHz  of the measured spectrum, (n,); empty where there is none
 * @param levelDb      measured, (n,), dB re full scale
 */
export function boxCurves(
  model: Box,
  distanceM: number,
  frequencyHz: ArrayLike<number>,
  levelDb: ArrayLike<number>,
): BoxCurves {
  const gridHz = Array.from({ length: (TO_HZ - FROM_HZ) / STEP_HZ + 1 }, (_, i) => FROM_HZ + i * STEP_HZ);
  const { soundLevelDb, mobilityMPerNs } = boxResponse(model, gridHz, distanceM);
  const measured: CurvePoint[] = [];
  for (let i = 0; i < frequencyHz.length; i++)
    if (frequencyHz[i]! >= FROM_HZ && frequencyHz[i]! <= TO_HZ) measured.push({ x: frequencyHz[i]!, y: levelDb[i]! });
  const predictedAt = (hz: number) => soundLevelDb[Math.round((hz - FROM_HZ) / STEP_HZ)]!;
  const modesHz = boxModes(model).map((mode) => mode.frequencyHz);
  const shared = measured.filter(({ x }) => x > (1 - MARGIN) * modesHz[0]! && x < (1 + MARGIN) * modesHz.at(-1)!);
  const shiftDb =
    shared.length === 0 ? undefined : shared.reduce((sum, { x, y }) => sum + y - predictedAt(x), 0) / shared.length;
  return {
    level: gridHz.map((x, i) => ({ x, y: soundLevelDb[i]! + (shiftDb ?? 0) })),
    measured,
    shiftDb,
    mobility: gridHz.map((x, i) => ({ x, y: 20 * Math.log10(mobilityMPerNs[i]!) })),
  };
}
