// First guesses of the poles, by ESPRIT in about ten bands: each band is brought down to zero frequency, filtered and
// thinned out until some hundred complex samples are left, so that the eigenproblem is small. The filter looks only
// forward from its sample, which leaves a decaying sinusoid one. The guesses only have to be near: the fit refines
// them and drops what is not significant.
import { type ComplexMatrix, complexEigenvalues } from '../../algebra/complex-eigenvalues.ts';
import { tridiagonalFromHermitian } from '../../algebra/hermitian-tridiagonal.ts';
import { tridiagonalEigen } from '../../algebra/tridiagonal.ts';
import { kaiserLowPass } from '../filter/decimate.ts';
import type { Pole } from '../pole.ts';

/** Complex samples of a band that enter its snapshot matrix, and the snapshot length: a third of them. */
const BAND_SAMPLES = 108;
const SNAPSHOT = 36;
/** Most poles looked for in one band, and how many beyond those that stand out of the noise. */
const MOST_IN_BAND = 12;
const SPARE = 2;
/** Sampling rate of a band over its width: room for the filter to fall. */
const RATE_OVER_WIDTH = 2.5;

/** Bands of equal ratio, but none narrower than 100 Hz. Edges, Hz, ascending. */
export function bandEdges(lowestHz: number, highestHz: number): number[] {
  const edges = [lowestHz];
  while (edges.at(-1)! < highestHz) edges.push(edges.at(-1)! + Math.max(100, 0.28 * edges.at(-1)!));
  edges[edges.length - 1] = highestHz;
  return edges;
}

/**
 * Candidate poles of whitened decays, all taps together, duplicates and spurious ones included.
 * @param taps         whitened decays of unit noise, (K, rows)
 * @param sampleRateHz their rate
 * @param edgesHz      band edges, see {@link bandEdges}
 * Source: ESPRIT: Roy & Kailath, IEEE Trans. ASSP 37 (1989) 984; damped sinusoids by shift invariance: Hua & Sarkar,
 * IEEE Trans. ASSP 38 (1990) 814; snapshot covariances of several records added: Badeau, David & Richard, IEEE Trans.
 * SP 54 (2006) 450 (single record form).
 */
export function seedPoles(taps: readonly Float64Array[], sampleRateHz: number, edgesHz: readonly number[]): Pole[] {
  const seeds: Pole[] = [];
  for (let b = 0; b + 1 < edgesHz.length; b++) {
    const lowHz = edgesHz[b]!;
    const highHz = edgesHz[b + 1]!;
    const widthHz = highHz - lowHz;
    const thin = Math.max(1, Math.floor(sampleRateHz / (RATE_OVER_WIDTH * widthHz)));
    const bandRateHz = sampleRateHz / thin;
    const centreHz = (lowHz + highHz) / 2;
    const passHz = 0.55 * widthHz;
    const low = kaiserLowPass(bandRateHz / 2 / sampleRateHz, (bandRateHz - 2 * passHz) / sampleRateHz);
    const covariance = new Float64Array(2 * SNAPSHOT * SNAPSHOT);
    let snapshots = 0;
    for (const tap of taps) {
      const band = baseband(tap, low.taps, thin, centreHz / sampleRateHz);
      snapshots += addSnapshots(covariance, band);
    }
    if (snapshots < 4) continue;
    const noise = snapshots * low.taps.reduce((sum, h) => sum + h * h, 0);
    for (const value of bandPoles(covariance, noise, snapshots)) {
      const frequencyHz = centreHz + (value.angle * bandRateHz) / (2 * Math.PI);
      const decayPerS = -Math.log(value.size) * bandRateHz;
      const inside = Math.abs(frequencyHz - centreHz) <= passHz;
      if (inside && decayPerS > 0 && frequencyHz > 0) seeds.push({ frequencyHz, decayPerS });
    }
  }
  return seeds;
}

/** The band around `centre` (cycles per sample) as complex samples (re, im interleaved), every `thin`-th, filter looking forward. */
function baseband(y: Float64Array, filter: Float64Array, thin: number, centre: number): Float64Array {
  const length = filter.length;
  const count = Math.max(0, Math.min(BAND_SAMPLES, Math.floor((y.length - length) / thin) + 1));
  const cos = filter.map((h, i) => h * Math.cos(2 * Math.PI * centre * i));
  const sin = filter.map((h, i) => -h * Math.sin(2 * Math.PI * centre * i));
  const out = new Float64Array(2 * count);
  for (let n = 0; n < count; n++) {
    const from = n * thin;
    let re = 0;
    let im = 0;
    for (let i = 0; i < length; i++) {
      re += y[from + i]! * cos[i]!;
      im += y[from + i]! * sin[i]!;
    }
    const c = Math.cos(2 * Math.PI * centre * from);
    const s = -Math.sin(2 * Math.PI * centre * from);
    out[2 * n] = re * c - im * s;
    out[2 * n + 1] = re * s + im * c;
  }
  return out;
}

