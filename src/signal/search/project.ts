// One evaluation of the variable projection: for given poles the best amplitudes of every tap, what is left over, and
// the slope and curvature of what is left over with respect to the poles. All taps share the columns, so the matrix
// work is done once however many taps there are; each tap only adds its inner products with the columns.
import { factorInPlace, solveFactored, solveLowerRows } from '../../algebra/dense-cholesky.ts';
import type { Pole } from '../pole.ts';
import type { Decays } from '../prepare/hearing.ts';
import { columnsFor, type PoleTerms, termsOf, writeColumns } from './atoms.ts';
import { gram } from './gram.ts';
import { columnProducts } from './tap-transform.ts';

/** The fit at given poles. M modes, H hum lines, K taps. */
export interface Projection {
  readonly poles: readonly Pole[];
  /** amplitudes (c1, c2) of modes then hum lines, signal = sum c1 Re f + c2 Im f; (K, 2 (M + H)) */
  readonly amplitudes: readonly Float64Array[];
  /** sum of squares left over, of each tap, (K,) */
  readonly left: Float64Array;
  /** inner products of the leftover with the derivative columns, (K, 2 M) */
  readonly slopes: readonly Float64Array[];
  /** derivative columns' Gram matrix after projection off the columns, (2 M, 2 M) row-major */
  readonly curvature: Float64Array;
  /** Cholesky factor of the columns' own Gram matrix, (2 (M + H), 2 (M + H)) */
  readonly factor: Float64Array;
  /** Gram matrix of columns and derivative columns, [2 (M + H) | 2 M] squared */
  readonly gram: Float64Array;
}

/** Columns closer to dependent than this (squared sine of the angle) are refused: two poles have run together. */
const DEPENDENT = 1e-9;

/** Sum over all taps of what is left over. */
export const leftover = (p: { readonly left: Float64Array }): number => p.left.reduce((sum, x) => sum + x, 0);

/**
 * Fits amplitudes for given poles and differentiates.
 * With columns F and derivative columns D: c = (F'F)^-1 F'y, r = y - F c, slope D'r, curvature D'D - D'F (F'F)^-1 F'D.
 * @returns undefined where two poles have run together and the columns are dependent
 * Source: Golub & Pereyra, SIAM J. Numer. Anal. 10 (1973) 413; Kaufman's form of the Jacobian, BIT 15 (1975) 49;
 * shared nonlinear parameters over many data sets: Golub & LeVeque, ARO Report 79-3 (1979).
 */
export function project(decays: Decays, poles: readonly Pole[]): Projection | undefined {
  const { grid, taps, hum } = decays;
  const free = poles.length;
  const all = [...poles, ...hum].map((pole) => termsOf(pole, grid));
  const nf = 2 * all.length;
  const nd = 2 * free;
  const n = nf + nd;
  const g = gram(all, free, grid);
  decays.humInformation.forEach((information, i) => {
    const at = 2 * (free + i);
    g[at * n + at]! += information;
    g[(at + 1) * n + at + 1]! += information;
  });
  const factor = new Float64Array(nf * nf);
  for (let i = 0; i < nf; i++) for (let j = 0; j <= i; j++) factor[i * nf + j] = g[i * n + j]!;
  if (factorInPlace(factor, nf, DEPENDENT) >= 0) return undefined;

  const products = innerProducts(decays, all, free);
  const left = new Float64Array(taps.length);
  const amplitudes = products.f.map((f, k) => {
    const c = f.slice();
    solveFactored(factor, nf, c);
    let explained = 0;
    for (let i = 0; i < nf; i++) explained += c[i]! * f[i]!;
    left[k] = Math.max(0, decays.energies[k]! - explained);
    return c;
  });
  // A trial that leaves more over than the one before is asked for nothing further.
  let slopes: readonly Float64Array[] | undefined;
  let curvature: Float64Array | undefined;
  return {
    poles,
    amplitudes,
    left,
    factor,
    gram: g,
    get slopes() {
      slopes ??= products.d.map((d, k) => slopeOf(d, amplitudes[k]!, g, n));
      return slopes;
    },
    get curvature() {
      curvature ??= curvatureOf(g, factor, nf, nd);
      return curvature;
    },
  };
}

