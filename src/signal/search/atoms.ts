// The columns of the fit. A mode is Re(c z^n), z = exp(s / rate), s = -a + i w; n counts samples from the first row of
// the fit. After whitening the column is A(z) z^n (A: the whitener's transfer function), except in the first rows where
// the whitener is still short.

import type { Whitener } from '../filter/whiten.ts';
import type { Grid, Pole } from '../pole.ts';

/** Amplitude factor below which a decayed column is not worth another row: exp(-9) is 78 dB down. */
const GONE_NEPER = 9;

/** Rows a pole still sounds in. */
function soundingRows(pole: Pole, grid: Grid): number {
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

/** z, the whitener's A(z) and A1 = dA/d(ln z), z^order and z^(rows - order), as [re, im] each. */
function constants(pole: Pole, grid: Grid): Float64Array {
  const { order, filters } = grid.whitener;
  const back = powers({ frequencyHz: -pole.frequencyHz, decayPerS: -pole.decayPerS }, grid, order);
  const forth = powers(pole, grid, 1);
  const out = Float64Array.of(forth[2]!, forth[3]!, 0, 0, 0, 0, 0, 0, 0, 0);
  for (let j = 0; j <= order; j++) {
    const weight = filters[order * (order + 1) + j]!;
    out[2]! += weight * back[2 * j]!;
    out[3]! += weight * back[2 * j + 1]!;
    out[4]! -= j * weight * back[2 * j]!;
    out[5]! -= j * weight * back[2 * j + 1]!;
  }
  const step = pole.decayPerS / grid.sampleRateHz;
  const angle = (2 * Math.PI * pole.frequencyHz) / grid.sampleRateHz;
  [order, grid.rows - order].forEach((n, i) => {
    const size = Math.exp(-step * n);
    out[6 + 2 * i] = size * Math.cos(angle * n);
    out[7 + 2 * i] = size * Math.sin(angle * n);
  });
  return out;
}

/** What the closed forms need of a pole. */
export interface PoleTerms {
  readonly pole: Pole;
  /** rows it sounds in */
  readonly rows: number;
  /** see {@link constants} */
  readonly constants: Float64Array;
  /** first rows, in which the whitener is still short, and their columns */
  readonly head: number;
  readonly columns: Columns;
}

/** The terms of a pole. */
export function termsOf(pole: Pole, grid: Grid): PoleTerms {
  const rows = soundingRows(pole, grid);
  const head = Math.min(grid.whitener.order, rows);
  const columns = columnsFor(head);
  writeHead(powers(pole, grid, head), grid.whitener, head, columns);
  return { pole, rows, constants: constants(pole, grid), head, columns };
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
