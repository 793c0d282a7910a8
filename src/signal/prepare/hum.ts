// Mains hum in a tap: a steady tone near 50 or 60 Hz with its harmonics. Only what stands out of the room before the tap is
// modelled.

import { median } from '../../quantity/median.ts';
import { addPowerSpectrum, powerOfTwoFrom } from '../filter/spectrum.ts';
import { type Hum, MAINS_HZ } from '../hear/hum-fit.ts';

/** How far a grid is let wander from its frequency. */
const WANDER_HZ = 0.4;
/** A line with less than this of the power beside it is the flank of a neighbour. */
const OWN_PEAK = 0.7;
/** Hum is betrayed by its first harmonics: by one of them so far over the local floor in power, or by two of them. */
const BETRAYING = 4;
const ONE_LINE = 25;
const TWO_LINES = 10;
/** Where there is hum, its lowest harmonics lie among the modes and are modelled even where they are not seen. */
const LOWEST_LINES = 10;
/** Power over the floor that higher lines need to be modelled. */
const FURTHER_LINE = 12;
const SHORTEST_S = 0.15;

/**
 * Whether a stretch of room noise holds hum.
 * @param room noise before the tap, (n,)
 * @param highestHz harmonics are looked for up to here
 * @returns undefined where no line stands 14 dB, and no two stand 10 dB, above the floor beside them
 */
export function findHum(room: Float64Array, sampleRateHz: number, highestHz: number): Hum | undefined {
  const seconds = room.length / sampleRateHz;
  if (seconds < SHORTEST_S) return undefined;
  const size = powerOfTwoFrom(Math.max(4 * room.length, 8192));
  const hann = room.map((_, n) => 1 - Math.cos((2 * Math.PI * (n + 0.5)) / room.length));
  const power = new Float64Array(size / 2 + 1);
  addPowerSpectrum(room, hann, 1, power);
  const perBin = sampleRateHz / size;
  const width = 1 / (seconds * perBin);
  let best = { mainsHz: 0, heights: [] as readonly number[], score: 0 };
  for (const nominalHz of MAINS_HZ) {
    const floors: number[] = [];
    for (let k = 1; k * (nominalHz + WANDER_HZ) < highestHz; k++)
      floors.push(floorAbout(power, (k * nominalHz) / perBin, width));
    for (let shift = -WANDER_HZ; shift <= WANDER_HZ; shift += 0.05) {
      const mainsHz = nominalHz + shift;
      const heights = floors.map((floor, i) => peakAt(power, ((i + 1) * mainsHz) / perBin, width) / floor);
      const score = heights.reduce((sum, height) => sum + (height > TWO_LINES ? height : 0), 0);
      if (score > best.score && betrayed(heights)) best = { mainsHz, heights, score };
    }
  }
  const { mainsHz, heights } = best;
  const harmonics = heights.flatMap((height, i) =>
    (i < LOWEST_LINES || height > FURTHER_LINE) && isSteady(room, sampleRateHz, (i + 1) * mainsHz, height)
      ? [i + 1]
      : [],
  );
  const steady = heights.map((height, i) => (harmonics.includes(i + 1) ? height : 0));
  return betrayed(steady) ? { mainsHz, harmonics } : undefined;
}

/** Whether lines of these heights over the floor are hum. In noise alone two of four reach 10 once in 10^8 looks. */
function betrayed(heights: readonly number[]): boolean {
  const first = heights.slice(0, BETRAYING);
  return first.some((height) => height > ONE_LINE) || first.filter((height) => height > TWO_LINES).length > 1;
}

/** A line that falls by this from the first half to the second, neper, and by three of its standard deviations, is the ring of a mode. */
const RINGING_NEPER = 0.12;

/**
 * Whether a line is as loud in the second half of a stretch as in the first: hum is, the ring of the tap before is not.
 * ln(A1 / A2) of two amplitudes of power h / 2 over the noise has the variance 2 / h.
 * @param height power of the line over the floor beside it, whole stretch
 */
function isSteady(room: Float64Array, sampleRateHz: number, frequencyHz: number, height: number): boolean {
  const half = room.length >> 1;
  const fall = Math.log(
    lineAmplitude(room.subarray(0, half), sampleRateHz, frequencyHz) /
      lineAmplitude(room.subarray(half, 2 * half), sampleRateHz, frequencyHz),
  );
  return fall < Math.max(RINGING_NEPER, 3 * Math.sqrt(2 / height));
}

/** Amplitude of a line under a Hann window, any scale. */
function lineAmplitude(x: Float64Array, sampleRateHz: number, frequencyHz: number): number {
  let re = 0;
  let im = 0;
  for (let n = 0; n < x.length; n++) {
    const angle = (2 * Math.PI * frequencyHz * n) / sampleRateHz;
    const windowed = x[n]! * (1 - Math.cos((2 * Math.PI * (n + 0.5)) / x.length));
    re += windowed * Math.cos(angle);
    im += windowed * Math.sin(angle);
  }
  return Math.hypot(re, im) + Number.MIN_VALUE;
}

/** Power at a bin; 0 on another line's flank. */
function peakAt(power: Float64Array, bin: number, width: number): number {
  const at = power[Math.round(bin)] ?? 0;
  const beside = power.subarray(Math.max(0, Math.round(bin - 2 * width)), Math.round(bin + 2 * width) + 1);
  return at < OWN_PEAK * beside.reduce((peak, p) => Math.max(peak, p), 0) ? 0 : at;
}

/** Mean power of the floor about a bin, from the median 3 to 8 resolution widths away on both sides; never 0. */
function floorAbout(power: Float64Array, bin: number, width: number): number {
  const floor: number[] = [];
  for (let step = 3; step <= 8; step += 0.5) {
    for (const side of [-step, step]) {
      const k = Math.round(bin + side * width);
      if (k > 0 && k < power.length) floor.push(power[k]!);
    }
  }
  return Math.max(median(floor) ?? 0, Number.MIN_VALUE) / Math.LN2;
}
