// All eigenpairs of a dense symmetric matrix: made tridiagonal by reflections, then solved there.
import { tridiagonalEigen } from './tridiagonal.ts';

/**
 * All eigenpairs of a symmetric matrix.
 * @param a (n, n) row-major, full storage; not changed
 * @returns values ascending, and vectors as rows: `vectors[k * n + i]` is component i of the k-th eigenvector, unit length
 * Source: Golub & Van Loan, Matrix Computations, 4th ed., section 8.3.1 (Householder), then `tridiagonalEigen`.
 */
export function symmetricEigen(
  a: Float64Array,
  n: number,
): { readonly values: Float64Array; readonly vectors: Float64Array } {
  const work = Float64Array.from(a);
  // Row k holds the unit vector v of the k-th reflection I - 2 v v'.
  const reflections = new Float64Array(n * n);
  const image = new Float64Array(n);
  for (let k = 0; k + 2 < n; k++) reflect(work, n, k, reflections, image);
  const { values, vectors } = tridiagonalEigen(
    Float64Array.from({ length: n }, (_, i) => work[i * n + i]!),
    Float64Array.from({ length: Math.max(0, n - 1) }, (_, i) => work[(i + 1) * n + i]!),
  );
  for (let row = 0; row < n; row++) {
    for (let k = n - 3; k >= 0; k--) {
      let along = 0;
      for (let i = k + 1; i < n; i++) along += reflections[k * n + i]! * vectors[row * n + i]!;
      for (let i = k + 1; i < n; i++) vectors[row * n + i]! -= 2 * along * reflections[k * n + i]!;
    }
  }
  return { values, vectors };
}

/** One step A := H A H that clears column k below its subdiagonal; symmetric, so only rows from k on are touched. */
function reflect(a: Float64Array, n: number, k: number, reflections: Float64Array, image: Float64Array): void {
  let squares = 0;
  for (let i = k + 1; i < n; i++) squares += a[i * n + k]! ** 2;
  const norm = Math.sqrt(squares);
  if (norm === 0) return;
  const first = a[(k + 1) * n + k]!;
  const length = Math.sqrt(2 * norm * (norm + Math.abs(first)));
  const v = reflections.subarray(k * n, k * n + n);
  for (let i = k + 1; i < n; i++) v[i] = a[i * n + k]! / length;
  v[k + 1]! += (first < 0 ? -norm : norm) / length;
  let along = 0;
  for (let i = k; i < n; i++) {
    let sum = 0;
    for (let j = k + 1; j < n; j++) sum += a[i * n + j]! * v[j]!;
    image[i] = sum;
    along += v[i]! * sum;
  }
  for (let i = k; i < n; i++) image[i]! -= along * v[i]!;
  for (let i = k; i < n; i++) for (let j = k; j < n; j++) a[i * n + j]! -= 2 * (v[i]! * image[j]! + image[i]! * v[j]!);
}
