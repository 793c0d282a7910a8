// Dropping modes from a linear fit one by one without solving it again.
import { factorInPlace, gramOfUpper, inverseOfFactor, solveFactored } from '../../algebra/dense-cholesky.ts';
import { elasticFit } from './elastic.ts';
import type { Projection } from './project.ts';

/**
 * A linear fit from which modes are dropped. With C the inverse of the columns' Gram matrix and c the amplitudes, dropping
 * the columns m of a mode raises the leftover by c_m' (C_mm)^-1 c_m and leaves c - C_m (C_mm)^-1 c_m and
 * C - C_m (C_mm)^-1 C_m' for the others.
 * Source: Golub & Van Loan, Matrix Computations, 4th ed., section 2.1.4 (block inverse), the usual backward elimination.
 */
export class Elimination {
  readonly #n: number;
  /** R of the inverse R R' until a mode is dropped: what one mode explains needs a few numbers of it only */
  readonly #root: Float64Array;
  #inverse: Float64Array | undefined;
  readonly #amplitudes: readonly Float64Array[];
  readonly #columns: (mode: number) => number[];

  /** @param elastic whether a mode also has its derivative columns, see {@link elasticFit} */
  constructor(p: Projection, elastic: boolean) {
    const nf = Math.round(Math.sqrt(p.factor.length));
    const n = nf + 2 * p.poles.length;
    const whole = elastic ? p.gram.slice() : p.gram;
    if (elastic && factorInPlace(whole, n, 1e-13) < 0) {
      this.#n = n;
      this.#root = inverseOfFactor(whole, n);
      this.#amplitudes = elasticFit(p).amplitudes.map((c) => c.slice());
      this.#columns = (m) => [2 * m, 2 * m + 1, nf + 2 * m, nf + 2 * m + 1];
      return;
    }
    this.#n = nf;
    this.#root = inverseOfFactor(p.factor, nf);
    this.#amplitudes = p.amplitudes.map((c) => c.slice());
    this.#columns = (m) => [2 * m, 2 * m + 1];
  }

  /** Rise of each tap's leftover if the mode were dropped now, (K,). */
  gains(mode: number): number[] {
    const columns = this.#columns(mode);
    const block = this.#block(columns);
    const x = new Float64Array(columns.length);
    return this.#amplitudes.map((c) => {
      columns.forEach((at, i) => {
        x[i] = c[at]!;
      });
      solveFactored(block, columns.length, x);
      return columns.reduce((sum, at, i) => sum + c[at]! * x[i]!, 0);
    });
  }

  /** Drops a mode; it must not be asked about again. */
  drop(mode: number): void {
    const n = this.#n;
    const inverse = this.#inverse ?? gramOfUpper(this.#root, n);
    this.#inverse = inverse;
    const columns = this.#columns(mode);
    const width = columns.length;
    const block = this.#block(columns);
    const rows = columns.map((at) => inverse.slice(at * n, at * n + n));
    const weights = new Float64Array(n * width);
    for (let r = 0; r < n; r++) {
      for (let i = 0; i < width; i++) weights[r * width + i] = rows[i]![r]!;
      solveFactored(block, width, weights, r * width);
    }
    for (const c of this.#amplitudes) {
      const own = columns.map((at) => c[at]!);
      for (let r = 0; r < n; r++) for (let i = 0; i < width; i++) c[r]! -= weights[r * width + i]! * own[i]!;
    }
    for (let r = 0; r < n; r++) {
      for (let i = 0; i < width; i++) {
        const weight = weights[r * width + i]!;
        const row = rows[i]!;
        for (let k = 0; k < n; k++) inverse[r * n + k]! -= weight * row[k]!;
      }
    }
  }

  /** Factored block of the inverse that belongs to the columns. */
  #block(columns: readonly number[]): Float64Array {
    const width = columns.length;
    const block = new Float64Array(width * width);
    columns.forEach((a, i) => {
      columns.forEach((b, j) => {
        block[i * width + j] = this.#inverse?.[a * this.#n + b] ?? this.#ofRoot(a, b);
      });
    });
    factorInPlace(block, width, 0);
    return block;
  }

  /** One number of R R'. */
  #ofRoot(a: number, b: number): number {
    const n = this.#n;
    let sum = 0;
    for (let k = Math.max(a, b); k < n; k++) sum += this.#root[a * n + k]! * this.#root[b * n + k]!;
    return sum;
  }
}
