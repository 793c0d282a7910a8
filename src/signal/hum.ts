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
  floor.sort((a, b) => a - b);
  return Math.max(floor[floor.length >> 1] ?? 0, Number.MIN_VALUE) / Math.LN2;
}

/** Passes of the hum fit; each one leaves about a hundredth of the error before it. */
const PASSES = 5;

/** Row ranges [from, to). */
export type Rows = readonly (readonly [number, number])[];

/** A hum fitted to some rows: amplitudes of cos and sin of each harmonic, with the phase counted from row `centre`. */
export interface FittedHum extends Hum {
  /** of the line in one row, rad */
  readonly angle: number;
  readonly centre: number;
  readonly amplitudes: Float64Array;
}

/**
 * Least squares for a harmonic signal by Gauss-Newton with the normal matrix taken as diagonal: over many periods sines,
 * cosines and, with time counted from the middle, the derivative by frequency are orthogonal to about 1 / (pi f T), and
 * every pass works on what is left exactly.
 * @param weightOf what a harmonic says of the common frequency, as 1 / (the noise's power about it); 0 for all: frequency kept
 * Source: Stoica & Moses, Spectral Analysis of Signals (2005), section 4.3.
 */
export function fitHum(
  evidence: Float64Array,
  sampleRateHz: number,
  { mainsHz, harmonics }: Hum,
  usable: Rows,
  weightOf: (frequencyHz: number) => number = () => 0,
): FittedHum {
  const size = 2 * Math.max(...harmonics);
  const amplitudes = new Float64Array(size);
  const row = new Float64Array(size);
  const pull = new Float64Array(size);
  const weights = harmonics.map((k) => weightOf(k * mainsHz));
  const rows = usable.reduce((sum, [from, to]) => sum + to - from, 0);
  const centre = usable.reduce((sum, [from, to]) => sum + ((from + to) / 2) * (to - from), 0) / rows;
  let angle = (2 * Math.PI * mainsHz) / sampleRateHz;
  for (let pass = 0; pass < PASSES; pass++) {
    pull.fill(0);
    let turn = 0;
    let turnNorm = 0;
    for (const [from, to] of usable) {
      for (let t = from; t < to; t++) {
        harmonicsAt(row, (t - centre) * angle);
        let left = evidence[t]!;
        for (const k of harmonics)
          left -= amplitudes[2 * k - 2]! * row[2 * k - 2]! + amplitudes[2 * k - 1]! * row[2 * k - 1]!;
        harmonics.forEach((k, h) => {
          const cos = row[2 * k - 2]!;
          const sin = row[2 * k - 1]!;
          pull[2 * k - 2]! += left * cos;
          pull[2 * k - 1]! += left * sin;
          const slope = k * (t - centre) * (amplitudes[2 * k - 1]! * cos - amplitudes[2 * k - 2]! * sin);
          turn += weights[h]! * left * slope;
          turnNorm += weights[h]! * slope * slope;
        });
      }
    }
    for (let i = 0; i < size; i++) amplitudes[i]! += (2 * pull[i]!) / rows;
    if (turnNorm > 0) angle += turn / turnNorm;
  }
  return { mainsHz: (angle * sampleRateHz) / (2 * Math.PI), harmonics, angle, centre, amplitudes };
}

/**
 * The hum with its frequency fitted.
 * @param evidence what the fit is made to, (n,): the recording itself, or what the modes leave of it
 * @param usable   rows of the evidence that hold nothing but noise and hum
 * @param weightOf 1 / (power of the noise about a frequency, Hz), any scale
 * @returns undefined where the frequency is no grid's
 */
export function mainsOf(
  evidence: Float64Array,
  sampleRateHz: number,
  hum: Hum,
  usable: Rows,
  weightOf: (frequencyHz: number) => number = () => 1,
): Hum | undefined {
  const { mainsHz } = fitHum(evidence, sampleRateHz, hum, usable, weightOf);
  const isOfGrid = MAINS_HZ.some((nominalHz) => Math.abs(mainsHz - nominalHz) <= BELIEVED_WANDER_HZ);
  return isOfGrid ? { ...hum, mainsHz } : undefined;
}

/**
 * Takes a hum of known frequency off a recording, its amplitudes read from the room before the tap alone: what the decay
 * says of them is left to the fit, which weighs it against the modes.
 * @param samples the recording, (n,); changed in place over its whole length
 * @param room    the rows before the tap
 */
export function takeHumOff(
  samples: Float64Array,
  sampleRateHz: number,
  hum: Hum,
  room: readonly [number, number],
): void {
  const { angle, centre, amplitudes } = fitHum(samples, sampleRateHz, hum, [room]);
  const row = new Float64Array(amplitudes.length);
  for (let t = 0; t < samples.length; t++) {
    harmonicsAt(row, (t - centre) * angle);
    for (let i = 0; i < row.length; i++) samples[t]! -= amplitudes[i]! * row[i]!;
  }
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
