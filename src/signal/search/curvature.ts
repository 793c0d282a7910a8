// The curvature of the leftovers along a mode. The fit has taken off each mode and its slopes, by the pole and by the tap;
// what is neither one decay nor noise (a close companion, the room's answer) is seen first along the second derivative.
import { factorInPlace, solveLower, solveLowerRows } from '../../algebra/dense-cholesky.ts';
import type { Decays } from '../prepare/hearing.ts';
import { type Columns, columnsFor, termsOf, writeColumns } from './atoms.ts';
import { bentProducts, type FourProducts } from './bent-products.ts';
import { type Fit, leftoversOf, type Search } from './order.ts';
import type { Projection } from './project.ts';

/** How the leftovers of a fit curve along one mode. */
export interface Curvature {
  /** energy of the leftovers along the second derivative, summed over taps; chi-square, two degrees of freedom a tap, in noise */
  readonly energy: number;
  /** half the distance of the two poles that would curve so, in decay rates: real part decay, imaginary part frequency */
  readonly splitRe: number;
  readonly splitIm: number;
}

/** What all taps alike have left along one order of a mode and none of the lower ones. */
export interface Bend {
  /**
   * Coefficient of Laguerre's polynomial of that order in twice the decays past, as a part of the mode, real and
   * imaginary part. The fit has the orders 0 (the amplitude) and 1 (the pole).
   */
  readonly re: number;
  readonly im: number;
  /** mean square of it by unit noise, both parts together */
  readonly variance: number;
}

/** Longest split tried: beyond it the expansion says only the direction. */
const LONGEST_SPLIT = 0.6;
/** Highest order of {@link bends}. */
const HIGHEST_ORDER = 4;

/**
 * The curvature along every mode, (M,).
 * With E the second derivative column of a mode, projected off all columns and slopes, u = E'r and W = E'E the energy is
 * u' W^-1 u. Source: score test, Rao, Proc. Camb. Phil. Soc. 44 (1948) 50; the order of the expansion that first tells two
 * close signals from one: Lee, IEEE Trans. SP 40 (1992) 2675 (from memory); derivation ours, checked in
 * tests/signal/search/curvature.test.ts.
 */
export function curvatures(search: Search, fit: Fit): Curvature[] {
  return scoresOf(search, fit, 2).map((ofTaps) => {
    let energy = 0;
    let re = 0;
    let im = 0;
    let weight = 0;
    for (const { amplitude, heights, pivots } of ofTaps) {
      const [hRe, hIm] = [heights[0]!, heights[1]!];
      energy += hRe * hRe + hIm * hIm;
      re += (amplitude.re * hRe - amplitude.im * hIm) / pivots[0]!;
      im += -(amplitude.re * hIm + amplitude.im * hRe) / pivots[0]!;
      weight += amplitude.re ** 2 + amplitude.im ** 2;
    }
    // A d^2 / 2 t^2 against x^2 = 4 a^2 t^2; d, in decay rates, is the root
    const squareRe = weight > 0 ? (8 * re) / weight : 0;
    const squareIm = weight > 0 ? (8 * im) / weight : 0;
    const size = Math.min(LONGEST_SPLIT, Math.sqrt(Math.hypot(squareRe, squareIm)));
    const angle = Math.atan2(squareIm, squareRe) / 2;
    return { energy, splitRe: size * Math.cos(angle), splitIm: size * Math.sin(angle) };
  });
}

/**
 * What all taps alike have left along each mode, (M, orders 2 to {@link HIGHEST_ORDER}); of a mode nothing can be told of, none.
 * Source: as {@link curvatures}, one order after the other; Laguerre's polynomials are orthogonal under the decay of the
 * energy, Abramowitz & Stegun, eq. 22.2.13.
 */
export function bends(search: Search, fit: Fit): Bend[][] {
  return scoresOf(search, fit, HIGHEST_ORDER).map((ofTaps) =>
    ofTaps.length === 0 ? [] : FACTORIAL.map((_, i) => alike(ofTaps, i)),
  );
}

/** Order i + 2 of a mode as the taps have it together. */
function alike(ofTaps: readonly TapScore[], i: number): Bend {
  let re = 0;
  let im = 0;
  let weight = 0;
  for (const { amplitude, heights, pivots } of ofTaps) {
    // x^k = (-1)^k k! L_k + lower orders
    const unit = pivots[i]! / FACTORIAL[i]!;
    re += unit * (amplitude.re * heights[2 * i]! - amplitude.im * heights[2 * i + 1]!);
    im -= unit * (amplitude.re * heights[2 * i + 1]! + amplitude.im * heights[2 * i]!);
    weight += unit * unit * (amplitude.re ** 2 + amplitude.im ** 2);
  }
  return { re: re / weight, im: im / weight, variance: 2 / weight };
}

/** (-1)^k k! for k = 2, 3, 4. */
const FACTORIAL = [2, -6, 24] as const;

