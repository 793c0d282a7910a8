// A machine that is too busy loses sound and joins what is left: some milliseconds are gone, no counter tells, and the ring
// jumps in phase and level. What rings freely can be foretold from what it was; at a join it cannot.
import { factorInPlace, solveFactored } from '../../algebra/dense-cholesky.ts';
import { median } from '../../quantity/median.ts';
import { type DecimatedSound, decimate, decimator } from '../filter/decimate.ts';

/** What rings is looked at up to here, Hz, at some 5500 samples a second. */
const TOP_HZ = 1600;
/** Rows from which each row is foretold, and rows over whose errors is averaged: 7 and 4 ms. */
const ORDER = 40;
const WINDOW = 20;
/** The ring is looked at from here on: before lies the contact, reached by the filter from 1.3 ms after it. */
const AFTER_CONTACT_S = 0.006;
/** How far to either side the usual error is looked for, s. */
const BESIDE_S = 0.06;
/** What rings is lost in the room below this many times the louder of the room before and of the end of the take. */
const OVER_ROOM = 4;
/** ... and this many times the square of the recorder's step: a ring without any noise ends in its rounding. */
const OVER_STEP = 16;
/** A ring is joined where it is foretold worse than beside it by this factor, in power. */
const WORSE = 5;
/** A break changes the ring by more than this part of its power; below lies what twenty decays leave of a real one. */
const LEAST_PART = 0.005;
/** While the contact's quick modes die the model errs by itself; a loss so early is left to the other reasons. */
const SETTLED_S = 0.025;
/** Ridge on the equations, and the least error, as parts of the ring's own power: below lies the rounding of any recorder. */
const RIDGE = 1e-11;
const LEAST = 1e-11;

/**
 * A second touch brings power into the ring, a loss of sound none: over 171 double hits and 83 splices of 10 ms (seeds 7000
 * to 7049) the lowest twentieth of the one lies below 1.23, the highest tenth of the other above.
 */
const STRUCK_RISE = 1.25;
/**
 * A hand laid on the piece takes more of the ring than its own decay, a loss of sound little more: over the rise before,
 * 21 of 200 damped rings that break at all have 0.30 at most, 95 % of 167 splices at least 0.42 (seeds 7700 to 7799).
 */
const DAMPED_RISE = 0.3;

/** Where a ring does not go on as it was, and why, by the power in it. */
export interface Break {
  /** time after the contact, s */
  readonly atS: number;
  /** `spliced`: some of it is missing; `struck`: touched again; `damped`: something was laid on the piece */
  readonly because: 'spliced' | 'struck' | 'damped';
}

/**
 * The worst break in the ring of a tap, if there is one. Each row of the ring is foretold from the rows before it by one set
 * of coefficients for the whole take, fitted by least squares without the rows of the worst break: a sum of twenty decays
 * obeys one, whatever its amplitudes.
 * @param samples    (n,), full scale = 1
 * @param onsetIndex first sample of contact
 * Source: linear prediction, the covariance method, J. Makhoul, Proc. IEEE 63 (1975) 561, section II; interpolation
 * of clicks by its errors, S. V. Vaseghi and P. J. W. Rayner, IEE Proc. I 137 (1990) 38 (both from memory). Thresholds: our
 * own, by the taps of tests/bench/struck.ts, seeds below 8000.
 */
export function breakOf(samples: Float32Array, sampleRateHz: number, onsetIndex: number): Break | undefined {
  const series = decimate(samples, onsetIndex, decimator(sampleRateHz, TOP_HZ));
  const { samples: y, onset, sampleRateHz: rate } = series;
  const from = Math.max(0, onset) + Math.round(AFTER_CONTACT_S * rate);
  const to = ringEnd(series, from, OVER_STEP * leastStep(samples) ** 2);
  if (y.length - from < 4 * ORDER || to < from + ORDER) return undefined;
  const worstBy = (errors: Float64Array): Worst | undefined => worstRow(errors, y, from, to, rate);
  const plain = errorsOf(y, from, () => 1);
  const first = worstBy(errorsOf(y, from, evenly(plain, from, to)));
  // its own rows bend the coefficients toward it, so they are left out once it is known
  const worst = first && worstBy(errorsOf(y, from, apartFrom(first.row)));
  if (worst === undefined || worst.worse < WORSE) return undefined;
  const [row, near, far] = [worst.row, Math.round(0.002 * rate), Math.round(0.02 * rate)];
  const before = power(y, Math.max(from, row - near - far), row - near);
  const earlier = power(y, Math.max(from, row - near - 2 * far), row - near - far);
  const rise = power(y, row + near, row + near + far) / before;
  const isDamped = rise < DAMPED_RISE * (earlier > 0 ? Math.min(1, before / earlier) : 1);
  return { atS: (row - onset) / rate, because: rise > STRUCK_RISE ? 'struck' : isDamped ? 'damped' : 'spliced' };
}

