// Agreeing with the bench: properties of wood and rim are moved within their stated spreads until the modes computed fit
// the modes measured, and a fit that stays bad is said to be bad.
import { inverseOfPositive, solveLinear } from '../algebra/small-matrix.ts';
import type { PlateCase } from '../plate/plate-case.ts';
import { type PlateMode, type PlateModes, type PreparedPlate, plateModes } from '../plate/plate-modes.ts';
import { type Estimate, estimate } from '../quantity/estimate.ts';
import {
  computedEstimates,
  MODEL_ERROR_SHARE,
  type Parameter,
  type Property,
  slopesOf,
  withFactors,
} from './properties.ts';
import { followedModes } from './shape-match.ts';

/** A measured mode and which computed mode it is (rank from 0, matched beforehand by frequency and spots). */
export interface MeasuredMode {
  readonly mode: number;
  readonly frequencyHz: Estimate;
}

/** What a fit found. */
export interface Calibration {
  readonly kind: 'calibrated';
  readonly plate: PlateCase;
  readonly modes: PlateModes;
  readonly parameters: readonly Parameter[];
  /** Factor on each drawn property, with its spread after the fit. */
  readonly factors: readonly Estimate[];
  /** Covariance of the logarithms of the factors, rows. */
  readonly covariance: readonly (readonly number[])[];
  readonly fits: readonly ModeFit[];
  /** Mean square of measured minus computed in sigmas, priors included, per measured mode; about 1 or less when all is well. */
  readonly misfitPerMode: number;
  /** True when the measured modes cannot be explained within the stated spreads: look for a loose brace or a wrong match. */
  readonly isMisfit: boolean;
  /** Properties that the taps put further from what was stated than its spread allows: a wrong statement, or a wrong drawing. */
  readonly farProperties: readonly Property[];
}

/** Where a fit may start: factors on the drawn properties and the modes they give, ranked as those measured are. */
export interface FitStart {
  readonly factors: readonly number[];
  readonly modes: PlateModes;
}

/** The drawing as it is, as the start of a fit. */
export const asDrawn = (modes: PlateModes, parameters: readonly Parameter[]): FitStart => ({
  factors: parameters.map(() => 1),
  modes,
});

export interface CalibrationOptions {
  readonly from?: FitStart | undefined;
  readonly modelErrorShare?: number;
}

interface ModeFit {
  readonly mode: number;
  readonly measured: Estimate;
  /** after the fit, with what it leaves open and the error of the model */
  readonly computed: Estimate;
  /** measured less computed, with the spread of measurement and model together */
  readonly apart: Estimate;
  readonly residualSigmas: number;
}

export type CalibrationAnswer =
  | Calibration
  | { readonly kind: 'unsolvable' }
  | { readonly kind: 'no-such-mode'; readonly mode: number };

/** Residuals beyond this many sigmas are called a misfit, and a property beyond as many is told. */
const MISFIT_SIGMAS = 3;

const ITERATIONS = 6;

/**
 * Fits properties to measured modes by regularised Gauss-Newton steps.
 * @param plate      the drawing with handbook or measured properties
 * @param measured   at least one mode
 * @param parameters properties that may move, with their priors
 * @param options.from            where to start, if known; else the drawn properties
 * @param options.modelErrorShare see MODEL_ERROR_SHARE
 * Source: Tarantola 2005, Inverse Problem Theory, section 3.2.3 (Gaussian priors, least squares).
 */
export function calibrate(
  prepared: PreparedPlate,
  plate: PlateCase,
  measured: readonly MeasuredMode[],
  parameters: readonly Parameter[],
  { from, modelErrorShare = MODEL_ERROR_SHARE }: CalibrationOptions = {},
): CalibrationAnswer {
  if (measured.length === 0) throw new RangeError('calibrate: no measured modes, need at least one');
  const count = Math.max(...measured.map(({ mode }) => mode)) + 3;
  const known = from !== undefined && from.modes.modes.length >= count ? from : undefined;
  const start = known?.modes ?? plateModes(prepared, plate, { count });
  if (start.kind !== 'modes') return { kind: 'unsolvable' };
  const reference = start.modes.slice(0, count);
  const missing = measured.find(({ mode }) => mode < 0 || mode >= reference.length);
  if (missing !== undefined) return { kind: 'no-such-mode', mode: missing.mode };
  const weights = measured.map(
    ({ frequencyHz }) => 1 / Math.hypot(frequencyHz.sigma, modelErrorShare * frequencyHz.value) ** 2,
  );
  let logs = known?.factors.map(Math.log) ?? parameters.map(() => 0);
  let state = evaluate(prepared, plate, reference, measured, parameters, logs, start);
  for (let i = 0; i < ITERATIONS; i++) {
    const { normal, right } = normalEquations(prepared, state, measured, parameters, logs, weights);
    const step = solveLinear(normal, right);
    let share = 1;
    let next: State | undefined;
    for (; share > 0.05; share /= 2) {
      const trial = logs.map((log, p) => log + share * step[p]!);
      next = evaluate(prepared, plate, reference, measured, parameters, trial);
      if (
        next !== undefined &&
        cost(next, measured, parameters, trial, weights) <= cost(state!, measured, parameters, logs, weights)
      ) {
        logs = trial;
        break;
      }
      next = undefined;
    }
    if (next === undefined) break;
    state = next;
    if (Math.max(...step.map((s, p) => Math.abs(s) / parameters[p]!.relativeSigma)) < 1e-3) break;
  }
  return finished(prepared, state!, measured, parameters, logs, weights, modelErrorShare);
}

