// Inner products of the columns of a fit in closed form: the first rows, where the whitener is still short, one by one, the
// rest by geometric series, so an inner product costs the same for a short record and a long one.

import type { Grid } from '../pole.ts';
import type { PoleTerms } from './atoms.ts';

/**
 * Gram matrix of all real columns, in the order [f of every pole | d of the first `free` poles], two real columns (Re, Im) each.
 * @param free poles with a derivative column (the modes; hum lines come after them and have none)
 * @returns (n, n) row-major, n = 2 (poles + free), symmetric, both triangles filled
 */
export function gram(poles: readonly PoleTerms[], free: number, grid: Grid): Float64Array {
  const count = poles.length;
  const n = 2 * (count + free);
  const out = new Float64Array(n * n);
  const { order } = grid.whitener;
  const all = poles.map((terms) => terms.constants);
  const p = new Float64Array(8);
  const q = new Float64Array(8);
  for (let i = 0; i < count; i++) {
    for (let j = i; j < count; j++) {
      moments(all[i]!, all[j]!, 1, order, grid.rows, p);
      moments(all[i]!, all[j]!, -1, order, grid.rows, q);
      put(out, n, i, j, p, q, 0);
      if (i < free) put(out, n, count + i, j, p, q, 2);
      if (j < free && j !== i) put(out, n, i, count + j, p, q, 4);
      if (i < free && j < free) put(out, n, count + i, count + j, p, q, 6);
    }
  }
  addHead(out, n, poles, free, grid);
  return out;
}

/**
 * Writes the 2 x 2 block of two complex columns x, y and its mirror image, from p = sum x y and q = sum x conj(y):
 * sum Re Re = (p + q)' / 2, sum Im Im = (q - p)' / 2, sum Re Im = (p - q)" / 2, sum Im Re = (p + q)" / 2.
 */
function put(
  out: Float64Array,
  n: number,
  row: number,
  column: number,
  p: Float64Array,
  q: Float64Array,
  at: number,
): void {
  const r = 2 * row;
  const c = 2 * column;
  const bothRe = (p[at]! + q[at]!) / 2;
  const bothIm = (q[at]! - p[at]!) / 2;
  const reIm = (p[at + 1]! - q[at + 1]!) / 2;
  const imRe = (p[at + 1]! + q[at + 1]!) / 2;
  out[r * n + c] = bothRe;
  out[c * n + r] = bothRe;
  out[(r + 1) * n + c + 1] = bothIm;
  out[(c + 1) * n + r + 1] = bothIm;
  out[r * n + c + 1] = reIm;
  out[(c + 1) * n + r] = reIm;
  out[(r + 1) * n + c] = imRe;
  out[c * n + r + 1] = imRe;
}

/**
 * Sums over n = first .. rows - 1 of the products f f, d f, f d, d d of two poles' columns, the second conjugated if
 * `sign` is -1, as four complex numbers in `out`. With u = z_i z_j (or z_i conj z_j) and m rows from zero,
 * (1 - u) S0 = 1 - u^m, (1 - u) S1 = S0 - 1 - (m - 1) u^m, (1 - u) S2 = 2 S1 - (S0 - 1) - (m - 1)^2 u^m
 * for Sk = sum n^k u^n, then shifted by `first`.
 * Source: our derivation, by differencing the series; tests/signal/search/atoms.test.ts adds the rows one by one.
 */
