// Dense systems of a few unknowns, as rows of numbers: what a fit of a handful of constants asks for.
import { factorInPlace, inverseOfFactored } from './dense-cholesky.ts';
import { symmetricEigen } from './symmetric-eigen.ts';

/** A matrix as its rows, (n, n). */
export type Rows = readonly (readonly number[])[];

/** The product of a matrix and a vector, (n,). */
export const times = (rows: Rows, vector: readonly number[]): number[] =>
  rows.map((row) => row.reduce((sum, each, j) => sum + each * vector[j]!, 0));

/**
 * Solves A x = b.
 * @param rows  A, (n, n), any regular matrix
 * @param right b, (n,)
 * @throws RangeError if a column depends on those before it
 * Source: Golub & Van Loan, Matrix Computations, 4th ed., algorithm 3.4.1 (elimination with row exchanges).
 */
export function solveLinear(rows: Rows, right: readonly number[]): number[] {
  const n = right.length;
  const a = rows.map((row, i) => [...row, right[i]!]);
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(a[i]![k]!) > Math.abs(a[pivot]![k]!)) pivot = i;
    const chosen = a[pivot]!;
    a[pivot] = a[k]!;
    a[k] = chosen;
    if (!(Math.abs(chosen[k]!) > 0))
      throw new RangeError(`solveLinear: column ${k} of ${n} depends on those before it`);
    for (let i = k + 1; i < n; i++) {
      const row = a[i]!;
      const factor = row[k]! / chosen[k]!;
      for (let j = k; j <= n; j++) row[j]! -= factor * chosen[j]!;
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i--) {
    const row = a[i]!;
    let sum = row[n]!;
    for (let j = i + 1; j < n; j++) sum -= row[j]! * x[j]!;
    x[i] = sum / row[i]!;
  }
  return x;
}

/**
 * The inverse of a symmetric positive definite matrix.
 * @throws RangeError if a column depends on those before it
 */
export function inverseOfPositive(rows: Rows): number[][] {
  const n = rows.length;
  const flat = Float64Array.from(rows.flat());
  const column = factorInPlace(flat, n, Number.EPSILON);
  if (column >= 0) throw new RangeError(`inverseOfPositive: column ${column} of ${n} depends on those before it`);
  return rowsOf(inverseOfFactored(flat, n), n);
}

/**
 * The inverse of a symmetric matrix without negative eigenvalues, over those directions in which it is not zero.
 * @param zero eigenvalues of at most this size, either sign, count as zero
 * Source: Moore & Penrose; Golub & Van Loan, Matrix Computations, 4th ed., section 5.5.2.
 */
export function pseudoInverseOfSymmetric(rows: Rows, zero: number): number[][] {
  const n = rows.length;
  const { values, vectors } = symmetricEigen(Float64Array.from(rows.flat()), n);
  const inverse = new Float64Array(n * n);
  values.forEach((value, k) => {
    if (Math.abs(value) <= zero) return;
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) inverse[i * n + j]! += (vectors[k * n + i]! * vectors[k * n + j]!) / Math.abs(value);
  });
  return rowsOf(inverse, n);
}

const rowsOf = (flat: Float64Array, n: number): number[][] =>
  Array.from({ length: n }, (_, i) => Array.from(flat.subarray(i * n, i * n + n)));
