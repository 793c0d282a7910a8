// The lowest vibration modes of K x = lambda M x by shift-invert Lanczos with full reorthogonalisation. The shift is
// negative, so K - shift M is positive definite even for a free body, and known rigid motions are kept out exactly.
import { type BlockPattern, dofCount, multiplyEntries, nonZeroEntries, type SparseEntries } from './block-symmetric.ts';
import { type Cholesky, solve } from './cholesky.ts';
import { tridiagonalEigen } from './tridiagonal.ts';

/** Modes of a pencil: values ascending, vectors M-orthonormal. */
interface LanczosModes {
  readonly values: Float64Array;
  readonly vectors: readonly Float64Array[];
  readonly steps: number;
}

export interface LanczosOptions {
  readonly count: number;
  /** Shift of the factor handed in: it must be a factor of K - shift M. */
  readonly shift: number;
  /** Motions with K v = 0 to keep out, any scale, linearly independent. */
  readonly rigid: readonly Float64Array[];
  /** Relative accuracy of the values, > 0. */
  readonly tolerance: number;
  readonly maxSteps: number;
  /** A vector rich in the wanted modes, for example the sum of the modes before a small change: it saves steps. */
  readonly start?: Float64Array | undefined;
  /** Called after each step with a share of the work done between 0 and 1; return false to stop. */
  readonly onProgress?: (share: number) => boolean | undefined;
}

export type LanczosAnswer =
  | ({ readonly kind: 'modes' } & LanczosModes)
  | { readonly kind: 'cancelled' }
  | { readonly kind: 'not-converged'; readonly converged: number };

/**
 * The lowest modes that are not rigid.
 * @param pattern    pattern shared by the factor and the mass
 * @param factor     Cholesky factor of K - shift M
 * @param massValues blocks of M
 * Source: Ericsson and Ruhe 1980, Math. Comp. 35, 1251 (spectral transformation Lanczos).
 */
export function lowestModes(
  pattern: BlockPattern,
  factor: Cholesky,
  massValues: Float64Array,
  options: LanczosOptions,
): LanczosAnswer {
  const n = dofCount(pattern);
  const { count, shift, tolerance } = options;
  if (count < 1) throw new RangeError(`lowestModes: count ${count}, need at least 1`);
  const maxSteps = Math.min(options.maxSteps, n - options.rigid.length);
  const basis: Float64Array[] = [];
  const massBasis: Float64Array[] = [];
  const mass = nonZeroEntries(pattern, massValues);
  const rigid = massOrthonormal(mass, options.rigid);
  const alpha: number[] = [];
  const beta: number[] = [];
  let vector = startVector(n);
  let massVector = new Float64Array(n);
  if (options.start !== undefined) enrich(mass, vector, options.start);
  removeComponents(vector, rigid.vectors, rigid.massVectors);
  multiplyEntries(mass, vector, massVector);
  let norm = Math.sqrt(dot(vector, massVector));
  let converged = 0;
  for (let step = 0; step < maxSteps; step++) {
    scale(vector, 1 / norm);
    scale(massVector, 1 / norm);
    basis.push(vector);
    massBasis.push(massVector);
    const next = massVector.slice();
    solve(factor, next);
    alpha.push(dot(next, massVector));
    // The two latest first, where nearly all of it lies, so that the pass over all of them leaves no rounding that would
    // let already found modes come back as ghosts: twice is enough (Parlett 1980, section 6.9).
    removeComponents(next, basis.slice(-2), massBasis.slice(-2));
    removeComponents(next, rigid.vectors, rigid.massVectors);
    removeComponents(next, basis, massBasis);
    vector = next;
    massVector = new Float64Array(n);
    multiplyEntries(mass, vector, massVector);
    norm = Math.sqrt(Math.max(0, dot(vector, massVector)));
    beta.push(norm);
    if (options.onProgress?.(Math.min(1, (step + 1) / (2 * count + 8))) === false) return { kind: 'cancelled' };
    const last = step + 1 === maxSteps || norm < 1e-14 * Math.abs(alpha[0]!);
    if (step + 1 < count || (!last && (step + 1) % 2 !== 0)) continue;
    const small = tridiagonalEigen(alpha, beta.slice(0, -1));
    converged = convergedCount(small.values, small.vectors, norm, tolerance);
    if (converged < count && !last) continue;
    if (Math.min(converged, alpha.length) < count) break;
    return { kind: 'modes', ...unfold(small, basis, count, shift), steps: alpha.length };
  }
  return { kind: 'not-converged', converged };
}

