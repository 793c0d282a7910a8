// Dropping modes from a linear fit one by one without solving it again.
import { inverseOfFactored } from '../algebra/dense-cholesky.ts';
import type { Projection } from './project.ts';

/**
 * A projection from which modes are dropped. With C the inverse of the columns' Gram matrix and c the amplitudes, dropping
 * the two columns of a mode raises the leftover by c_m' (C_mm)^-1 c_m and leaves c - C_m (C_mm)^-1 c_m and
 * C - C_m (C_mm)^-1 C_m' for the others.
 * Source: Golub & Van Loan, Matrix Computations, 4th ed., section 2.1.4 (block inverse), the usual backward elimination.
 */
export class Elimination {
  readonly #n: number;
  readonly #inverse: Float64Array;
  readonly #amplitudes: readonly Float64Array[];

  constructor(p: Projection) {
    this.#n = Math.round(Math.sqrt(p.factor.length));
    this.#inverse = inverseOfFactored(p.factor, this.#n);
    this.#amplitudes = p.amplitudes.map((c) => c.slice());
  }

  /** Rise of each tap's leftover if the mode were dropped now, (K,). */
  gains(mode: number): number[] {
    const [a, b, d] = this.#block(mode);
    const i = 2 * mode;
    return this.#amplitudes.map(
      (c) => (d * c[i]! ** 2 - 2 * b * c[i]! * c[i + 1]! + a * c[i + 1]! ** 2) / (a * d - b * b),
    );
  }

  /** Drops a mode; it must not be asked about again. */
  drop(mode: number): void {
    const n = this.#n;
    const inverse = this.#inverse;
    const [a, b, d] = this.#block(mode);
    const det = a * d - b * b;
    const i = 2 * mode;
    const first = Float64Array.from(
      { length: n },
      (_, r) => (d * inverse[r * n + i]! - b * inverse[r * n + i + 1]!) / det,
    );
    const second = Float64Array.from(
      { length: n },
      (_, r) => (a * inverse[r * n + i + 1]! - b * inverse[r * n + i]!) / det,
    );
    const rowI = inverse.slice(i * n, i * n + n);
    const rowJ = inverse.slice((i + 1) * n, (i + 1) * n + n);
    for (let r = 0; r < n; r++) {
      for (let k = 0; k < n; k++) inverse[r * n + k]! -= first[r]! * rowI[k]! + second[r]! * rowJ[k]!;
    }
    for (const c of this.#amplitudes) {
      const x = c[i]!;
      const y = c[i + 1]!;
      for (let r = 0; r < n; r++) c[r]! -= first[r]! * x + second[r]! * y;
    }
  }

  /** The mode's own 2 x 2 block [a, b; b, d] of the inverse. */
  #block(mode: number): [number, number, number] {
    const at = 2 * mode * (this.#n + 1);
    return [this.#inverse[at]!, this.#inverse[at + 1]!, this.#inverse[at + this.#n + 1]!];
  }
}
