// The columns of the fit and their inner products in closed form. A mode is Re(c z^n), z = exp(s / rate),
// s = -a + i w; n counts samples from the first row of the fit. After whitening the column is A(z) z^n (A: the
// whitener's transfer function), except in the first rows where the whitener is still short; those rows are summed
// one by one, the rest by geometric series, so an inner product costs the same for a short record and a long one.
import type { Whitener } from './whiten.ts';

/** Where a mode lies in the complex plane: s = -decayPerS + 2 pi i frequencyHz. decayPerS 0 is a steady tone (hum). */
export interface Pole {
  readonly frequencyHz: number;
  readonly decayPerS: number;
}

/** The grid of rows every tap of a fit shares. */
export interface Grid {
  readonly rows: number;
  readonly sampleRateHz: number;
  readonly whitener: Whitener;
}

/** Q = pi f / a. Source: for instance Ege, Boutillon & David, J. Sound Vib. 325 (2009) 852, eq. 3. */
export const qOf = (pole: Pole): number => (Math.PI * pole.frequencyHz) / pole.decayPerS;

/** Amplitude factor below which a decayed column is not worth another row: exp(-9) is 78 dB down. */
const GONE_NEPER = 9;

/** Rows a pole still sounds in. */
export function soundingRows(pole: Pole, grid: Grid): number {
  if (pole.decayPerS <= 0) return grid.rows;
  return Math.min(grid.rows, Math.ceil((GONE_NEPER * grid.sampleRateHz) / pole.decayPerS) + grid.whitener.order);
}

/** z^0 .. z^count as interleaved re, im. */
function powers(pole: Pole, grid: Grid, count: number): Float64Array {
  const size = Math.exp(-pole.decayPerS / grid.sampleRateHz);
  const angle = (2 * Math.PI * pole.frequencyHz) / grid.sampleRateHz;
  const zRe = size * Math.cos(angle);
  const zIm = size * Math.sin(angle);
  const out = new Float64Array(2 * count + 2);
  out[0] = 1;
  for (let k = 0; k < count; k++) {
    out[2 * k + 2] = out[2 * k]! * zRe - out[2 * k + 1]! * zIm;
    out[2 * k + 3] = out[2 * k]! * zIm + out[2 * k + 1]! * zRe;
  }
  return out;
}

/** z and the whitener's A(z) and A1 = dA/d(ln z), as [zRe, zIm, aRe, aIm, a1Re, a1Im]. */
function constants(pole: Pole, grid: Grid): Float64Array {
  const { order, filters } = grid.whitener;
  const back = powers({ frequencyHz: -pole.frequencyHz, decayPerS: -pole.decayPerS }, grid, order);
  const forth = powers(pole, grid, 1);
  const out = Float64Array.of(forth[2]!, forth[3]!, 0, 0, 0, 0);
  for (let j = 0; j <= order; j++) {
    const weight = filters[order * (order + 1) + j]!;
    out[2]! += weight * back[2 * j]!;
    out[3]! += weight * back[2 * j + 1]!;
    out[4]! -= j * weight * back[2 * j]!;
    out[5]! -= j * weight * back[2 * j + 1]!;
  }
  return out;
}

/** Buffers for one pole's columns: f = whitened z^n, d = its derivative by ln z, real and imaginary parts, (rows,) each. */
export interface Columns {
  readonly fRe: Float64Array;
  readonly fIm: Float64Array;
  readonly dRe: Float64Array;
  readonly dIm: Float64Array;
}

/** Buffers long enough for a grid. */
export function columnsFor(rows: number): Columns {
  const make = (): Float64Array => new Float64Array(rows);
  return { fRe: make(), fIm: make(), dRe: make(), dIm: make() };
}