/** What is left of one tap along the orders of one mode. */
interface TapScore {
  readonly amplitude: { readonly re: number; readonly im: number };
  /** inner products with the orthonormal columns of the orders, real and imaginary part in turn; unit variance in noise */
  readonly heights: Float64Array;
  /** norm of the column x^k exp(s t) that is left when all of the fit and the lower orders are taken off it */
  readonly pivots: readonly number[];
}

/** The scores of every tap along every mode, (M, K), orders 2 to `highest`; x = 2 a t. */
function scoresOf(search: Search, fit: Fit, highest: number): TapScore[][] {
  const { groups, elastic } = search;
  const left = leftoversOf(search, fit);
  const scores: TapScore[][] = fit[0]!.poles.map(() => []);
  let first = 0;
  groups.forEach((decays, g) => {
    const own = left.slice(first, first + decays.taps.length);
    first += decays.taps.length;
    addGroup(decays, fit[g]!, own, elastic, highest, scores);
  });
  return scores;
}

function addGroup(
  decays: Decays,
  p: Projection,
  left: readonly Float64Array[],
  elastic: boolean,
  highest: number,
  scores: TapScore[][],
): void {
  const { grid, hum } = decays;
  const nf = 2 * (p.poles.length + hum.length);
  const n = nf + 2 * p.poles.length;
  const factor = p.gram.slice();
  if (factorInPlace(factor, n, 1e-13) >= 0) return;
  const all = [...p.poles, ...hum].map((pole) => termsOf(pole, grid));
  const columns = columnsFor(grid.rows);
  // what is left along each slope, as the factor sees it
  const slopes = p.slopes.map((slope) => {
    const out = new Float64Array(n);
    out.set(slope, nf);
    solveLower(factor, n, out);
    return out;
  });
  p.poles.forEach((pole, m) => {
    const step = (2 * pole.decayPerS) / grid.sampleRateHz;
    const bent = bentColumns(columns, writeColumns(pole, grid, columns), step, highest);
    const width = bent.length;
    const cross = new Float64Array(width * n);
    all.forEach((other, i) => {
      bentProducts(all[m]!, other, grid, step, highest, (k, f, d) => {
        const re = (2 * k - 4) * n;
        const put = (at: number, four: FourProducts): void => {
          cross[re + at] = four[0]!;
          cross[re + n + at] = four[1]!;
          cross[re + at + 1] = four[2]!;
          cross[re + n + at + 1] = four[3]!;
        };
        put(2 * i, f);
        if (i < p.poles.length) put(nf + 2 * i, d);
      });
    });
    solveLowerRows(factor, n, cross);
    const crossOf = bent.map((_, i) => cross.subarray(i * n, i * n + n));
    const own = new Float64Array(width * width);
    bent.forEach((e, i) => {
      for (let j = 0; j <= i; j++) own[i * width + j] = dot(e, bent[j]!) - dot(crossOf[i]!, crossOf[j]!);
    });
    if (factorInPlace(own, width, 1e-9) >= 0) return;
    const pivots = Array.from({ length: width / 2 }, (_, k) => {
      const at = 2 * k * (width + 1);
      return Math.sqrt((own[at]! ** 2 + own[at + width + 1]! ** 2) / 2);
    });
    left.forEach((r, k) => {
      const heights = Float64Array.from(bent, (e, i) => {
        const score = dot(e, r);
        return elastic ? score : score - dot(crossOf[i]!, slopes[k]!);
      });
      solveLower(own, width, heights);
      // signal = Re(A z^n) with A = c1 - i c2
      const amplitude = { re: p.amplitudes[k]![2 * m]!, im: -p.amplitudes[k]![2 * m + 1]! };
      scores[m]!.push({ amplitude, heights, pivots });
    });
  });
}

/** A mode's columns times x^k, k = 2 to `highest`, real and imaginary part in turn. @param step of x from row to row */
function bentColumns({ fRe, fIm }: Columns, rows: number, step: number, highest: number): Float64Array[] {
  const bent = Array.from({ length: 2 * (highest - 1) }, () => new Float64Array(rows));
  for (let row = 0; row < rows; row++) {
    const x = step * row;
    let growth = x;
    for (let at = 0; at < bent.length; at += 2) {
      growth *= x;
      bent[at]![row] = growth * fRe[row]!;
      bent[at + 1]![row] = growth * fIm[row]!;
    }
  }
  return bent;
}

/** Inner product, of the shorter length. In four sums side by side: one alone waits for each of its additions. */
function dot(a: Float64Array, b: Float64Array): number {
  const rows = Math.min(a.length, b.length);
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let i = 0;
  for (; i + 3 < rows; i += 4) {
    s0 += a[i]! * b[i]!;
    s1 += a[i + 1]! * b[i + 1]!;
    s2 += a[i + 2]! * b[i + 2]!;
    s3 += a[i + 3]! * b[i + 3]!;
  }
  for (; i < rows; i++) s0 += a[i]! * b[i]!;
  return s0 + s1 + s2 + s3;
}
