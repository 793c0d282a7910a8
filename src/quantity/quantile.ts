// Quantiles of the distributions behind the tests and intervals.

/** Normal quantile of a small upper-tail probability p. Source: Abramowitz & Stegun, eq. 26.2.23 (error < 4.5e-4). */
export function upperNormal(p: number): number {
  const t = Math.sqrt(-2 * Math.log(p));
  const top = 2.515517 + t * (0.802853 + t * 0.010328);
  return t - top / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
}

/**
 * Chi-square quantile of a small upper-tail probability p.
 * Source: Wilson & Hilferty, Proc. Nat. Acad. Sci. 17 (1931) 684 (some per cent high for two degrees of freedom and p < 1e-6).
 */
export function upperChiSquare(p: number, degrees: number): number {
  const spread = 2 / (9 * degrees);
  return degrees * Math.max(0, 1 - spread + upperNormal(p) * Math.sqrt(spread)) ** 3;
}

/** Student's t, 97.5 % quantile, 1..10 degrees of freedom. Source: Abramowitz & Stegun, table 26.10. */
const T_975 = [12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228] as const;

/** Half width of the 95 % interval of Student's t in standard deviations, degrees >= 1; beyond 10 degrees by its expansion, eq. 26.7.5. */
export function studentHalfWidth95(degrees: number): number {
  const z = 1.959963984540054;
  return T_975[Math.max(1, Math.floor(degrees)) - 1] ?? z + (z ** 3 + z) / (4 * degrees);
}

/** Chance that a standard normal number lies outside +-z. Source: Abramowitz & Stegun, eq. 7.1.26 (error < 1.5e-7). */
export function twoSidedNormal(z: number): number {
  const t = 1 / (1 + (0.3275911 * z) / Math.SQRT2);
  const series = t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  return series * Math.exp((-z * z) / 2);
}