/** Writes one pole's columns; returns how many rows were written (the rest count as zero). */
export function writeColumns(pole: Pole, grid: Grid, out: Columns): number {
  const rows = soundingRows(pole, grid);
  const head = Math.min(grid.whitener.order, rows);
  const z = powers(pole, grid, head);
  writeHead(z, grid.whitener, head, out);
  const k = constants(pole, grid);
  const zRe = k[0]!;
  const zIm = k[1]!;
  const aRe = k[2]!;
  const aIm = k[3]!;
  const a1Re = k[4]!;
  const a1Im = k[5]!;
  const { fRe, fIm, dRe, dIm } = out;
  let pRe = z[2 * head]!;
  let pIm = z[2 * head + 1]!;
  for (let n = head; n < rows; n++) {
    const bRe = n * aRe + a1Re;
    const bIm = n * aIm + a1Im;
    fRe[n] = aRe * pRe - aIm * pIm;
    fIm[n] = aRe * pIm + aIm * pRe;
    dRe[n] = bRe * pRe - bIm * pIm;
    dIm[n] = bRe * pIm + bIm * pRe;
    const next = pRe * zRe - pIm * zIm;
    pIm = pRe * zIm + pIm * zRe;
    pRe = next;
  }
  return rows;
}

/** The first rows, where the whitener is still short: row n is sum_j filter[n][j] z^(n - j). */
function writeHead(z: Float64Array, whitener: Whitener, head: number, out: Columns): void {
  const width = whitener.order + 1;
  for (let n = 0; n < head; n++) {
    let re = 0;
    let im = 0;
    let slopeRe = 0;
    let slopeIm = 0;
    for (let j = 0; j <= n; j++) {
      const weight = whitener.filters[n * width + j]!;
      const r = weight * z[2 * (n - j)]!;
      const i = weight * z[2 * (n - j) + 1]!;
      re += r;
      im += i;
      slopeRe += (n - j) * r;
      slopeIm += (n - j) * i;
    }
    out.fRe[n] = re;
    out.fIm[n] = im;
    out.dRe[n] = slopeRe;
    out.dIm[n] = slopeIm;
  }
}

/**
 * Gram matrix of all real columns, in the order [f of every pole | d of the first `free` poles], two real columns (Re, Im) each.
 * @param free poles with a derivative column (the modes; hum lines come after them and have none)
 * @returns (n, n) row-major, n = 2 (poles + free), symmetric, both triangles filled
 */
export function gram(poles: readonly Pole[], free: number, grid: Grid): Float64Array {
  const count = poles.length;
  const n = 2 * (count + free);
  const out = new Float64Array(n * n);
  const { order } = grid.whitener;
  const all = poles.map((pole) => constants(pole, grid));
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
 * Source: our derivation, by differencing the series; tests/signal/atoms.test.ts adds the rows one by one.
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
  const logSize = Math.log(uRe * uRe + uIm * uIm) / 2;
  const angle = Math.atan2(uIm, uRe);
  const endSize = Math.exp(logSize * m);
  const endRe = endSize * Math.cos(angle * m);
  const endIm = endSize * Math.sin(angle * m);
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
  const shiftSize = Math.exp(logSize * first);
  const shiftRe = shiftSize * Math.cos(angle * first);
  const shiftIm = shiftSize * Math.sin(angle * first);
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
function addHead(out: Float64Array, n: number, poles: readonly Pole[], free: number, grid: Grid): void {
  const head = Math.min(grid.whitener.order, grid.rows);
  if (head === 0) return;
  const rows = new Float64Array(head * n);
  const columns = columnsFor(head);
  poles.forEach((pole, i) => {
    writeHead(powers(pole, grid, head), grid.whitener, head, columns);
    for (let k = 0; k < head; k++) {
      rows[k * n + 2 * i] = columns.fRe[k]!;
      rows[k * n + 2 * i + 1] = columns.fIm[k]!;
      if (i >= free) continue;
      rows[k * n + 2 * (poles.length + i)] = columns.dRe[k]!;
      rows[k * n + 2 * (poles.length + i) + 1] = columns.dIm[k]!;
    }
  });
  for (let k = 0; k < head; k++) {
    for (let i = 0; i < n; i++) {
      const x = rows[k * n + i]!;
      for (let j = 0; j < n; j++) out[i * n + j]! += x * rows[k * n + j]!;
    }
  }
}
