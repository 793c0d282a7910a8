// Least squares on the spectral box model: peaks of all rounds at once, each weighted by its own uncertainty.
import { pseudoInverseOfSymmetric, type Rows, times } from '../algebra/small-matrix.ts';
import {
  type LogParameters,
  PARAMETERS,
  type SpectralModes,
  type SpectralState,
  spectralModes,
} from './spectral-model.ts';

/** One measured peak as the fit sees it. */
export interface Observation {
  readonly state: SpectralState;
  /** which mode of that state, from the lowest, 0-based */
  readonly mode: number;
  readonly frequencyHz: number;
  /** Hz, > 0 */
  readonly sigmaHz: number;
}

/** What is known of a parameter before the rounds: its logarithm and standard deviation, > 0. */
export interface Prior {
  readonly parameter: number;
  readonly log: number;
  readonly sigma: number;
}

export interface SpectralFit {
  readonly log: LogParameters;
  /** covariance of the free parameters, (free, free), in the order of `free` */
  readonly covariance: Rows;
  readonly free: readonly number[];
  readonly chiSquared: number;
  /** measured minus fitted over sigma, (observations,) */
  readonly residuals: readonly number[];
}

const MOST_STEPS = 60;
/** Stop when a step changes no parameter by more than this part: far below any reading. */
const SMALLEST_STEP = 1e-8;

/**
 * Fits the free log parameters from a start, by damped Gauss-Newton steps.
 * @param free indices into PARAMETERS that may move, (free,)
 * @returns the fit at the nearest minimum of chi squared
 * Source: Levenberg 1944, Q. Appl. Math. 2:164; Marquardt 1963, J. SIAM 11:431; covariance (J^T W J)^-1: JCGM 102:2011.
 */
export function fitSpectral(
  start: LogParameters,
  free: readonly number[],
  observations: readonly Observation[],
  priors: readonly Prior[],
): SpectralFit {
  let log = start;
  let here = normalEquations(log, free, observations, priors);
  let damping = 1e-3;
  for (let step = 0; step < MOST_STEPS; step++) {
    const damped = here.normal.map((row, i) =>
      row.map((each, j) => (i === j ? each * (1 + damping) + Number.MIN_VALUE : each)),
    );
    // what no peak tells stays where it is
    const trace = damped.reduce((sum, row, i) => sum + row[i]!, 0);
    const change = times(pseudoInverseOfSymmetric(damped, Number.EPSILON * trace), here.gradient);
    const next = log.slice();
    let largest = 0;
    for (let i = 0; i < free.length; i++) {
      // no step beyond a factor e: a far start must not jump into another mode's valley
      const bounded = Math.max(-1, Math.min(1, change[i]!));
      next[free[i]!]! += bounded;
      largest = Math.max(largest, Math.abs(bounded));
    }
    const there = normalEquations(next, free, observations, priors);
    if (there.chiSquared <= here.chiSquared) {
      log = next;
      here = there;
      damping = Math.max(damping / 10, 1e-12);
    } else {
      damping *= 10;
    }
    if (largest < SMALLEST_STEP) break;
  }
  return {
    log,
    free,
    covariance: pseudoInverseOfSymmetric(here.normal, Number.EPSILON),
    chiSquared: here.chiSquared,
    residuals: here.residuals,
  };
}

function normalEquations(
  log: LogParameters,
  free: readonly number[],
  observations: readonly Observation[],
  priors: readonly Prior[],
) {
  const normal = free.map(() => free.map(() => 0));
  const gradient = free.map(() => 0);
  const residuals: number[] = [];
  let chiSquared = 0;
  const add = (residual: number, slope: Float64Array) => {
    chiSquared += residual * residual;
    for (let i = 0; i < free.length; i++) {
      const si = slope[free[i]!]!;
      gradient[i]! += si * residual;
      const row = normal[i]!;
      for (let j = 0; j < free.length; j++) row[j]! += si * slope[free[j]!]!;
    }
  };
  let solved: { readonly state: SpectralState; readonly modes: SpectralModes } | undefined;
  for (const { state, mode, frequencyHz, sigmaHz } of observations) {
    if (solved?.state !== state) solved = { state, modes: spectralModes(log, state) }; // a round's peaks share their state
    const { modes } = solved;
    const residual = (frequencyHz - modes.frequenciesHz[mode]!) / sigmaHz;
    residuals.push(residual);
    add(
      residual,
      modes.jacobian[mode]!.map((slope) => slope / sigmaHz),
    );
  }
  for (const prior of priors) {
    const slope = new Float64Array(PARAMETERS.length);
    slope[prior.parameter] = 1 / prior.sigma;
    add((prior.log - log[prior.parameter]!) / prior.sigma, slope);
  }
  return { normal, gradient, residuals, chiSquared };
}
