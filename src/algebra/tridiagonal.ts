// Eigenvalues and eigenvectors of a symmetric tridiagonal matrix: the small problem inside Lanczos.

const MAX_SWEEPS = 60;

/**
 * All eigenpairs of the symmetric tridiagonal matrix with this diagonal and off-diagonal.
 * @param diagonal    (n,)
 * @param offDiagonal (n - 1,)
 * @returns values ascending, and vectors as rows: `vectors[k * n + i]` is component i of the k-th eigenvector, unit length
 * @throws RangeError if an eigenvalue does not converge (only for values that are not finite)
 * Source: Francis 1961, Kublanovskaya 1961, implicit QL with the shift of Wilkinson 1968 (Golub and Van Loan, Matrix
 * Computations, section 8.3).
 */
export function tridiagonalEigen(
  diagonal: ArrayLike<number>,
  offDiagonal: ArrayLike<number>,
): { readonly values: Float64Array; readonly vectors: Float64Array } {
  const n = diagonal.length;
  if (offDiagonal.length !== Math.max(0, n - 1))
    throw new RangeError(`tridiagonalEigen: ${offDiagonal.length} off-diagonal values, need ${Math.max(0, n - 1)}`);
  const d = Float64Array.from(diagonal);
  const e = new Float64Array(n);
  e.set(Float64Array.from(offDiagonal));
  // Row k of z follows the k-th eigenvector, so that rotations touch two contiguous rows.
  const z = new Float64Array(n * n);
  for (let i = 0; i < n; i++) z[i * n + i] = 1;
  for (let l = 0; l < n; l++) {
    for (let sweep = 0; ; sweep++) {
      const m = firstNegligible(d, e, l);
      if (m === l) break;
      if (sweep === MAX_SWEEPS) throw new RangeError(`tridiagonalEigen: value ${l} of ${n} did not converge`);
      rotateDown(d, e, z, l, m);
    }
  }
  const ranks = Array.from(d.keys()).sort((p, q) => d[p]! - d[q]!);
  const vectors = new Float64Array(n * n);
  ranks.forEach((from, to) => {
    vectors.set(z.subarray(from * n, from * n + n), to * n);
  });
  return { values: Float64Array.from(ranks, (k) => d[k]!), vectors };
}

function firstNegligible(d: Float64Array, e: Float64Array, from: number): number {
  let m = from;
  while (m < d.length - 1) {
    const scale = Math.abs(d[m]!) + Math.abs(d[m + 1]!);
    if (Math.abs(e[m]!) <= Number.EPSILON * scale) break;
    m++;
  }
  return m;
}

/** One implicit QL sweep over the unreduced block l..m. */
function rotateDown(d: Float64Array, e: Float64Array, z: Float64Array, l: number, m: number): void {
  const n = d.length;
  let g = (d[l + 1]! - d[l]!) / (2 * e[l]!);
  let r = Math.hypot(g, 1);
  g = d[m]! - d[l]! + e[l]! / (g + (g >= 0 ? r : -r));
  let s = 1;
  let c = 1;
  let p = 0;
  for (let i = m - 1; i >= l; i--) {
    const f = s * e[i]!;
    const b = c * e[i]!;
    r = Math.hypot(f, g);
    e[i + 1] = r;
    if (r === 0) {
      d[i + 1]! -= p;
      e[m] = 0;
      return;
    }
    s = f / r;
    c = g / r;
    g = d[i + 1]! - p;
    r = (d[i]! - g) * s + 2 * c * b;
    p = s * r;
    d[i + 1] = g + p;
    g = c * r - b;
    for (let k = 0; k < n; k++) {
      const upper = z[(i + 1) * n + k]!;
      const lower = z[i * n + k]!;
      z[(i + 1) * n + k] = s * lower + c * upper;
      z[i * n + k] = c * lower - s * upper;
    }
  }
  d[l]! -= p;
  e[l] = g;
  e[m] = 0;
}