/** D'y - D'F c. */
function slopeOf(d: Float64Array, c: Float64Array, g: Float64Array, n: number): Float64Array {
  const nf = c.length;
  return d.map((product, i) => {
    const at = (nf + i) * n;
    let sum = 0;
    for (let j = 0; j < nf; j++) sum += g[at + j]! * c[j]!;
    return product - sum;
  });
}

/** D'D - D'F (F'F)^-1 F'D, with the factor of F'F. */
function curvatureOf(g: Float64Array, factor: Float64Array, nf: number, nd: number): Float64Array {
  const n = nf + nd;
  const half = new Float64Array(nd * nf);
  for (let i = 0; i < nd; i++) half.set(g.subarray((nf + i) * n, (nf + i) * n + nf), i * nf);
  solveLowerRows(factor, nf, half);
  const out = new Float64Array(nd * nd);
  for (let i = 0; i < nd; i += 2) {
    for (let j = 0; j <= i; j += 2) {
      const p = i * nf;
      const q = j * nf;
      const at = (nf + i) * n + nf + j;
      let s00 = g[at]!;
      let s01 = g[at + 1]!;
      let s10 = g[at + n]!;
      let s11 = g[at + n + 1]!;
      for (let k = 0; k < nf; k++) {
        const x = half[p + k]!;
        const y = half[p + nf + k]!;
        const u = half[q + k]!;
        const v = half[q + nf + k]!;
        s00 -= x * u;
        s01 -= x * v;
        s10 -= y * u;
        s11 -= y * v;
      }
      out[i * nd + j] = s00;
      out[i * nd + j + 1] = s01;
      out[(i + 1) * nd + j] = s10;
      out[(i + 1) * nd + j + 1] = s11;
      out[j * nd + i] = s00;
      out[(j + 1) * nd + i] = s01;
      out[j * nd + i + 1] = s10;
      out[(j + 1) * nd + i + 1] = s11;
    }
  }
  return out;
}

/** Inner products of every tap with the columns f of all poles and d of the free ones. */
function innerProducts(
  { grid, taps }: Decays,
  poles: readonly PoleTerms[],
  free: number,
): { readonly f: Float64Array[]; readonly d: Float64Array[] } {
  const f = taps.map(() => new Float64Array(2 * poles.length));
  const d = taps.map(() => new Float64Array(2 * free));
  poles.forEach((pole, i) => {
    columnProducts(pole, grid.sampleRateHz, taps, (k, fRe, fIm, dRe, dIm) => {
      f[k]![2 * i] = fRe;
      f[k]![2 * i + 1] = fIm;
      if (i >= free) return;
      d[k]![2 * i] = dRe;
      d[k]![2 * i + 1] = dIm;
    });
  });
  return { f, d };
}

/**
 * What is left of each tap by given amplitudes, (K, rows).
 * @param amplitudes of the columns of modes and hum lines, and, where there are more, of the modes' derivative columns
 */
export function residuals(decays: Decays, poles: readonly Pole[], amplitudes: readonly Float64Array[]): Float64Array[] {
  const columns = columnsFor(decays.grid.rows);
  const out = decays.taps.map((tap) => tap.slice());
  const all = [...poles, ...decays.hum];
  all.forEach((pole, i) => {
    const rows = writeColumns(pole, decays.grid, columns);
    out.forEach((r, k) => {
      const c = amplitudes[k]!;
      takeOff(r, columns.fRe, columns.fIm, rows, c[2 * i]!, c[2 * i + 1]!);
      const d = 2 * (all.length + i);
      if (d < c.length) takeOff(r, columns.dRe, columns.dIm, rows, c[d]!, c[d + 1]!);
    });
  });
  return out;
}

function takeOff(r: Float64Array, re: Float64Array, im: Float64Array, rows: number, c1: number, c2: number): void {
  for (let n = 0; n < rows; n++) r[n]! -= c1 * re[n]! + c2 * im[n]!;
}

/** Some of the taps. */
export function partOf(decays: Decays, which: readonly number[]): Decays {
  const pick = <T>(all: readonly T[]): T[] => which.map((k) => all[k]!);
  return { ...decays, taps: pick(decays.taps), energies: pick(decays.energies) };
}
