// Mains hum: a steady tone near 50 or 60 Hz with its harmonics. Only what stands out of the room before the tap is
// modelled; it is fitted with the mains frequency free and taken off the whole recording.
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
/** How far a fitted line may lie from its grid: beyond, it is the tail of the tap before, ringing near the mains. */
const BELIEVED_WANDER_HZ = 0.6;
/** A line with less than this of the power beside it is the flank of a neighbour. */
const OWN_PEAK = 0.7;
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

/** Power at a bin over the median of the floor 3 to 8 resolution widths away on both sides; 0 on another line's flank. */
function lineOverFloor(power: Float64Array, bin: number, width: number): number {
  const at = Math.round(bin);
  const beside = power.subarray(Math.max(0, Math.round(bin - 2 * width)), Math.round(bin + 2 * width) + 1);
  if ((power[at] ?? 0) < OWN_PEAK * beside.reduce((peak, p) => Math.max(peak, p), 0)) return 0;
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

/** Passes of the hum fit; each one leaves about a hundredth of the error before it. */
const PASSES = 5;

/**
 * Takes hum off a recording, the mains frequency fitted together with the harmonics' amplitudes.
 * Gauss-Newton with the normal matrix taken as diagonal: over many periods sines, cosines and, with time counted from the
 * middle, the derivative by frequency are orthogonal to about 1 / (pi f T), and every pass works on what is left exactly.
 * @param samples   the recording, (n,); changed in place over its whole length
 * @param evidence  what the fit is made to, (n,): the recording itself, or what the modes leave of it
 * @param usable    row ranges [from, to) of the evidence that hold nothing but noise and hum
 * @returns the hum with its fitted frequency; undefined, and nothing taken off, where that is no grid's
 * Source: nonlinear least squares for a harmonic signal: Stoica & Moses, Spectral Analysis of Signals (2005), section 4.3.
 */
export function takeHumOff(
  samples: Float64Array,
  evidence: Float64Array,
  sampleRateHz: number,
  hum: Hum,
  usable: readonly (readonly [number, number])[],
): Hum | undefined {
  const size = 2 * Math.max(...hum.harmonics);
  const amplitudes = new Float64Array(size);
  const row = new Float64Array(size);
  const pull = new Float64Array(size);
  const rows = usable.reduce((sum, [from, to]) => sum + to - from, 0);
  const centre = usable.reduce((sum, [from, to]) => sum + ((from + to) / 2) * (to - from), 0) / rows;
  let angle = (2 * Math.PI * hum.mainsHz) / sampleRateHz;
  for (let pass = 0; pass < PASSES; pass++) {
    pull.fill(0);
    let turn = 0;
    let turnNorm = 0;
    for (const [from, to] of usable) {
      for (let t = from; t < to; t++) {
        harmonicsAt(row, (t - centre) * angle);
        let left = evidence[t]!;
        let slope = 0;
        for (const k of hum.harmonics) {
          const i = 2 * k - 2;
          left -= amplitudes[i]! * row[i]! + amplitudes[i + 1]! * row[i + 1]!;
          slope += k * (amplitudes[i + 1]! * row[i]! - amplitudes[i]! * row[i + 1]!);
        }
        for (const k of hum.harmonics) {
          pull[2 * k - 2]! += left * row[2 * k - 2]!;
          pull[2 * k - 1]! += left * row[2 * k - 1]!;
        }
        slope *= t - centre;
        turn += left * slope;
        turnNorm += slope * slope;
      }
    }
    for (let i = 0; i < size; i++) amplitudes[i]! += (2 * pull[i]!) / rows;
    if (turnNorm > 0) angle += turn / turnNorm;
  }
  const mainsHz = (angle * sampleRateHz) / (2 * Math.PI);
  if (!MAINS_HZ.some((nominalHz) => Math.abs(mainsHz - nominalHz) <= BELIEVED_WANDER_HZ)) return undefined;
  for (let t = 0; t < samples.length; t++) {
    harmonicsAt(row, (t - centre) * angle);
    for (const k of hum.harmonics) {
      samples[t]! -= amplitudes[2 * k - 2]! * row[2 * k - 2]! + amplitudes[2 * k - 1]! * row[2 * k - 1]!;
    }
  }
  return { ...hum, mainsHz };
}

/** cos k x, sin k x for k = 1, 2, .. interleaved, by the addition theorem. */
function harmonicsAt(row: Float64Array, x: number): void {
  const c = Math.cos(x);
  const s = Math.sin(x);
  row[0] = c;
  row[1] = s;
  for (let i = 2; i < row.length; i += 2) {
    row[i] = row[i - 2]! * c - row[i - 1]! * s;
    row[i + 1] = row[i - 2]! * s + row[i - 1]! * c;
  }
}
