// The Cramer-Rao bound of the generated taps, computed by brute force: columns row by row, spectra by FFT, no closed form
// shared with the estimator.
import FFT from 'fft.js';
import type { TrueHum, TrueMode, TrueTap } from './tap-signals.ts';

/** Smallest standard deviations any unbiased estimator can have. */
export interface Bound {
  readonly frequencyHz: number;
  readonly lnQ: number;
}

const RATE_HZ = 4000;
const SIZE = 16384;
const LENGTH_S = 1.2;
/** The room heard before the tap: all that tells of the hum alone. */
const BEFORE_S = 0.5;

/**
 * Joint bound for modes shared by several taps; amplitudes and phases of each tap are unknown, and so are the mains
 * frequency and the amplitude and phase of each harmonic where a tap has hum. The hum alone is heard for 0.5 s before.
 * F = sum over taps of the Schur complement of (w, a) after all that is unknown beside; spectra by Whittle's approximation,
 * F_ij = sum_k Re(J_ik conj(J_jk)) / (SIZE S_k). Source: Kay, Fundamentals of Statistical Signal Processing I (1993),
 * section 3.9 (coloured noise) and eq. 3.31; columns of the damped sinusoid: our derivation, tests/bench/bound.test.ts.
 * @param taps     taps of the same modes and noise
 * @param startS   the part of the decay used begins here; it lasts 1.2 s
 * @param colour   one-sided noise spectrum relative to the taps' `noisePerHz`
 */
export function jointBound(
  modes: readonly TrueMode[],
  taps: readonly TrueTap[],
  colour: (frequencyHz: number) => number = () => 1,
  startS = 0,
): Bound[] {
  return jointBoundFor(modes, colour, startS)(taps);
}

/** The same for many rounds of taps of the same modes and mains: what is common to them is computed once. */
export function jointBoundFor(
  modes: readonly TrueMode[],
  colour: (frequencyHz: number) => number,
  startS: number,
): (taps: readonly TrueTap[]) => Bound[] {
  const bases = new Map<number, Table>();
  return (taps) => {
    const { mainsHz = 0, harmonics = [] } = taps[0]?.hum ?? {};
    const base = bases.get(mainsHz) ?? baseGram(modes, colour, startS, mainsHz, harmonics.length);
    bases.set(mainsHz, base);
    return boundOn(base, modes, taps);
  };
}

function boundOn(base: Table, modes: readonly TrueMode[], taps: readonly TrueTap[]): Bound[] {
  const n = 2 * modes.length;
  const fisher = zeros(n);
  for (const { strikes, noisePerHz, hum } of taps) {
    const columns = columnsOf(modes, strikes, hum);
    const full = sandwich(columns, base, 1 / noisePerHz);
    const schur = schurComplement(full, n);
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) fisher[i]![j]! += schur[i]![j]!;
  }
  const covariance = inverse(fisher);
  return modes.map(({ frequencyHz, q }, m) => {
    const w = 2 * Math.PI * frequencyHz;
    const a = (Math.PI * frequencyHz) / q;
    const ww = covariance[2 * m]![2 * m]!;
    const aa = covariance[2 * m + 1]![2 * m + 1]!;
    const wa = covariance[2 * m]![2 * m + 1]!;
    return {
      frequencyHz: Math.sqrt(ww) / (2 * Math.PI),
      lnQ: Math.sqrt(ww / w ** 2 + aa / a ** 2 - (2 * wa) / (w * a)),
    };
  });
}

type Table = number[][];
const zeros = (n: number, m = n): Table => Array.from({ length: n }, () => new Array<number>(m).fill(0));

/** Gram of e cos, e sin, t e cos, t e sin of every mode, then of every harmonic (e = 1), whitened, per unit spectrum. */
function baseGram(
  modes: readonly TrueMode[],
  colour: (f: number) => number,
  startS: number,
  mainsHz: number,
  harmonics: number,
): Table {
  const decays = modes.map(({ frequencyHz, q }) => ({ frequencyHz, a: (Math.PI * frequencyHz) / q, isHum: false }));
  const hum = Array.from({ length: harmonics }, (_, k) => ({ frequencyHz: (k + 1) * mainsHz, a: 0, isHum: true }));
  const onset = Math.round(BEFORE_S * RATE_HZ);
  const start = Math.round(startS * RATE_HZ);
  const end = start + Math.round(LENGTH_S * RATE_HZ);
  const fft = new FFT(SIZE);
  const spectra = [...decays, ...hum].flatMap(({ frequencyHz, a, isHum }) =>
    [0, 1, 2, 3].map((kind) => {
      const x = new Float64Array(SIZE);
      for (let n = isHum ? -onset : start; n < end; n++) {
        // What the contact covers is not used.
        if (n >= 0 && n < start) continue;
        const t = n / RATE_HZ;
        const e = Math.exp(-a * t) * (kind > 1 ? t : 1);
        const w = 2 * Math.PI * frequencyHz;
        x[onset + n] = e * (kind % 2 === 0 ? Math.cos(w * t) : Math.sin(w * t));
      }
      const out = new Float64Array(2 * SIZE);
      fft.realTransform(out, x);
      return out;
    }),
  );
  const variances = Float64Array.from({ length: SIZE / 2 }, (_, k) => (colour((k * RATE_HZ) / SIZE) * RATE_HZ) / 2);
  const gram = zeros(spectra.length);
  spectra.forEach((x, i) => {
    spectra.slice(0, i + 1).forEach((y, j) => {
      let sum = 0;
      for (let k = 1; k < SIZE / 2; k++) {
        sum += (2 * (x[2 * k]! * y[2 * k]! + x[2 * k + 1]! * y[2 * k + 1]!)) / (SIZE * variances[k]!);
      }
      gram[i]![j] = sum;
      gram[j]![i] = sum;
    });
  });
  return gram;
}

