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
  const even = n - (n % 2);
  // Two rows by two columns at a time: every number read serves two products, and four sums do not wait for each other.
  for (let i = 0; i < even; i += 2) {
    const p = i * n;
    const q = p + n;
    solveLowerPair(a, n, i, a, p, q);
    const first = a[p + i]!;
    const second = a[q + i + 1]!;
    let own = first;
    let beside = a[q + i]!;
    let next = second;
    for (let k = 0; k < i; k++) {
      own -= a[p + k]! * a[p + k]!;
      beside -= a[q + k]! * a[p + k]!;
      next -= a[q + k]! * a[q + k]!;
    }
    if (!(own > tiny * first)) return i;
    a[p + i] = Math.sqrt(own);
    a[q + i] = beside / a[p + i]!;
    next -= a[q + i]! * a[q + i]!;
    if (!(next > tiny * second)) return i + 1;
    a[q + i + 1] = Math.sqrt(next);
  }
  if (even === n) return -1;
  const last = even * n;
  const diagonal = a[last + even]!;
  solveLower(a, n, a, last, even);
  let sum = diagonal;
  for (let k = 0; k < even; k++) sum -= a[last + k]! * a[last + k]!;
  if (!(sum > tiny * diagonal)) return even;
  a[last + even] = Math.sqrt(sum);
  return -1;
}

/** Solves L x = b in place for two b, at `p` and `q` of their array, on the first `count` (even) rows of L. */
function solveLowerPair(l: Float64Array, n: number, count: number, b: Float64Array, p: number, q: number): void {
  for (let j = 0; j < count; j += 2) {
    const r = j * n;
    const s = r + n;
    let pr = b[p + j]!;
    let ps = b[p + j + 1]!;
    let qr = b[q + j]!;
    let qs = b[q + j + 1]!;
    for (let k = 0; k < j; k++) {
      const x = b[p + k]!;
      const y = b[q + k]!;
      const u = l[r + k]!;
      const v = l[s + k]!;
      pr -= x * u;
      ps -= x * v;
      qr -= y * u;
      qs -= y * v;
    }
    pr /= l[r + j]!;
    qr /= l[r + j]!;
    b[p + j] = pr;
    b[q + j] = qr;
    b[p + j + 1] = (ps - pr * l[s + j]!) / l[s + j + 1]!;
    b[q + j + 1] = (qs - qr * l[s + j]!) / l[s + j + 1]!;
  }
}

/** Solves L x = b in place for every row b of `b`, (rows, n) row-major; n and the number of rows even. */
export function solveLowerRows(l: Float64Array, n: number, b: Float64Array): void {
  for (let at = 0; at < b.length; at += 2 * n) solveLowerPair(l, n, n, b, at, at + n);
}

/** Solves L x = b in place; `l` from {@link factorInPlace}, b (n,) starting at `offset` of its array; of it the first `count`. */
export function solveLower(l: Float64Array, n: number, b: Float64Array, offset = 0, count = n): void {
  for (let i = 0; i < count; i++) {
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
  return gramOfUpper(inverseOfFactor(l, n), n);
}

/** (L^-1)', upper triangular, (n, n) row-major: A^-1 is it times its transpose, see {@link gramOfUpper}. */
export function inverseOfFactor(l: Float64Array, n: number): Float64Array {
  const out = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const at = i * n;
    // nothing lies before the one of a column of the unit matrix
    out[at + i] = 1 / l[at + i]!;
    let j = i + 1;
    for (; j + 1 < n; j += 2) {
      const r = j * n;
      const s = r + n;
      let first = 0;
      let second = 0;
      for (let k = i; k < j; k++) {
        const x = out[at + k]!;
        first -= l[r + k]! * x;
        second -= l[s + k]! * x;
      }
      first /= l[r + j]!;
      out[at + j] = first;
      out[at + j + 1] = (second - l[s + j]! * first) / l[s + j + 1]!;
    }
    if (j === n) continue;
    let sum = 0;
    for (let k = i; k < j; k++) sum -= l[j * n + k]! * out[at + k]!;
    out[at + j] = sum / l[j * n + j]!;
  }
  return out;
}

/** R R' of an upper triangular R, (n, n) row-major. */
export function gramOfUpper(r: Float64Array, n: number): Float64Array {
  const out = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const p = i * n;
    let j = i;
    for (; j + 1 < n; j += 2) {
      const q = j * n;
      let first = 0;
      let second = 0;
      for (let k = j; k < n; k++) {
        const x = r[p + k]!;
        first += x * r[q + k]!;
        second += x * r[q + n + k]!;
      }
      out[p + j] = first;
      out[p + j + 1] = second;
      out[q + i] = first;
      out[q + n + i] = second;
    }
    if (j === n) continue;
    const corner = r[p + j]! * r[j * n + j]!;
    out[p + j] = corner;
    out[j * n + i] = corner;
  }
  return out;
}
