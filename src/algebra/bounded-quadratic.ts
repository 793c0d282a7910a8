// The least of a convex quadratic under simple bounds, for a handful to a few hundred unknowns.

/**
 * Minimises x^T H x / 2 - g^T x with lower <= x <= upper by cyclic coordinate descent.
 * @param hessian  symmetric positive semidefinite, rows of (n, n), diagonal > 0
 * @param gradient (n,)
 * @returns the minimiser, (n,), each component to about `tolerance` times the width of its bounds
 * @throws RangeError if a diagonal element is not positive or a lower bound exceeds its upper bound
 * Source: Luo and Tseng 1992, J. Optim. Theory Appl. 72, 7 (convergence of coordinate descent under bounds).
 */
export function boundedMinimum(
  hessian: readonly Float64Array[],
  gradient: Float64Array,
  lower: Float64Array,
  upper: Float64Array,
  tolerance = 1e-7,
): Float64Array {
  const n = gradient.length;
  for (let i = 0; i < n; i++) {
    if (!(hessian[i]![i]! > 0)) throw new RangeError(`boundedMinimum: diagonal ${i} is ${hessian[i]![i]}, need it > 0`);
    if (lower[i]! > upper[i]!) throw new RangeError(`boundedMinimum: bounds ${lower[i]} > ${upper[i]} at ${i}`);
  }
  const x = lower.slice();
  // Slope of the quadratic at x, kept up to date as components move.
  const slope = Float64Array.from(gradient, (g, i) => {
    let sum = -g;
    for (let j = 0; j < n; j++) sum += hessian[i]![j]! * x[j]!;
    return sum;
  });
  for (let sweep = 0; sweep < 5000; sweep++) {
    let largest = 0;
    for (let i = 0; i < n; i++) {
      const width = upper[i]! - lower[i]!;
      if (width === 0) continue;
      const wanted = x[i]! - slope[i]! / hessian[i]![i]!;
      const move = Math.min(upper[i]!, Math.max(lower[i]!, wanted)) - x[i]!;
      if (move === 0) continue;
      x[i]! += move;
      largest = Math.max(largest, Math.abs(move) / width);
      const row = hessian[i]!;
      for (let j = 0; j < n; j++) slope[j]! += row[j]! * move;
    }
    if (largest < tolerance) break;
  }
  return x;
}