interface State {
  readonly plate: PlateCase;
  readonly modes: PlateModes;
  /** The computed partner of each measured mode. */
  readonly partners: readonly PlateMode[];
}

function evaluate(
  prepared: PreparedPlate,
  plate: PlateCase,
  reference: readonly PlateMode[],
  measured: readonly MeasuredMode[],
  parameters: readonly Parameter[],
  logs: readonly number[],
  known?: PlateModes,
): State | undefined {
  const changed = withFactors(plate, parameters, logs.map(Math.exp));
  const modes = known ?? plateModes(prepared, changed, { count: reference.length, near: reference });
  if (modes.kind !== 'modes') return undefined;
  const ordered = followedModes(prepared, reference, modes.modes, 'woods').map(({ mode }) => mode);
  return { plate: changed, modes: { ...modes, modes: ordered }, partners: measured.map(({ mode }) => ordered[mode]!) };
}

function normalEquations(
  prepared: PreparedPlate,
  state: State | undefined,
  measured: readonly MeasuredMode[],
  parameters: readonly Parameter[],
  logs: readonly number[],
  weights: readonly number[],
) {
  const slopes = slopesOf(prepared, state!.plate, state!.partners, parameters);
  const normal = parameters.map((a, p) =>
    parameters.map(
      (_, q) =>
        slopes.reduce((sum, row, m) => sum + weights[m]! * row[p]! * row[q]!, 0) +
        (p === q ? 1 / a.relativeSigma ** 2 : 0),
    ),
  );
  const right = parameters.map(
    (a, p) =>
      slopes.reduce(
        (sum, row, m) =>
          sum + weights[m]! * row[p]! * (measured[m]!.frequencyHz.value - state!.partners[m]!.frequencyHz),
        0,
      ) -
      logs[p]! / a.relativeSigma ** 2,
  );
  return { slopes, normal, right };
}

function cost(
  state: State,
  measured: readonly MeasuredMode[],
  parameters: readonly Parameter[],
  logs: readonly number[],
  weights: readonly number[],
): number {
  const data = measured.reduce(
    (sum, { frequencyHz }, m) => sum + weights[m]! * (frequencyHz.value - state.partners[m]!.frequencyHz) ** 2,
    0,
  );
  return data + parameters.reduce((sum, { relativeSigma }, p) => sum + (logs[p]! / relativeSigma) ** 2, 0);
}

function finished(
  prepared: PreparedPlate,
  state: State,
  measured: readonly MeasuredMode[],
  parameters: readonly Parameter[],
  logs: readonly number[],
  weights: readonly number[],
  modelErrorShare: number,
): Calibration {
  const { normal, slopes } = normalEquations(prepared, state, measured, parameters, logs, weights);
  const covariance = inverseOfPositive(normal);
  const computedHz = computedEstimates(state.partners, slopes, covariance, modelErrorShare);
  const fits = measured.map(({ mode, frequencyHz }, m): ModeFit => {
    const computed = computedHz[m]!;
    const apart = estimate(frequencyHz.value - computed.value, 1 / Math.sqrt(weights[m]!));
    return { mode, measured: frequencyHz, computed, apart, residualSigmas: apart.value / apart.sigma };
  });
  const misfitPerMode = cost(state, measured, parameters, logs, weights) / measured.length;
  return {
    kind: 'calibrated',
    plate: state.plate,
    modes: state.modes,
    parameters,
    factors: logs.map((log, p) => estimate(Math.exp(log), Math.exp(log) * Math.sqrt(covariance[p]![p]!))),
    covariance,
    fits,
    misfitPerMode,
    isMisfit:
      fits.some(({ residualSigmas }) => Math.abs(residualSigmas) > MISFIT_SIGMAS) ||
      misfitPerMode > 1 + 3 * Math.sqrt(2 / measured.length),
    farProperties: parameters.flatMap(({ property, relativeSigma }, p) =>
      Math.abs(logs[p]!) > MISFIT_SIGMAS * relativeSigma ? [property] : [],
    ),
  };
}