/** The row up to which the ring stands out of the room, of what is left at the end, and of a least power. */
function ringEnd({ samples: y, onset, sampleRateHz: rate }: DecimatedSound, from: number, least: number): number {
  const step = Math.round(0.02 * rate);
  const room = power(y, 0, Math.max(0, onset - Math.round(0.01 * rate)));
  const quiet = Math.max(least, OVER_ROOM * room, OVER_ROOM * power(y, y.length - 5 * step, y.length));
  let end = y.length;
  while (end - step > from && power(y, end - step, end) < quiet) end -= step;
  return Math.min(end, y.length - WINDOW);
}

/** Weights by which rows foretold far worse than most hardly count: a loud touch late in the ring would else bend all. */
function evenly(errors: Float64Array, from: number, to: number): (n: number) => number {
  const usual = median(errors.subarray(from + ORDER, to)) ?? 0;
  return (n) => usual / (usual + errors[n]! / 4);
}

/** Weights that leave out a window and the rows that reach back across it. */
const apartFrom =
  (row: number) =>
  (n: number): number =>
    n > row - WINDOW && n < row + WINDOW + ORDER ? 0 : 1;

/**
 * Squared errors of each row foretold from the ORDER rows before it, from the first that has so many.
 * @param weightOf weight of a row in the fit of the coefficients
 */
function errorsOf(y: Float64Array, from: number, weightOf: (n: number) => number): Float64Array {
  const to = y.length;
  const matrix = new Float64Array(ORDER * ORDER);
  const a = new Float64Array(ORDER);
  for (let n = from + ORDER; n < to; n++) {
    const weight = weightOf(n);
    if (weight === 0) continue;
    for (let i = 0; i < ORDER; i++) {
      const earlier = weight * y[n - 1 - i]!;
      a[i]! += earlier * y[n]!;
      for (let j = 0; j <= i; j++) matrix[i * ORDER + j]! += earlier * y[n - 1 - j]!;
    }
  }
  const energy = matrix[0]!;
  for (let i = 0; i < ORDER; i++) matrix[i * ORDER + i]! += RIDGE * energy + Number.MIN_VALUE;
  const out = new Float64Array(to);
  if (factorInPlace(matrix, ORDER, 0) !== -1) return out;
  solveFactored(matrix, ORDER, a);
  const least = (LEAST * energy) / Math.max(1, to - from);
  for (let n = from + ORDER; n < to; n++) {
    let error = y[n]!;
    for (let i = 0; i < ORDER; i++) error -= a[i]! * y[n - 1 - i]!;
    out[n] = error * error + least;
  }
  return out;
}

/** A window of rows, and how much worse than beside it they are foretold, power ratio. */
interface Worst {
  readonly row: number;
  readonly worse: number;
}

/** The window of rows that is foretold worst next to those beside it, once the ring has settled. */
function worstRow(errors: Float64Array, y: Float64Array, from: number, to: number, rate: number): Worst | undefined {
  // Each is asked for some thirty times.
  const mean = Float64Array.from(errors, (_, n) => power(errors, n, n + WINDOW, 1));
  let worst: Worst | undefined;
  const settled = from + Math.round((SETTLED_S - AFTER_CONTACT_S) * rate);
  for (let row = settled; row < to; row++) {
    const earlier: number[] = [];
    const later: number[] = [];
    for (let away = WINDOW; away < BESIDE_S * rate; away += WINDOW) {
      const [before, after] = [row - WINDOW - away, row + ORDER + away];
      if (before >= from + ORDER) earlier.push(mean[before]!);
      if (after + WINDOW <= errors.length) later.push(mean[after]!);
    }
    const usual = Math.max(median(earlier) ?? 0, median(later) ?? 0);
    const worse = usual > 0 ? mean[row]! / usual : 0;
    const isPartOf = mean[row]! > LEAST_PART * power(y, row, row + WINDOW);
    if (isPartOf && worse > (worst?.worse ?? 0)) worst = { row, worse };
  }
  return worst;
}

/** The smallest sample that is not zero: the step of a recorder's numbers, or less. */
function leastStep(samples: Float32Array): number {
  let least = 1;
  for (const x of samples) if (x !== 0) least = Math.min(least, Math.abs(x));
  return least;
}

/** Mean of x to the second (or another) power over rows [from, to), as far as there are some; 0 over none. */
function power(x: Float64Array, from: number, to: number, exponent = 2): number {
  let sum = 0;
  const [first, last] = [Math.max(0, from), Math.min(to, x.length)];
  for (let n = first; n < last; n++) sum += x[n]! ** exponent;
  return sum / Math.max(1, last - first);
}
