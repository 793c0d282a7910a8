// Small dense symmetric positive-definite systems, row-major Float64Array. Sizes here are tens, not thousands.

/**
 * Cholesky factor of a symmetric positive-definite matrix, in place.
 * @param a    (n, n) row-major; the lower triangle becomes L with A = L L'; the upper triangle is not touched
 * @param n    order
 * @param tiny smallest pivot relative to the diagonal entry it came from that still counts as positive
 * @returns    -1 if the matrix was factored, else the first row whose pivot vanished (that column depends on earlier ones)
 * Source: Golub & Van Loan, Matrix Computations, 4th ed., algorithm 4.2.1 (row-oriented form).
 */
export function factorInPlace(a: Float64Array, n: number, tiny: number): number {
  for (let i = 0; i < n; i++) {
    const diagonal = a[i * n + i]!;
    for (let j = 0; j <= i; j++) {
      let sum = a[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= a[i * n + k]! * a[j * n + k]!;
      if (j < i) a[i * n + j] = sum / a[j * n + j]!;
      else if (!(sum > tiny * diagonal)) return i;
      else a[i * n + i] = Math.sqrt(sum);
    }
  }
  return -1;
}

/** Solves L x = b in place; `l` from {@link factorInPlace}, b (n,) starting at `offset` of its array. */
export function solveLower(l: Float64Array, n: number, b: Float64Array, offset = 0): void {
  for (let i = 0; i < n; i++) {
    let sum = b[offset + i]!;
    for (let k = 0; k < i; k++) sum -= l[i * n + k]! * b[offset + k]!;
    b[offset + i] = sum / l[i * n + i]!;
  }
}

/** Solves L' x = b in place; `l` from {@link factorInPlace}, b (n,) starting at `offset` of its array. */
function solveUpper(l: Float64Array, n: number, b: Float64Array, offset = 0): void {
  for (let i = n - 1; i >= 0; i--) {
    const x = b[offset + i]! / l[i * n + i]!;
    b[offset + i] = x;
    for (let k = 0; k < i; k++) b[offset + k]! -= l[i * n + k]! * x;
  }
}

/** Solves A x = b in place for a factored A. */
export function solveFactored(l: Float64Array, n: number, b: Float64Array, offset = 0): void {
  solveLower(l, n, b, offset);
  solveUpper(l, n, b, offset);
}

/** The inverse of a factored matrix, (n, n) row-major. */
export function inverseOfFactored(l: Float64Array, n: number): Float64Array {
  const inverse = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const at = i * n;
    // nothing lies before the one of a column of the unit matrix
    inverse[at + i] = 1 / l[at + i]!;
    for (let j = i + 1; j < n; j++) {
      let sum = 0;
      for (let k = i; k < j; k++) sum -= l[j * n + k]! * inverse[at + k]!;
      inverse[at + j] = sum / l[j * n + j]!;
    }
    solveUpper(l, n, inverse, at);
  }
  return inverse;
}
