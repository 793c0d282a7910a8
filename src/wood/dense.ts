// Small dense matrices as flat row-major arrays: the few operations a board's modes need, without allocation in loops.

/**
 * Cholesky factor of a symmetric positive definite matrix, in place: the lower triangle becomes L, the rest is left.
 * @param a (n * n)
 * @throws RangeError where the matrix is not positive definite
 * Source: Golub & Van Loan, Matrix Computations, outer form by rows.
 */
export function factorLower(a: Float64Array, n: number): void {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= a[i * n + k]! * a[j * n + k]!;
      if (i !== j) a[i * n + j] = sum / a[j * n + j]!;
      else if (sum > 0) a[i * n + i] = Math.sqrt(sum);
      else throw new RangeError(`factorLower: pivot ${i} is ${sum}, need > 0`);
    }
  }
}

/** b becomes L^-1 b, in place; L (n * n) lower, b (n * m). */
export function solveLowerColumns(l: Float64Array, n: number, b: Float64Array, m: number): void {
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) {
      const factor = l[i * n + k]!;
      for (let c = 0; c < m; c++) b[i * m + c]! -= factor * b[k * m + c]!;
    }
    const scale = 1 / l[i * n + i]!;
    for (let c = 0; c < m; c++) b[i * m + c]! *= scale;
  }
}

/** b becomes L^-T b, in place; L (n * n) lower, b (n * m). */
export function solveUpperColumns(l: Float64Array, n: number, b: Float64Array, m: number): void {
  for (let i = n - 1; i >= 0; i--) {
    const scale = 1 / l[i * n + i]!;
    for (let c = 0; c < m; c++) b[i * m + c]! *= scale;
    for (let k = 0; k < i; k++) {
      const factor = l[i * n + k]!;
      for (let c = 0; c < m; c++) b[k * m + c]! -= factor * b[i * m + c]!;
    }
  }
}

/** a' a of a (n * m), as (m * m). */
export function innerProducts(a: Float64Array, n: number, m: number): Float64Array {
  const product = new Float64Array(m * m);
  for (let k = 0; k < n; k++) {
    for (let i = 0; i < m; i++) {
      const factor = a[k * m + i]!;
      for (let j = 0; j < m; j++) product[i * m + j]! += factor * a[k * m + j]!;
    }
  }
  return product;
}

/** The transpose of a square matrix (n * n). */
export function transposed(a: Float64Array, n: number): Float64Array {
  const turned = new Float64Array(n * n);
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) turned[j * n + i] = a[i * n + j]!;
  return turned;
}
