// Inner products of a mode's columns times powers of the time past with the columns of other poles, in closed form as in
// gram.ts: what touching every row would cost most of the time of telling a room's pull.

import type { Grid } from '../pole.ts';
import type { PoleTerms } from './atoms.ts';

/** Orders that the sums are made for: one more than the highest power asked for. */
const MOST = 6;
/** Binomial coefficients (k over j). */
const OVER: readonly (readonly number[])[] = Array.from({ length: MOST }, (_, k) => {
  const row = [1];
  for (let j = 1; j <= k; j++) row.push((row[j - 1]! * (k - j + 1)) / j);
  return row;
});

const sums = new Float64Array(2 * MOST);
const together = new Float64Array(2 * MOST);
const turned = new Float64Array(2 * MOST);

/** Products of two complex columns: Re Re, Re Im, Im Re, Im Im, the other pole's part first. */
export type FourProducts = Float64Array;

const ofF = new Float64Array(4);
const ofD = new Float64Array(4);

/**
 * Inner products of the columns (step n)^k f of a mode, k = 2 to `highest`, with the columns f of a pole, and with its d as well.
 * @param mode  the mode whose columns are bent
 * @param other the pole they are held against
 * @param step  of the time from row to row
 * @param tell  called for every k with the products with f and with d, which are overwritten by the next
 */
export function bentProducts(
  mode: PoleTerms,
  other: PoleTerms,
  grid: Grid,
  step: number,
  highest: number,
  tell: (k: number, ofF: FourProducts, ofD: FourProducts) => void,
): void {
  const rows = Math.min(mode.rows, other.rows);
  const head = Math.min(mode.head, rows);
  weightedSums(other, mode, 1, head, rows, grid.sampleRateHz, highest + 1, together);
  weightedSums(other, mode, -1, head, rows, grid.sampleRateHz, highest + 1, turned);
  const c = other.constants;
  for (let k = 2; k <= highest; k++) {
    const scale = step ** k / 2;
    ofF.fill(0);
    ofD.fill(0);
    addFour(ofF, c[2]!, c[3]!, k, scale);
    addFour(ofD, c[2]!, c[3]!, k + 1, scale);
    addFour(ofD, c[4]!, c[5]!, k, scale);
    addHead(ofF, mode, other.columns.fRe, other.columns.fIm, head, step, k);
    addHead(ofD, mode, other.columns.dRe, other.columns.dIm, head, step, k);
    tell(k, ofF, ofD);
  }
}

/** Adds (a + i b) times the sums of order k, see `put` in gram.ts. */
function addFour(out: FourProducts, a: number, b: number, k: number, scale: number): void {
  const pRe = a * together[2 * k]! - b * together[2 * k + 1]!;
  const pIm = a * together[2 * k + 1]! + b * together[2 * k]!;
  const qRe = a * turned[2 * k]! - b * turned[2 * k + 1]!;
  const qIm = a * turned[2 * k + 1]! + b * turned[2 * k]!;
  out[0]! += scale * (pRe + qRe);
  out[1]! += scale * (pIm - qIm);
  out[2]! += scale * (pIm + qIm);
  out[3]! += scale * (qRe - pRe);
}

/** Adds the first rows, where the whitener is still short, row by row. */
function addHead(
  out: FourProducts,
  { columns }: PoleTerms,
  otherRe: Float64Array,
  otherIm: Float64Array,
  head: number,
  step: number,
  k: number,
): void {
  for (let row = 1; row < head; row++) {
    let x = 1;
    for (let i = 0; i < k; i++) x *= step * row;
    const re = x * columns.fRe[row]!;
    const im = x * columns.fIm[row]!;
    out[0]! += otherRe[row]! * re;
    out[1]! += otherRe[row]! * im;
    out[2]! += otherIm[row]! * re;
    out[3]! += otherIm[row]! * im;
  }
}

/**
 * A_j times the sums of n^k u^n over n = first .. rows - 1, k = 0 to `most`, u = z_i z_j, or z_i conj z_j with A_j conjugated. With m
 * rows from zero (1 - u) S_k = sum over j < k of (k over j) (-1)^(k - j + 1) (S_j - [j = 0]) - (m - 1)^k u^m, then shifted by `first`.
 * Source: our derivation, by differencing the series; tests/signal/search/bent-products.test.ts adds the rows one by one.
 */
function weightedSums(
  i: PoleTerms,
  j: PoleTerms,
  sign: 1 | -1,
  first: number,
  rows: number,
  sampleRateHz: number,
  most: number,
  out: Float64Array,
): void {
  const m = rows - first;
  const fall = (i.pole.decayPerS + j.pole.decayPerS) / sampleRateHz;
  const turn = (2 * Math.PI * (i.pole.frequencyHz + sign * j.pole.frequencyHz)) / sampleRateHz;
  const size = Math.exp(-fall);
  // 1 - u without the loss of digits where u is all but one
  const half = Math.sin(turn / 2);
  const gapRe = -Math.expm1(-fall) + 2 * size * half * half;
  const gapIm = -size * Math.sin(turn);
  const gap = gapRe * gapRe + gapIm * gapIm;
  const iRe = gapRe / gap;
  const iIm = -gapIm / gap;
  const endSize = Math.exp(-fall * m);
  const endRe = endSize * Math.cos(turn * m);
  const endIm = endSize * Math.sin(turn * m);
  let last = 1;
  for (let k = 0; k <= most; k++) {
    let re = (k === 0 ? 1 : 0) - last * endRe;
    let im = -last * endIm;
    last *= m - 1;
    const over = OVER[k]!;
    for (let below = 0; below < k; below++) {
      const weight = (k - below) % 2 === 0 ? -over[below]! : over[below]!;
      re += weight * (below === 0 ? sums[0]! - 1 : sums[2 * below]!);
      im += weight * sums[2 * below + 1]!;
    }
    sums[2 * k] = re * iRe - im * iIm;
    sums[2 * k + 1] = re * iIm + im * iRe;
  }
  const shiftSize = Math.exp(-fall * first);
  const shiftRe = shiftSize * Math.cos(turn * first);
  const shiftIm = shiftSize * Math.sin(turn * first);
  const aRe = j.constants[2]! * shiftRe - sign * j.constants[3]! * shiftIm;
  const aIm = j.constants[2]! * shiftIm + sign * j.constants[3]! * shiftRe;
  for (let k = 0; k <= most; k++) {
    let re = 0;
    let im = 0;
    let power = 1;
    const over = OVER[k]!;
    for (let below = k; below >= 0; below--) {
      re += over[below]! * power * sums[2 * below]!;
      im += over[below]! * power * sums[2 * below + 1]!;
      power *= first;
    }
    out[2 * k] = aRe * re - aIm * im;
    out[2 * k + 1] = aRe * im + aIm * re;
  }
}
