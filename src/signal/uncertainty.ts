// How well the poles of a fit are known: the Cramer-Rao bound at the solution.
import { factorInPlace, inverseOfFactored } from '../algebra/dense-cholesky.ts';
import type { Estimate } from '../quantity/estimate.ts';
import type { Decays, Projection } from './project.ts';
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
  const { matrix } = information(
    p,
    decays.grid.sampleRateHz,
    decays.taps.map((_, k) => k),
  );
  const n = 2 * p.poles.length;
  if (factorInPlace(matrix, n, 1e-13) >= 0) return new Float64Array(n * n).fill(Number.POSITIVE_INFINITY);
  return inverseOfFactored(matrix, n).map((v) => v * noise);
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
