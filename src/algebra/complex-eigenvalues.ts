/** A square complex matrix, (n, n) row-major, real and imaginary parts apart. */
export interface ComplexMatrix {
  readonly n: number;
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/**
 * All eigenvalues of a small complex matrix (n up to about 20) by the QR algorithm with Wilkinson shifts and deflation.
 * The QR step is done by Givens rotations on the Hessenberg form.
 * @returns eigenvalues, real and imaginary parts, (n,) each, in no order; those that did not settle in 40 n sweeps are left out
 * Source: Golub & Van Loan, Matrix Computations, 4th ed., sections 7.4 and 7.5 (complex single-shift form).
 */
export function complexEigenvalues(matrix: ComplexMatrix): { re: number; im: number }[] {
  const { n } = matrix;
  const re = matrix.re.slice();
  const im = matrix.im.slice();
  toHessenberg(re, im, n);
  const found: { re: number; im: number }[] = [];
  let end = n - 1;
  let sweeps = 0;
  while (end >= 0 && sweeps < 40 * n) {
    let start = end;
    while (start > 0 && !negligible(re, im, n, start)) start--;
    if (start === end) {
      found.push({ re: re[end * n + end]!, im: im[end * n + end]! });
      end--;
      continue;
    }
    qrSweep(re, im, n, start, end, sweeps);
    sweeps++;
  }
  return found;
}

function negligible(re: Float64Array, im: Float64Array, n: number, row: number): boolean {
  const below = row * n + row - 1;
  const here = row * n + row;
  const above = (row - 1) * n + row - 1;
  const scale = Math.hypot(re[here]!, im[here]!) + Math.hypot(re[above]!, im[above]!);
  return Math.hypot(re[below]!, im[below]!) <= 1e-14 * scale;
}

/** Elimination to upper Hessenberg form with row exchanges. Source: Golub & Van Loan, section 7.4.5. */
function toHessenberg(re: Float64Array, im: Float64Array, n: number): void {
  for (let column = 0; column < n - 2; column++) {
    let pivot = column + 1;
    for (let i = column + 2; i < n; i++) {
      if (size(re, im, i * n + column) > size(re, im, pivot * n + column)) pivot = i;
    }
    if (size(re, im, pivot * n + column) === 0) continue;
    if (pivot !== column + 1) exchange(re, im, n, pivot, column + 1);
    const p = (column + 1) * n + column;
    const norm = re[p]! ** 2 + im[p]! ** 2;
    for (let i = column + 2; i < n; i++) {
      const q = i * n + column;
      const mRe = (re[q]! * re[p]! + im[q]! * im[p]!) / norm;
      const mIm = (im[q]! * re[p]! - re[q]! * im[p]!) / norm;
      addRow(re, im, n, i, column + 1, -mRe, -mIm);
      addColumn(re, im, n, column + 1, i, mRe, mIm);
    }
  }
}

function size(re: Float64Array, im: Float64Array, at: number): number {
  return Math.abs(re[at]!) + Math.abs(im[at]!);
}

function exchange(re: Float64Array, im: Float64Array, n: number, a: number, b: number): void {
  for (const x of [re, im]) {
    for (let k = 0; k < n; k++) [x[a * n + k], x[b * n + k]] = [x[b * n + k]!, x[a * n + k]!];
    for (let k = 0; k < n; k++) [x[k * n + a], x[k * n + b]] = [x[k * n + b]!, x[k * n + a]!];
  }
}

function addRow(
  re: Float64Array,
  im: Float64Array,
  n: number,
  to: number,
  from: number,
  mRe: number,
  mIm: number,
): void {
  for (let k = 0; k < n; k++) {
    const r = re[from * n + k]!;
    const i = im[from * n + k]!;
    re[to * n + k]! += mRe * r - mIm * i;
    im[to * n + k]! += mRe * i + mIm * r;
  }
}

function addColumn(
  re: Float64Array,
  im: Float64Array,
  n: number,
  to: number,
  from: number,
  mRe: number,
  mIm: number,
): void {
  for (let k = 0; k < n; k++) {
    const r = re[k * n + from]!;
    const i = im[k * n + from]!;
    re[k * n + to]! += mRe * r - mIm * i;
    im[k * n + to]! += mRe * i + mIm * r;
  }
}

/** One shifted QR sweep A - s = QR, A = RQ + s on the active block [start, end] of a Hessenberg matrix. */
function qrSweep(re: Float64Array, im: Float64Array, n: number, start: number, end: number, sweep: number): void {
  const shift = wilkinsonShift(re, im, n, end, sweep);
  for (let i = start; i <= end; i++) {
    re[i * n + i]! -= shift.re;
    im[i * n + i]! -= shift.im;
  }
  const rotations: [number, number, number][] = [];
  for (let k = start; k < end; k++) {
    const a = k * n + k;
    const b = (k + 1) * n + k;
    const length = Math.hypot(re[a]!, im[a]!, re[b]!, im[b]!);
    const c = length === 0 ? 1 : Math.hypot(re[a]!, im[a]!) / length;
    const phase = Math.atan2(im[b]!, re[b]!) - Math.atan2(im[a]!, re[a]!);
    const s = length === 0 ? 0 : Math.hypot(re[b]!, im[b]!) / length;
    const rotation: [number, number, number] = [c, s * Math.cos(phase), s * Math.sin(phase)];
    rotateRows(re, im, n, k, end, rotation);
    rotations.push(rotation);
  }
  rotations.forEach((rotation, i) => {
    rotateColumns(re, im, n, start, start + i, end, rotation);
  });
  for (let i = start; i <= end; i++) {
    re[i * n + i]! += shift.re;
    im[i * n + i]! += shift.im;
  }
}

/** [x; y] := [c, conj(s); -s, c] [x; y] for rows k, k + 1. */
function rotateRows(
  re: Float64Array,
  im: Float64Array,
  n: number,
  k: number,
  end: number,
  rot: readonly number[],
): void {
  const [c, sRe, sIm] = rot as [number, number, number];
  for (let j = k; j <= end; j++) {
    const x = k * n + j;
    const y = x + n;
    const [xr, xi, yr, yi] = [re[x]!, im[x]!, re[y]!, im[y]!];
    re[x] = c * xr + sRe * yr + sIm * yi;
    im[x] = c * xi + sRe * yi - sIm * yr;
    re[y] = c * yr - (sRe * xr - sIm * xi);
    im[y] = c * yi - (sRe * xi + sIm * xr);
  }
}

/** The adjoint of {@link rotateRows} applied to columns k, k + 1 from the right. */
function rotateColumns(
  re: Float64Array,
  im: Float64Array,
  n: number,
  start: number,
  k: number,
  end: number,
  rot: readonly number[],
): void {
  const [c, sRe, sIm] = rot as [number, number, number];
  const last = Math.min(k + 1, end);
  for (let i = start; i <= last; i++) {
    const x = i * n + k;
    const y = x + 1;
    const [xr, xi, yr, yi] = [re[x]!, im[x]!, re[y]!, im[y]!];
    re[x] = c * xr + sRe * yr - sIm * yi;
    im[x] = c * xi + sRe * yi + sIm * yr;
    re[y] = c * yr - (sRe * xr + sIm * xi);
    im[y] = c * yi - (sRe * xi - sIm * xr);
  }
}

/** Eigenvalue of the last 2 x 2 block nearer its corner; every eleventh sweep a nudge against cycling. */
function wilkinsonShift(
  re: Float64Array,
  im: Float64Array,
  n: number,
  end: number,
  sweep: number,
): { re: number; im: number } {
  const d = end * n + end;
  const c = d - 1;
  const b = d - n;
  const a = b - 1;
  if (sweep % 11 === 10) return { re: re[d]! + Math.hypot(re[c]!, im[c]!), im: im[d]! };
  const halfRe = (re[a]! - re[d]!) / 2;
  const halfIm = (im[a]! - im[d]!) / 2;
  const bcRe = re[b]! * re[c]! - im[b]! * im[c]!;
  const bcIm = re[b]! * im[c]! + im[b]! * re[c]!;
  const rootArgRe = halfRe * halfRe - halfIm * halfIm + bcRe;
  const rootArgIm = 2 * halfRe * halfIm + bcIm;
  const modulus = Math.sqrt(Math.hypot(rootArgRe, rootArgIm));
  const angle = Math.atan2(rootArgIm, rootArgRe) / 2;
  let rootRe = modulus * Math.cos(angle);
  let rootIm = modulus * Math.sin(angle);
  if (rootRe * halfRe + rootIm * halfIm > 0) {
    rootRe = -rootRe;
    rootIm = -rootIm;
  }
  return { re: re[d]! + halfRe + rootRe, im: im[d]! + halfIm + rootIm };
}