function moments(
  zi: Float64Array,
  zj: Float64Array,
  sign: 1 | -1,
  first: number,
  rows: number,
  out: Float64Array,
): void {
  const m = rows - first;
  const uRe = zi[0]! * zj[0]! - sign * zi[1]! * zj[1]!;
  const uIm = sign * zi[0]! * zj[1]! + zi[1]! * zj[0]!;
  const endRe = zi[8]! * zj[8]! - sign * zi[9]! * zj[9]!;
  const endIm = sign * zi[8]! * zj[9]! + zi[9]! * zj[8]!;
  const gapRe = 1 - uRe;
  const gapIm = -uIm;
  const gap = gapRe * gapRe + gapIm * gapIm;
  let s0Re = m;
  let s0Im = 0;
  let s1Re = (m * (m - 1)) / 2;
  let s1Im = 0;
  let s2Re = (m * (m - 1) * (2 * m - 1)) / 6;
  let s2Im = 0;
  if (gap > 1e-20) {
    const iRe = gapRe / gap;
    const iIm = -gapIm / gap;
    s0Re = (1 - endRe) * iRe + endIm * iIm;
    s0Im = (1 - endRe) * iIm - endIm * iRe;
    const bRe = s0Re - 1 - (m - 1) * endRe;
    const bIm = s0Im - (m - 1) * endIm;
    s1Re = bRe * iRe - bIm * iIm;
    s1Im = bRe * iIm + bIm * iRe;
    const cRe = 2 * s1Re - (s0Re - 1) - (m - 1) * (m - 1) * endRe;
    const cIm = 2 * s1Im - s0Im - (m - 1) * (m - 1) * endIm;
    s2Re = cRe * iRe - cIm * iIm;
    s2Im = cRe * iIm + cIm * iRe;
  }
  s2Re += 2 * first * s1Re + first * first * s0Re;
  s2Im += 2 * first * s1Im + first * first * s0Im;
  s1Re += first * s0Re;
  s1Im += first * s0Im;
  const shiftRe = zi[6]! * zj[6]! - sign * zi[7]! * zj[7]!;
  const shiftIm = sign * zi[6]! * zj[7]! + zi[7]! * zj[6]!;
  const aRe = zi[2]! * shiftRe - zi[3]! * shiftIm;
  const aIm = zi[2]! * shiftIm + zi[3]! * shiftRe;
  const bRe = zi[4]! * shiftRe - zi[5]! * shiftIm;
  const bIm = zi[4]! * shiftIm + zi[5]! * shiftRe;
  const cRe = zj[2]!;
  const cIm = sign * zj[3]!;
  const dRe = zj[4]!;
  const dIm = sign * zj[5]!;
  const acRe = aRe * cRe - aIm * cIm;
  const acIm = aRe * cIm + aIm * cRe;
  const bcRe = bRe * cRe - bIm * cIm;
  const bcIm = bRe * cIm + bIm * cRe;
  const adRe = aRe * dRe - aIm * dIm;
  const adIm = aRe * dIm + aIm * dRe;
  const bdRe = bRe * dRe - bIm * dIm;
  const bdIm = bRe * dIm + bIm * dRe;
  out[0] = acRe * s0Re - acIm * s0Im;
  out[1] = acRe * s0Im + acIm * s0Re;
  const nRe = acRe * s1Re - acIm * s1Im;
  const nIm = acRe * s1Im + acIm * s1Re;
  out[2] = nRe + bcRe * s0Re - bcIm * s0Im;
  out[3] = nIm + bcRe * s0Im + bcIm * s0Re;
  out[4] = nRe + adRe * s0Re - adIm * s0Im;
  out[5] = nIm + adRe * s0Im + adIm * s0Re;
  const xRe = adRe + bcRe;
  const xIm = adIm + bcIm;
  out[6] = acRe * s2Re - acIm * s2Im + xRe * s1Re - xIm * s1Im + bdRe * s0Re - bdIm * s0Im;
  out[7] = acRe * s2Im + acIm * s2Re + xRe * s1Im + xIm * s1Re + bdRe * s0Im + bdIm * s0Re;
}

/** Adds the first rows, where the whitener is still short, row by row. */
function addHead(out: Float64Array, n: number, poles: readonly PoleTerms[], free: number, grid: Grid): void {
  const head = Math.min(grid.whitener.order, grid.rows);
  if (head === 0) return;
  const rows = new Float64Array(n * head);
  poles.forEach(({ columns }, i) => {
    for (let k = 0; k < head; k++) {
      rows[2 * i * head + k] = columns.fRe[k]!;
      rows[(2 * i + 1) * head + k] = columns.fIm[k]!;
      if (i >= free) continue;
      rows[2 * (poles.length + i) * head + k] = columns.dRe[k]!;
      rows[(2 * (poles.length + i) + 1) * head + k] = columns.dIm[k]!;
    }
  });
  for (let i = 0; i < n; i += 2) {
    for (let j = 0; j <= i; j += 2) {
      let s00 = 0;
      let s01 = 0;
      let s10 = 0;
      let s11 = 0;
      for (let k = 0; k < head; k++) {
        const x = rows[i * head + k]!;
        const y = rows[(i + 1) * head + k]!;
        const u = rows[j * head + k]!;
        const v = rows[(j + 1) * head + k]!;
        s00 += x * u;
        s01 += x * v;
        s10 += y * u;
        s11 += y * v;
      }
      out[i * n + j]! += s00;
      out[i * n + j + 1]! += s01;
      out[(i + 1) * n + j]! += s10;
      out[(i + 1) * n + j + 1]! += s11;
      if (j === i) continue;
      out[j * n + i]! += s00;
      out[(j + 1) * n + i]! += s01;
      out[j * n + i + 1]! += s10;
      out[(j + 1) * n + i + 1]! += s11;
    }
  }
}
