// The curvature of the leftovers along a mode. The fit has taken off each mode and its slopes, by the pole and by the tap;
// what is neither one decay nor noise (a close companion, the room's answer) is seen first along the second derivative.
import { factorInPlace, inverseOfFactored, solveFactored } from '../algebra/dense-cholesky.ts';
import { type Columns, columnsFor, type Grid, type Pole, soundingRows, writeColumns } from './atoms.ts';
import { type Fit, leftoversOf, type Search } from './order.ts';
import type { Decays, Projection } from './project.ts';

/** How the leftovers of a fit curve along one mode. */
export interface Curvature {
  /** energy of the leftovers along the second derivative, summed over taps; chi-square, two degrees of freedom a tap, in noise */
  readonly energy: number;
  /** the part of it that is alike in all taps, measured by how loud each has the mode; two degrees of freedom in noise */
  readonly alike: number;
  /** half the distance of the two poles that would curve so, in decay rates: real part decay, imaginary part frequency */
  readonly splitRe: number;
  readonly splitIm: number;
}

/** Longest split tried: beyond it the expansion says only the direction. */
const LONGEST_SPLIT = 0.6;

/**
 * The curvature along every mode, (M,).
 * With E the second derivative column of a mode, projected off all columns and slopes, u = E'r and W = E'E the energy is
 * u' W^-1 u. Source: score test, Rao, Proc. Camb. Phil. Soc. 44 (1948) 50; the order of the expansion that first tells two
 * close signals from one: Lee, IEEE Trans. SP 40 (1992) 2675 (from memory); derivation ours, checked in
 * tests/signal/curvature.test.ts.
 */
export function curvatures(search: Search, fit: Fit): Curvature[] {
  const left = leftoversOf(search, fit);
  const modes = fit[0]!.poles.length;
  const sums = Array.from({ length: modes }, () => ({ energy: 0, alike: 0, re: 0, im: 0, weight: 0 }));
  let first = 0;
  search.groups.forEach((decays, g) => {
    const own = left.slice(first, first + decays.taps.length);
    first += decays.taps.length;
    addGroup(decays, fit[g]!, own, search.elastic, sums);
  });
  return sums.map(({ energy, alike, re, im, weight }) => {
    // A d^2 / 2 = the coefficient of the second derivative; d is its root, in units of the decay rate
    const squareRe = weight > 0 ? (2 * re) / weight : 0;
    const squareIm = weight > 0 ? (2 * im) / weight : 0;
    const size = Math.min(LONGEST_SPLIT, Math.sqrt(Math.hypot(squareRe, squareIm)));
    const angle = Math.atan2(squareIm, squareRe) / 2;
    return {
      energy,
      alike: weight > 0 ? (alike * (re * re + im * im)) / weight : 0,
      splitRe: size * Math.cos(angle),
      splitIm: size * Math.sin(angle),
    };
  });
}

function addGroup(
  decays: Decays,
  p: Projection,
  left: readonly Float64Array[],
  elastic: boolean,
  sums: { energy: number; alike: number; re: number; im: number; weight: number }[],
): void {
  const { grid, hum } = decays;
  const nf = 2 * (p.poles.length + hum.length);
  const n = nf + 2 * p.poles.length;
  const factor = p.gram.slice();
  if (factorInPlace(factor, n, 1e-13) >= 0) return;
  const all = [...p.poles, ...hum].map((pole) => {
    const rows = soundingRows(pole, grid);
    const columns = columnsFor(rows);
    writeColumns(pole, grid, columns);
    return { columns, rows };
  });
  p.poles.forEach((pole, m) => {
    const [re, im] = bendOf(pole, grid);
    const cross = [re, im].map((e) => {
      const out = new Float64Array(n);
      all.forEach(({ columns, rows }, i) => {
        out[2 * i] = dot(columns.fRe, e, rows);
        out[2 * i + 1] = dot(columns.fIm, e, rows);
        if (i >= p.poles.length) return;
        out[nf + 2 * i] = dot(columns.dRe, e, rows);
        out[nf + 2 * i + 1] = dot(columns.dIm, e, rows);
      });
      return out;
    }) as [Float64Array, Float64Array];
    const weights = cross.map((c) => {
      const out = c.slice();
      solveFactored(factor, n, out);
      return out;
    }) as [Float64Array, Float64Array];
    const inner = (a: Float64Array, b: Float64Array, i: number, j: number): number =>
      dot(a, b, grid.rows) - dot(cross[i]!, weights[j]!, n);
    const w = Float64Array.of(inner(re, re, 0, 0), inner(re, im, 0, 1), inner(im, re, 1, 0), inner(im, im, 1, 1));
    sums[m]!.alike = (w[0]! + w[3]!) / 2;
    if (factorInPlace(w, 2, 1e-9) >= 0) return;
    const inverse = inverseOfFactored(w, 2);
    const sum = sums[m]!;
    left.forEach((r, k) => {
      const u = [re, im].map((e, i) => {
        let score = dot(e, r, grid.rows);
        if (!elastic) score -= dot(weights[i]!.subarray(nf), p.slopes[k]!, n - nf);
        return score;
      }) as [number, number];
      const b = [0, 1].map((i) => inverse[2 * i]! * u[0] + inverse[2 * i + 1]! * u[1]) as [number, number];
      sum.energy += u[0] * b[0] + u[1] * b[1];
      // signal = Re(A z^n) with A = c1 - i c2, likewise for the second derivative
      const a1 = p.amplitudes[k]![2 * m]!;
      const a2 = -p.amplitudes[k]![2 * m + 1]!;
      sum.re += a1 * b[0] - a2 * b[1];
      sum.im += -a1 * b[1] - a2 * b[0];
      sum.weight += a1 * a1 + a2 * a2;
    });
  });
}

/** Second derivative of a pole's columns by s, in units of the decay rate, real and imaginary part; (rows,) each. */
function bendOf(pole: Pole, grid: Grid): [Float64Array, Float64Array] {
  const h = 1e-3;
  const [more, less] = [1 + h, 1 - h].map((factor) => {
    const columns = columnsFor(grid.rows);
    writeColumns({ ...pole, decayPerS: pole.decayPerS * factor }, grid, columns);
    return columns;
  }) as [Columns, Columns];
  // d is the derivative by ln z = s / rate; s grows as the decay falls
  const scale = pole.decayPerS / grid.sampleRateHz / (2 * h);
  const bend = (a: Float64Array, b: Float64Array): Float64Array => a.map((x, n) => (b[n]! - x) * scale);
  return [bend(more.dRe, less.dRe), bend(more.dIm, less.dIm)];
}

function dot(a: Float64Array, b: Float64Array, rows: number): number {
  let sum = 0;
  for (let i = 0; i < rows; i++) sum += a[i]! * b[i]!;
  return sum;
}
