/**
 * Reduces a complex Hermitian matrix to a real symmetric tridiagonal one, T = Q^H A Q.
 * @param re real part, (n, n) row-major, full storage; destroyed
 * @param im imaginary part, likewise
 * @returns `diagonal` (n,), `beside` (n,) with T(k, k + 1) = beside[k], and `toOriginal`, which turns an eigenvector of
 *          T (n,) into one of A, interleaved re, im, (2 n,)
 * Source: Golub & Van Loan, Matrix Computations, 4th ed., section 8.3.1 (Householder, Hermitian form), then a diagonal
 * of phases to make the off-diagonals real.
 */
export function tridiagonalFromHermitian(
  re: Float64Array,
  im: Float64Array,
  n: number,
): { diagonal: Float64Array; beside: Float64Array; toOriginal: (vector: Float64Array) => Float64Array } {
  const vRe = new Float64Array(n * n);
  const vIm = new Float64Array(n * n);
  const pRe = new Float64Array(n);
  const pIm = new Float64Array(n);
  for (let k = 0; k + 2 < n; k++) reflect(re, im, n, k, vRe, vIm, pRe, pIm);
  const diagonal = Float64Array.from({ length: n }, (_, i) => re[i * n + i]!);
  const beside = new Float64Array(n);
  const phaseRe = new Float64Array(n).fill(1);
  const phaseIm = new Float64Array(n);
  for (let k = 0; k + 1 < n; k++) {
    const r = re[(k + 1) * n + k]!;
    const i = im[(k + 1) * n + k]!;
    const size = Math.hypot(r, i);
    beside[k] = size;
    const [uRe, uIm] = size > 0 ? [r / size, i / size] : [1, 0];
    phaseRe[k + 1] = phaseRe[k]! * uRe - phaseIm[k]! * uIm;
    phaseIm[k + 1] = phaseRe[k]! * uIm + phaseIm[k]! * uRe;
  }
  const toOriginal = (vector: Float64Array): Float64Array => {
    const out = new Float64Array(2 * n);
    for (let i = 0; i < n; i++) {
      out[2 * i] = vector[i]! * phaseRe[i]!;
      out[2 * i + 1] = vector[i]! * phaseIm[i]!;
    }
    for (let k = n - 3; k >= 0; k--) reflectVector(out, vRe, vIm, k, n);
    return out;
  };
  return { diagonal, beside, toOriginal };
}

/** One Householder step A := H A H, H = I - 2 v v^H, that clears column k below its subdiagonal; v is kept in row k. */
function reflect(
  re: Float64Array,
  im: Float64Array,
  n: number,
  k: number,
  vRe: Float64Array,
  vIm: Float64Array,
  pRe: Float64Array,
  pIm: Float64Array,
): void {
  let norm = 0;
  for (let i = k + 1; i < n; i++) norm += re[i * n + k]! ** 2 + im[i * n + k]! ** 2;
  norm = Math.sqrt(norm);
  if (norm === 0) return;
  const first = (k + 1) * n + k;
  const size = Math.hypot(re[first]!, im[first]!);
  const [uRe, uIm] = size > 0 ? [re[first]! / size, im[first]! / size] : [1, 0];
  for (let i = k + 1; i < n; i++) {
    vRe[k * n + i] = re[i * n + k]!;
    vIm[k * n + i] = im[i * n + k]!;
  }
  vRe[k * n + k + 1]! += uRe * norm;
  vIm[k * n + k + 1]! += uIm * norm;
  const length = Math.sqrt(2 * norm * (norm + size));
  for (let i = k + 1; i < n; i++) {
    vRe[k * n + i]! /= length;
    vIm[k * n + i]! /= length;
  }
  let dot = 0;
  for (let i = k; i < n; i++) {
    let sumRe = 0;
    let sumIm = 0;
    for (let j = k + 1; j < n; j++) {
      const [aRe, aIm, bRe, bIm] = [re[i * n + j]!, im[i * n + j]!, vRe[k * n + j]!, vIm[k * n + j]!];
      sumRe += aRe * bRe - aIm * bIm;
      sumIm += aRe * bIm + aIm * bRe;
    }
    pRe[i] = sumRe;
    pIm[i] = sumIm;
    if (i > k) dot += vRe[k * n + i]! * sumRe + vIm[k * n + i]! * sumIm;
  }
  for (let i = k; i < n; i++) {
    pRe[i]! -= dot * vRe[k * n + i]!;
    pIm[i]! -= dot * vIm[k * n + i]!;
  }
  for (let i = k; i < n; i++) {
    for (let j = k; j < n; j++) {
      const [vr, vi, wr, wi] = [vRe[k * n + i]!, vIm[k * n + i]!, pRe[j]!, pIm[j]!];
      const [pr, pi, ur, ui] = [pRe[i]!, pIm[i]!, vRe[k * n + j]!, vIm[k * n + j]!];
      re[i * n + j]! -= 2 * (vr * wr + vi * wi + pr * ur + pi * ui);
      im[i * n + j]! -= 2 * (vi * wr - vr * wi + pi * ur - pr * ui);
    }
  }
}

/** x := (I - 2 v v^H) x for the reflector kept in row k. */
function reflectVector(x: Float64Array, vRe: Float64Array, vIm: Float64Array, k: number, n: number): void {
  let re = 0;
  let im = 0;
  for (let i = k + 1; i < n; i++) {
    re += vRe[k * n + i]! * x[2 * i]! + vIm[k * n + i]! * x[2 * i + 1]!;
    im += vRe[k * n + i]! * x[2 * i + 1]! - vIm[k * n + i]! * x[2 * i]!;
  }
  for (let i = k + 1; i < n; i++) {
    x[2 * i]! -= 2 * (vRe[k * n + i]! * re - vIm[k * n + i]! * im);
    x[2 * i + 1]! -= 2 * (vRe[k * n + i]! * im + vIm[k * n + i]! * re);
  }
}