/** How many of the largest Ritz values are settled: the error of an eigenvalue is at most residual^2 / gap. */
function convergedCount(values: Float64Array, vectors: Float64Array, beta: number, tolerance: number): number {
  const n = values.length;
  for (let k = n - 1; k >= 0; k--) {
    const residual = Math.abs(beta * vectors[k * n + n - 1]!);
    const below = k > 0 ? values[k]! - values[k - 1]! : Number.POSITIVE_INFINITY;
    const bound = Math.min(residual, residual ** 2 / Math.max(below, residual));
    if (bound > tolerance * Math.abs(values[k]!)) return n - 1 - k;
  }
  return n;
}

function unfold(
  small: { readonly values: Float64Array; readonly vectors: Float64Array },
  basis: readonly Float64Array[],
  count: number,
  shift: number,
): { readonly values: Float64Array; readonly vectors: Float64Array[] } {
  const m = small.values.length;
  const length = basis[0]!.length;
  const values = new Float64Array(count);
  const vectors: Float64Array[] = [];
  for (let k = 0; k < count; k++) {
    const at = m - 1 - k;
    values[k] = shift + 1 / small.values[at]!;
    const vector = new Float64Array(length);
    for (let i = 0; i < m; i++) addScaled(vector, basis[i]!, small.vectors[at * m + i]!);
    vectors.push(vector);
  }
  return { values, vectors };
}

function massOrthonormal(mass: SparseEntries, given: readonly Float64Array[]) {
  const vectors: Float64Array[] = [];
  const massVectors: Float64Array[] = [];
  for (const raw of given) {
    const vector = raw.slice();
    for (let pass = 0; pass < 2; pass++) removeComponents(vector, vectors, massVectors);
    const massVector = new Float64Array(vector.length);
    multiplyEntries(mass, vector, massVector);
    const norm = Math.sqrt(dot(vector, massVector));
    scale(vector, 1 / norm);
    scale(massVector, 1 / norm);
    vectors.push(vector);
    massVectors.push(massVector);
  }
  return { vectors, massVectors };
}

/** Takes the components along a basis out of x, four basis vectors at a time to read x less often. */
function removeComponents(x: Float64Array, basis: readonly Float64Array[], massBasis: readonly Float64Array[]): void {
  let k = 0;
  for (; k + 3 < basis.length; k += 4) {
    const [m0, m1, m2, m3] = [massBasis[k]!, massBasis[k + 1]!, massBasis[k + 2]!, massBasis[k + 3]!];
    let c0 = 0;
    let c1 = 0;
    let c2 = 0;
    let c3 = 0;
    for (let i = 0; i < x.length; i++) {
      const xi = x[i]!;
      c0 += xi * m0[i]!;
      c1 += xi * m1[i]!;
      c2 += xi * m2[i]!;
      c3 += xi * m3[i]!;
    }
    const [b0, b1, b2, b3] = [basis[k]!, basis[k + 1]!, basis[k + 2]!, basis[k + 3]!];
    for (let i = 0; i < x.length; i++) x[i]! -= c0 * b0[i]! + c1 * b1[i]! + c2 * b2[i]! + c3 * b3[i]!;
  }
  for (; k < basis.length; k++) addScaled(x, basis[k]!, -dot(x, massBasis[k]!));
}

/** A fixed start without symmetry, so that no mode of a symmetric plate is missed. */
function startVector(n: number): Float64Array {
  let state = 1;
  return Float64Array.from({ length: n }, () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647 - 0.5;
  });
}

/** Share of the fixed start in one given, in the norm of the mass: enough to find a mode that the given one lacks. */
const FIXED_SHARE = 0.1;

function enrich(mass: SparseEntries, vector: Float64Array, start: Float64Array): void {
  const massVector = new Float64Array(vector.length);
  const norm = (x: Float64Array): number => {
    multiplyEntries(mass, x, massVector);
    return Math.sqrt(dot(x, massVector));
  };
  scale(vector, (FIXED_SHARE * norm(start)) / norm(vector));
  addScaled(vector, start, 1);
}

function dot(a: Float64Array, b: Float64Array): number {
  let s0 = 0;
  let s1 = 0;
  const even = a.length & ~1;
  for (let i = 0; i < even; i += 2) {
    s0 += a[i]! * b[i]!;
    s1 += a[i + 1]! * b[i + 1]!;
  }
  return even < a.length ? s0 + s1 + a[even]! * b[even]! : s0 + s1;
}

function addScaled(to: Float64Array, from: Float64Array, factor: number): void {
  for (let i = 0; i < to.length; i++) to[i]! += factor * from[i]!;
}

function scale(x: Float64Array, factor: number): void {
  for (let i = 0; i < x.length; i++) x[i]! *= factor;
}