/**
 * Columns as combinations of the base columns: d/dw, d/da of every mode, then d/dA, d/dp of every mode, then d/d(w of the
 * mains) and the cosine and sine of every harmonic; (4 (M + H), 4 M + 2 H + 1).
 */
function columnsOf(modes: readonly TrueMode[], strikes: TrueTap['strikes'], hum: TrueHum | undefined): Table {
  const harmonics = hum?.harmonics ?? [];
  const M = modes.length;
  const out = zeros(4 * (M + harmonics.length), 4 * M + (hum === undefined ? 0 : 2 * harmonics.length + 1));
  const put = (base: number, column: number, value: number): void => {
    out[base]![column] = value;
  };
  modes.forEach((_, m) => {
    const { amplitude: A, phaseRad } = strikes[m]!;
    const [c, s] = [Math.cos(phaseRad), Math.sin(phaseRad)];
    const [eCos, eSin, tCos, tSin] = [4 * m, 4 * m + 1, 4 * m + 2, 4 * m + 3];
    put(tSin, 2 * m, -A * c);
    put(tCos, 2 * m, -A * s);
    put(tCos, 2 * m + 1, -A * c);
    put(tSin, 2 * m + 1, A * s);
    const amplitudeColumn = 2 * M + 2 * m;
    put(eCos, amplitudeColumn, c);
    put(eSin, amplitudeColumn, -s);
    put(eSin, amplitudeColumn + 1, -A * c);
    put(eCos, amplitudeColumn + 1, -A * s);
  });
  harmonics.forEach(({ amplitude: A, phaseRad }, h) => {
    const at = 4 * (M + h);
    // d/dw of A cos(k w t + p) = -k t A (sin(k w t) cos p + cos(k w t) sin p)
    put(at + 3, 4 * M, -(h + 1) * A * Math.cos(phaseRad));
    put(at + 2, 4 * M, -(h + 1) * A * Math.sin(phaseRad));
    put(at, 4 * M + 1 + 2 * h, 1);
    put(at + 1, 4 * M + 2 + 2 * h, 1);
  });
  return out;
}

function sandwich(columns: Table, base: Table, scale: number): Table {
  const rows = columns.length;
  const n = columns[0]!.length;
  const half = base.map((row) => {
    const out = new Array<number>(n).fill(0);
    for (let k = 0; k < rows; k++) for (let j = 0; j < n; j++) out[j]! += row[k]! * columns[k]![j]! * scale;
    return out;
  });
  const out = zeros(n);
  for (let k = 0; k < rows; k++) {
    for (let i = 0; i < n; i++) {
      const c = columns[k]![i]!;
      if (c !== 0) for (let j = 0; j < n; j++) out[i]![j]! += c * half[k]![j]!;
    }
  }
  return out;
}

/** Leading n x n block after the rest has been eliminated. */
function schurComplement(full: Table, n: number): Table {
  const rest = inverse(full.slice(n).map((row) => row.slice(n)));
  return Array.from({ length: n }, (_, i) =>
    Array.from({ length: n }, (_, j) => {
      let sum = full[i]![j]!;
      for (let a = 0; a < rest.length; a++) {
        for (let b = 0; b < rest.length; b++) sum -= full[i]![n + a]! * rest[a]![b]! * full[n + b]![j]!;
      }
      return sum;
    }),
  );
}

/** Inverse by Gauss-Jordan with unit-diagonal scaling (the columns differ by orders of magnitude). */
function inverse(matrix: Table): Table {
  const n = matrix.length;
  const scale = matrix.map((row, i) => 1 / Math.sqrt(row[i]!));
  const a = matrix.map((row, i) => [...row.map((v, j) => v * scale[i]! * scale[j]!), ...zeros(1, n)[0]!]);
  for (let i = 0; i < n; i++) a[i]![n + i] = 1;
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(a[i]![k]!) > Math.abs(a[pivot]![k]!)) pivot = i;
    [a[k], a[pivot]] = [a[pivot]!, a[k]!];
    const row = a[k]!.map((v) => v / a[k]![k]!);
    a[k] = row;
    for (let i = 0; i < n; i++) {
      if (i === k) continue;
      const factor = a[i]![k]!;
      a[i] = a[i]!.map((v, j) => v - factor * row[j]!);
    }
  }
  return a.map((row, i) => row.slice(n).map((v, j) => v * scale[i]! * scale[j]!));
}
