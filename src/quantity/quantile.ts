// The distributions behind the tests and intervals.
import type { Estimate } from './estimate.ts';

/** Beyond this a tail is summed as a continued fraction, within it as a series: both reach double precision there. */
const FAR = 3;

/**
 * Chance that a standard normal number lies above z; relative error under 1e-12 down to the smallest.
 * Source: Abramowitz & Stegun 1964, 26.2.11 (series) and 26.2.14 (continued fraction).
 */
export function upperTail(z: number): number {
  if (z < 0) return 1 - upperTail(-z);
  const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
  if (z > FAR) {
    let fraction = z;
    for (let k = 80; k > 0; k--) fraction = z + k / fraction;
    return density / fraction;
  }
  let term = z;
  let sum = z;
  for (let k = 3; term > 1e-17 * sum; k += 2) {
    term *= (z * z) / k;
    sum += term;
  }
  return 0.5 - density * sum;
}

/** Standard normal distribution function. */
export const normalCdf = (z: number): number => upperTail(-z);

/** Chance that what is estimated lies below an edge; without a spread it does or does not, and the edge itself is not below. */
export const chanceBelow = ({ value, sigma }: Estimate, edge: number): number =>
  sigma === 0 ? Number(value < edge) : normalCdf((edge - value) / sigma);

/** Chance that a standard normal number lies outside +-z, z >= 0. */
export const twoSidedNormal = (z: number): number => 2 * upperTail(z);

/**
 * Normal quantile of a small upper-tail probability p, 0 < p <= 0.5.
 * Source: Abramowitz & Stegun, eq. 26.2.23 (error < 4.5e-4), then two Newton steps on {@link upperTail}.
 */
export function upperNormal(p: number): number {
  const t = Math.sqrt(-2 * Math.log(p));
  const top = 2.515517 + t * (0.802853 + t * 0.010328);
  let z = t - top / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
  for (let step = 0; step < 2; step++) z += (upperTail(z) - p) * Math.sqrt(2 * Math.PI) * Math.exp((z * z) / 2);
  return z;
}

/**
 * Chi-square quantile of a small upper-tail probability p.
 * Source: Wilson & Hilferty, Proc. Nat. Acad. Sci. 17 (1931) 684 (some per cent high for two degrees of freedom and p < 1e-6).
 */
export function upperChiSquare(p: number, degrees: number): number {
  const spread = 2 / (9 * degrees);
  return degrees * Math.max(0, 1 - spread + upperNormal(p) * Math.sqrt(spread)) ** 3;
}

/** Chi-square quantile of a lower-tail probability p, 0 < p <= 0.5. Source: as {@link upperChiSquare}. */
export function lowerChiSquare(p: number, degrees: number): number {
  const spread = 2 / (9 * degrees);
  return degrees * Math.max(0, 1 - spread - upperNormal(p) * Math.sqrt(spread)) ** 3;
}

/**
 * Probability that |t| stays below `t` with this many degrees of freedom.
 * @param t >= 0
 * @param degreesOfFreedom whole, >= 1
 * Source: Abramowitz & Stegun 1964, 26.7.3 (odd) and 26.7.4 (even), exact.
 */
export function studentTInside(t: number, degreesOfFreedom: number): number {
  const angle = Math.atan(t / Math.sqrt(degreesOfFreedom));
  const cos2 = Math.cos(angle) ** 2;
  const isOdd = degreesOfFreedom % 2 === 1;
  let term = isOdd ? Math.cos(angle) : 1;
  let sum = degreesOfFreedom === 1 ? 0 : term;
  for (let k = isOdd ? 3 : 2; k <= degreesOfFreedom - 2; k += 2) {
    term *= (cos2 * (k - 1)) / k;
    sum += term;
  }
  return isOdd ? (2 / Math.PI) * (angle + Math.sin(angle) * sum) : Math.sin(angle) * sum;
}

/**
 * Half width of the 95 % interval of Student's t in standard deviations: 12.71 for one degree of freedom, toward 1.96 for many.
 * @throws RangeError if the degrees of freedom are not whole and >= 1
 * Source: inverse of `studentTInside` by bisection, to 1e-10.
 */
export function studentHalfWidth95(degreesOfFreedom: number): number {
  if (!(Number.isInteger(degreesOfFreedom) && degreesOfFreedom >= 1))
    throw new RangeError(`studentHalfWidth95: ${degreesOfFreedom} degrees of freedom, need 1 or more`);
  let low = 1.9;
  let high = 13;
  while (high - low > 1e-10) {
    const middle = (low + high) / 2;
    if (studentTInside(middle, degreesOfFreedom) < 0.95) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
