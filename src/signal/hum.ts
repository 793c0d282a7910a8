// Mains hum: a steady tone near 50 or 60 Hz with its harmonics. Only what stands out of the room before the tap is
// modelled; it is fitted with the mains frequency free and taken off the whole recording.
import { factorInPlace, solveFactored } from '../algebra/dense-cholesky.ts';
import { addPowerSpectrum, powerOfTwoFrom } from './spectrum.ts';

/** A steady tone and which of its harmonics were heard. */
export interface Hum {
  readonly mainsHz: number;
  /** harmonic numbers, ascending, from 1 */
  readonly harmonics: readonly number[];
}

/** The line frequencies of the world's grids, and how far a grid is let wander. */
const MAINS_HZ = [50, 60] as const;
const WANDER_HZ = 0.4;
/** Power over the local floor that one line needs to betray hum at all, and that further lines need to be modelled. */
const FIRST_LINE = 25;
const FURTHER_LINE = 12;
const SHORTEST_S = 0.15;

/**
 * Whether a stretch of room noise holds hum.
 * @param room noise before the tap, (n,)
 * @param highestHz harmonics are looked for up to here
 * @returns undefined where no line stands 14 dB above the floor beside it
 */
export function findHum(room: Float64Array, sampleRateHz: number, highestHz: number): Hum | undefined {
  const seconds = room.length / sampleRateHz;
  if (seconds < SHORTEST_S) return undefined;
  const size = powerOfTwoFrom(Math.max(4 * room.length, 8192));
  const hann = room.map((_, n) => 1 - Math.cos((2 * Math.PI * (n + 0.5)) / room.length));
  const power = new Float64Array(size / 2 + 1);
  addPowerSpectrum(room, hann, 1, power);
  const perBin = sampleRateHz / size;
  const over = (frequencyHz: number): number => lineOverFloor(power, frequencyHz / perBin, 1 / (seconds * perBin));
  let best: Hum | undefined;
  let bestScore = 0;
  for (const nominalHz of MAINS_HZ) {
    if (![1, 2, 3, 4].some((k) => over(k * nominalHz) > FURTHER_LINE / 2)) continue;
    for (let shift = -WANDER_HZ; shift <= WANDER_HZ; shift += 0.05) {
      const mainsHz = nominalHz + shift;
      const heights: number[] = [];
      for (let k = 1; k * mainsHz < highestHz; k++) heights.push(over(k * mainsHz));
      const strong = heights.flatMap((height, i) => (height > FURTHER_LINE ? [i + 1] : []));
      const score = strong.reduce((sum, k) => sum + heights[k - 1]!, 0);
      if (score > bestScore && strong.some((k) => k <= 4 && heights[k - 1]! > FIRST_LINE)) {
        bestScore = score;
        best = { mainsHz, harmonics: strong };
      }
    }
  }
  return best;
}

/** Power at a bin over the median of the floor 3 to 8 resolution widths away on both sides. */
function lineOverFloor(power: Float64Array, bin: number, width: number): number {
  const at = Math.round(bin);
  const floor: number[] = [];
  for (let step = 3; step <= 8; step += 0.5) {
    for (const side of [-step, step]) {
      const k = Math.round(bin + side * width);
      if (k > 0 && k < power.length) floor.push(power[k]!);
    }
  }
  floor.sort((a, b) => a - b);
  const median = floor[Math.floor(floor.length / 2)] ?? 0;
  return median > 0 ? (power[at] ?? 0) / (median / Math.LN2) : 0;
}

/**
 * Takes hum off a recording, the mains frequency fitted by Gauss-Newton with the harmonics' amplitudes.
 * @param samples   the recording, (n,); changed in place over its whole length
 * @param evidence  what the fit is made to, (n,): the recording itself, or what the modes leave of it
 * @param usable    row ranges [from, to) of the evidence that hold nothing but noise and hum
 * @returns the hum with its fitted frequency
 * Source: nonlinear least squares for a harmonic signal: Stoica & Moses, Spectral Analysis of Signals (2005), section 4.3.
 */
export function takeHumOff(
  samples: Float64Array,
  evidence: Float64Array,
  sampleRateHz: number,
  hum: Hum,
  usable: readonly (readonly [number, number])[],
): Hum {
  const lines = hum.harmonics.length;
  const n = 2 * lines + 1;
  let mainsHz = hum.mainsHz;
  const amplitudes = new Float64Array(n);
  const row = new Float64Array(n);
  const centre =
    usable.reduce((sum, [a, b]) => sum + (a + b) * (b - a), 0) / usable.reduce((sum, [a, b]) => sum + 2 * (b - a), 0);
  for (let pass = 0; pass < 6; pass++) {
    const matrix = new Float64Array(n * n);
    const right = new Float64Array(n);
    for (const [from, to] of usable) {
      for (let t = from; t < to; t++) {
        humRow(row, t - centre, (2 * Math.PI * mainsHz) / sampleRateHz, hum.harmonics, amplitudes);
        for (let i = 0; i < n; i++) {
          right[i]! += row[i]! * evidence[t]!;
          for (let j = 0; j <= i; j++) matrix[i * n + j]! += row[i]! * row[j]!;
        }
      }
    }
    const frequencyKnown = pass > 0 && factorInPlace(matrix, n, 1e-12) < 0;
    if (!frequencyKnown) {
      matrix[n * n - 1] = 1;
      right[n - 1] = 0;
      for (let j = 0; j < n - 1; j++) matrix[(n - 1) * n + j] = 0;
      if (factorInPlace(matrix, n, 1e-12) >= 0) return hum;
    }
    solveFactored(matrix, n, right);
    amplitudes.set(right.subarray(0, n - 1));
    if (frequencyKnown) {
      const stepHz = (right[n - 1]! * sampleRateHz) / (2 * Math.PI);
      mainsHz += Math.max(-0.2, Math.min(0.2, stepHz));
      if (Math.abs(stepHz) < 1e-6) break;
    }
  }
  for (let t = 0; t < samples.length; t++) {
    humRow(row, t - centre, (2 * Math.PI * mainsHz) / sampleRateHz, hum.harmonics, amplitudes);
    for (let i = 0; i < n - 1; i++) samples[t]! -= row[i]! * amplitudes[i]!;
  }
  return { ...hum, mainsHz };
}

/** Cosines, sines, and the derivative of their sum by the angle per sample, at one time. */
function humRow(
  row: Float64Array,
  t: number,
  angle: number,
  harmonics: readonly number[],
  amplitudes: Float64Array,
): void {
  let slope = 0;
  harmonics.forEach((k, i) => {
    const c = Math.cos(k * angle * t);
    const s = Math.sin(k * angle * t);
    row[2 * i] = c;
    row[2 * i + 1] = s;
    slope += k * t * (amplitudes[2 * i + 1]! * c - amplitudes[2 * i]! * s);
  });
  row[row.length - 1] = slope;
}
