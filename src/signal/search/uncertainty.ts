// How well the poles of a fit are known: the Cramer-Rao bound at the solution.
import { factorInPlace, inverseOfFactored } from '../../algebra/dense-cholesky.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import type { Decays } from '../prepare/hearing.ts';
import type { Projection } from './project.ts';
import { information } from './varpro.ts';

/** A pole with its standard deviations. */
export interface KnownPole {
  readonly frequencyHz: Estimate;
  /** natural logarithm of the decay rate in 1/s */
  readonly lnDecay: Estimate;
}

/**
 * Covariance of (w / a, ln a) of all modes, in that order; (2 M, 2 M) row-major.
 * @param noise variance of the whitened noise (1 where the model explains everything else)
 * Source: inverse Fisher information, for instance Kay, Fundamentals of Statistical Signal Processing I (1993), eq. 3.31;
 * amplitudes eliminated by the Schur complement, taps added before inverting.
 */
export function poleCovariance(decays: Decays, p: Projection, noise: number): Float64Array {
  const { matrix } = information(p, decays.grid.sampleRateHz, decays.taps.keys());
  return inverseInformation(matrix, 2 * p.poles.length).map((v) => v * noise);
}

/**
 * Inverse of a Fisher matrix, destroyed. Where poles nearly coincide and it is singular in double precision, a little
 * curvature is lent to the diagonal until it is not: the variance comes out huge, as it should, but finite.
 */
export function inverseInformation(matrix: Float64Array, n: number): Float64Array {
  for (let lent = 0; lent < 1; lent = Math.max(1e-12, 100 * lent)) {
    const factor = matrix.slice();
    for (let i = 0; i < n; i++) factor[i * n + i] = matrix[i * n + i]! * (1 + lent) + Number.MIN_VALUE;
    if (factorInPlace(factor, n, 1e-14) < 0) return inverseOfFactored(factor, n);
  }
  return new Float64Array(n * n).map((_, i) => (i % (n + 1) === 0 ? 1 : 0));
}

/** The poles of a fit with their standard deviations. */
export function uncertainties(decays: Decays, p: Projection, noise: number): KnownPole[] {
  const n = 2 * p.poles.length;
  const covariance = poleCovariance(decays, p, noise);
  return p.poles.map((pole, m) => ({
    frequencyHz: {
      value: pole.frequencyHz,
      sigma: (Math.sqrt(covariance[2 * m * (n + 1)]!) * pole.decayPerS) / (2 * Math.PI),
    },
    lnDecay: { value: Math.log(pole.decayPerS), sigma: Math.sqrt(covariance[(2 * m + 1) * (n + 1)]!) },
  }));
}