/**
 * Adds the covariance of all snapshots x_n = band[n .. n + L) to the lower triangle, sum of x x^H, (L, L) interleaved.
 * Each entry follows from its upper-left neighbour by adding the newest product and taking away the oldest.
 */
function addSnapshots(covariance: Float64Array, band: Float64Array): number {
  const L = SNAPSHOT;
  const count = band.length / 2 - L + 1;
  if (count < 1) return 0;
  for (let lag = 0; lag < L; lag++) {
    let re = 0;
    let im = 0;
    for (let n = 0; n < count; n++) {
      re += real(band, n + lag, n);
      im += imag(band, n + lag, n);
    }
    for (let j = 0; j + lag < L; j++) {
      const at = 2 * ((j + lag) * L + j);
      covariance[at]! += re;
      covariance[at + 1]! += im;
      if (j + lag + 1 === L) break;
      re += real(band, j + count + lag, j + count) - real(band, j + lag, j);
      im += imag(band, j + count + lag, j + count) - imag(band, j + lag, j);
    }
  }
  return count;
}

/** Real and imaginary part of x_a conj(x_b). */
const real = (x: Float64Array, a: number, b: number): number => x[2 * a]! * x[2 * b]! + x[2 * a + 1]! * x[2 * b + 1]!;
const imag = (x: Float64Array, a: number, b: number): number => x[2 * a + 1]! * x[2 * b]! - x[2 * a]! * x[2 * b + 1]!;

/** Eigenvalues of the shift operator on the signal subspace, as size and angle per band sample. */
function bandPoles(covariance: Float64Array, noise: number, snapshots: number): { size: number; angle: number }[] {
  const L = SNAPSHOT;
  const re = new Float64Array(L * L);
  const im = new Float64Array(L * L);
  for (let i = 0; i < L; i++) {
    for (let j = 0; j <= i; j++) {
      re[i * L + j] = covariance[2 * (i * L + j)]!;
      re[j * L + i] = re[i * L + j]!;
      im[i * L + j] = i === j ? 0 : covariance[2 * (i * L + j) + 1]!;
      im[j * L + i] = -im[i * L + j]!;
    }
  }
  const { diagonal, beside, toOriginal } = tridiagonalFromHermitian(re, im, L);
  const { values, vectors } = tridiagonalEigen(diagonal, beside.subarray(0, L - 1));
  const order = Array.from({ length: L }, (_, i) => L - 1 - i);
  const level = Math.max(noise, values[order[Math.floor(0.7 * L)]!]!) * (1 + Math.sqrt(L / snapshots)) ** 2;
  const standing = order.filter((i) => values[i]! > 1.5 * level).length;
  const rank = Math.min(MOST_IN_BAND, standing === 0 ? 0 : standing + SPARE);
  if (rank === 0) return [];
  const basis = order.slice(0, rank).map((k) => toOriginal(vectors.subarray(k * L, k * L + L)));
  return complexEigenvalues(shiftOperator(basis, rank)).map((value) => ({
    size: Math.hypot(value.re, value.im),
    angle: Math.atan2(value.im, value.re),
  }));
}

/**
 * Least-squares solution P of (basis without last row) P = (basis without first row). With orthonormal columns
 * U_up' U_up = I - u u', u the conjugated last row, so the inverse is I + u u' / (1 - |u|^2) (Sherman & Morrison).
 */
function shiftOperator(basis: readonly Float64Array[], rank: number): ComplexMatrix {
  const L = SNAPSHOT;
  const re = new Float64Array(rank * rank);
  const im = new Float64Array(rank * rank);
  for (let a = 0; a < rank; a++) {
    for (let b = 0; b < rank; b++) {
      const u = basis[a]!;
      const v = basis[b]!;
      for (let i = 0; i + 1 < L; i++) {
        re[a * rank + b]! += u[2 * i]! * v[2 * i + 2]! + u[2 * i + 1]! * v[2 * i + 3]!;
        im[a * rank + b]! += u[2 * i]! * v[2 * i + 3]! - u[2 * i + 1]! * v[2 * i + 2]!;
      }
    }
  }
  const last = 2 * (L - 1);
  const gap = 1 - basis.reduce((sum, u) => sum + u[last]! ** 2 + u[last + 1]! ** 2, 0);
  for (let b = 0; b < rank; b++) {
    let sumRe = 0;
    let sumIm = 0;
    for (let a = 0; a < rank; a++) {
      const r = basis[a]![last]!;
      const i = basis[a]![last + 1]!;
      sumRe += r * re[a * rank + b]! - i * im[a * rank + b]!;
      sumIm += r * im[a * rank + b]! + i * re[a * rank + b]!;
    }
    for (let a = 0; a < rank; a++) {
      const r = basis[a]![last]! / gap;
      const i = -basis[a]![last + 1]! / gap;
      re[a * rank + b]! += r * sumRe - i * sumIm;
      im[a * rank + b]! += r * sumIm + i * sumRe;
    }
  }
  return { n: rank, re, im };
}
