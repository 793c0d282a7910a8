// A hum fitted to rows that hold nothing else but noise: its frequency, and the amplitudes of its harmonics.

/** A steady tone and which of its harmonics were heard. */
export interface Hum {
  readonly mainsHz: number;
  /** harmonic numbers, ascending, from 1 */
  readonly harmonics: readonly number[];
}

/** The line frequencies of the world's grids. */
export const MAINS_HZ = [50, 60] as const;
/** How far a fitted line may lie from its grid: beyond, it is the tail of the tap before, ringing near the mains. */
const BELIEVED_WANDER_HZ = 0.6;

/** Passes of the hum fit; each one leaves about a hundredth of the error before it. */
const PASSES = 5;

/** Row ranges [from, to). */
export type RowRanges = readonly (readonly [number, number])[];

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
 * @param isFrequencyFree whether the common frequency is fitted as well, all harmonics telling of it alike
 * Source: Stoica & Moses, Spectral Analysis of Signals (2005), section 4.3.
 */
export function fitHum(
  evidence: Float64Array,
  sampleRateHz: number,
  { mainsHz, harmonics }: Hum,
  usable: RowRanges,
  isFrequencyFree = false,
): FittedHum {
  const size = 2 * Math.max(...harmonics);
  const amplitudes = new Float64Array(size);
  const row = new Float64Array(size);
  const pull = new Float64Array(size);
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
        harmonics.forEach((k) => {
          const cos = row[2 * k - 2]!;
          const sin = row[2 * k - 1]!;
          pull[2 * k - 2]! += left * cos;
          pull[2 * k - 1]! += left * sin;
          const slope = k * (t - centre) * (amplitudes[2 * k - 1]! * cos - amplitudes[2 * k - 2]! * sin);
          turn += left * slope;
          turnNorm += slope * slope;
        });
      }
    }
    for (let i = 0; i < size; i++) amplitudes[i]! += (2 * pull[i]!) / rows;
    if (isFrequencyFree && turnNorm > 0) angle += turn / turnNorm;
  }
  return { mainsHz: (angle * sampleRateHz) / (2 * Math.PI), harmonics, angle, centre, amplitudes };
}

/**
 * The hum with its frequency fitted.
 * @param usable rows of the recording that hold nothing but noise and hum
 * @returns undefined where the frequency is no grid's
 */
export function mainsOf(samples: Float64Array, sampleRateHz: number, hum: Hum, usable: RowRanges): Hum | undefined {
  const { mainsHz } = fitHum(samples, sampleRateHz, hum, usable, true);
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
  subtractHum(samples, fitHum(samples, sampleRateHz, hum, [room]));
}

/**
 * Takes a hum off samples as it was fitted, in place.
 * @param from row of the hum's own stretch with which the samples begin
 */
export function subtractHum(
  samples: Float32Array | Float64Array,
  { angle, centre, amplitudes }: FittedHum,
  from = 0,
): void {
  const row = new Float64Array(amplitudes.length);
  for (let t = 0; t < samples.length; t++) {
    harmonicsAt(row, (from + t - centre) * angle);
    let hum = 0;
    for (let i = 0; i < row.length; i++) hum += amplitudes[i]! * row[i]!;
    samples[t]! -= hum;
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
