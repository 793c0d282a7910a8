// Taps whose poles differ a little. The piece is never held exactly as before, so each tap may shift the common poles by
// a small amount of its own. To first order such a shift adds the derivative columns to the tap's model, with free amplitudes,
// so it costs no further nonlinear search: everything follows from the slopes and curvature of the common fit.
import { factorInPlace, solveFactored } from '../../algebra/dense-cholesky.ts';
import type { Projection } from './project.ts';

/** A fit in which every tap may shift the poles a little. */
export interface Elastic {
  /** of columns, then derivative columns; (K, 2 (M + H) + 2 M) */
  readonly amplitudes: readonly Float64Array[];
  /** sum of squares left over, of each tap, (K,) */
  readonly left: Float64Array;
}

/** Fits so freed already: what is left over is asked again and again. */
const known = new WeakMap<Projection, Elastic>();

/**
 * Lets every tap shift the poles to first order: derivative amplitudes b = S^-1 D'r (S the curvature), leftover less by
 * (D'r)' b, column amplitudes less by (F'F)^-1 F'D b.
 * Source: our derivation, block elimination of [F D]; checked in tests/signal/search/varpro.test.ts.
 */
export function elasticFit(p: Projection): Elastic {
  const before = known.get(p);
  if (before !== undefined) return before;
  const made = freed(p);
  known.set(p, made);
  return made;
}

function freed(p: Projection): Elastic {
  const nf = Math.round(Math.sqrt(p.factor.length));
  const nd = 2 * p.poles.length;
  const n = nf + nd;
  const curvature = p.curvature.slice();
  const solvable = factorInPlace(curvature, nd, 1e-12) < 0;
  const left = p.left.slice();
  const amplitudes = p.amplitudes.map((c, k) => {
    const out = new Float64Array(n);
    out.set(c);
    if (!solvable) return out;
    const slope = p.slopes[k]!;
    const b = slope.slice();
    solveFactored(curvature, nd, b);
    const shift = new Float64Array(nf);
    for (let j = 0; j < nd; j++) {
      left[k]! -= slope[j]! * b[j]!;
      out[nf + j] = b[j]!;
      for (let i = 0; i < nf; i++) shift[i]! += p.gram[i * n + nf + j]! * b[j]!;
    }
    solveFactored(p.factor, nf, shift);
    for (let i = 0; i < nf; i++) out[i]! -= shift[i]!;
    return out;
  });
  return { amplitudes, left };
}
