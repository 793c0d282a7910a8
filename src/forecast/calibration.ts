// Agreeing with the bench: properties of wood and rim are moved within their stated spreads until the modes computed fit
// the modes measured, and a fit that stays bad is said to be bad.
import { inverseOfPositive, solveLinear } from '../algebra/small-matrix.ts';
import { type PlateCase, supportOf, type WoodConstants } from '../plate/plate-case.ts';
import { type PlateMode, type PlateModes, type PreparedPlate, plateModes } from '../plate/plate-modes.ts';
import { changesBetween, type UpAndDown } from '../plate/sensitivity.ts';
import { type Estimate, estimate } from '../quantity/estimate.ts';
import { matched } from './shape-match.ts';

/** A property the fit may move. Every parameter is a factor on the drawn value; its logarithm is what is fitted. */
export type Property =
  | 'plate eL'
  | 'plate eR'
  | 'plate gLR'
  | 'plate density'
  | 'brace eL'
  | 'brace gLR'
  | 'rim stiffness';

/** A property with how well it is known beforehand. */
export interface Parameter {
  readonly property: Property;
  /** One sigma of its logarithm: 0.1 means known to about 10 %. */
  readonly relativeSigma: number;
}

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

export interface ModeFit {
  readonly mode: number;
  readonly measured: Estimate;
  readonly computedHz: number;
  /** measured less computed, with the spread of measurement and model together */
  readonly apart: Estimate;
  readonly residualSigmas: number;
}

export type CalibrationAnswer =
  | Calibration
  | { readonly kind: 'unsolvable' }
  | { readonly kind: 'no-such-mode'; readonly mode: number };

/**
 * Error of the model itself, as a share of each frequency (one sigma), added to the spread of a measurement in a fit.
 * Source: solid models in tests/reference, median error of braced tops.
 */
export const MODEL_ERROR_SHARE = 0.01;

/** Residuals beyond this many sigmas are called a misfit. */
const MISFIT_SIGMAS = 3;

const STEP = 0.01;
const ITERATIONS = 6;

/**
 * Fits properties to measured modes by regularised Gauss-Newton steps.
 * @param plate           the drawing with handbook or measured properties
 * @param measured        at least one mode
 * @param parameters      properties that may move, with their priors
 * @param modelErrorShare see MODEL_ERROR_SHARE
 * @param from            where to start, if known; else the drawn properties
 * Source: Tarantola 2005, Inverse Problem Theory, section 3.2.3 (Gaussian priors, least squares).
 */
export function calibrate(
  prepared: PreparedPlate,
  plate: PlateCase,
  measured: readonly MeasuredMode[],
  parameters: readonly Parameter[],
  modelErrorShare = MODEL_ERROR_SHARE,
  from?: FitStart,
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
  return finished(prepared, state!, measured, parameters, logs, weights);
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
  const pairs = matched(prepared, reference, modes.modes);
  const ordered = pairs.map(({ partner }) => modes.modes[partner]!);
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
  return { normal, right };
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
): Calibration {
  const { normal } = normalEquations(prepared, state, measured, parameters, logs, weights);
  const covariance = inverseOfPositive(normal);
  const fits = measured.map(({ mode, frequencyHz }, m): ModeFit => {
    const computedHz = state.partners[m]!.frequencyHz;
    const apart = estimate(frequencyHz.value - computedHz, 1 / Math.sqrt(weights[m]!));
    return { mode, measured: frequencyHz, computedHz, apart, residualSigmas: apart.value / apart.sigma };
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
  };
}

/** Change of each mode per unit of each parameter's logarithm, Hz, rows by mode. */
export function slopesOf(
  prepared: PreparedPlate,
  plate: PlateCase,
  modes: readonly PlateMode[],
  parameters: readonly Parameter[],
): number[][] {
  const steps = parameters.map((parameter): UpAndDown => {
    const [up, down] = [STEP, -STEP].map((log) => withFactors(plate, [parameter], [Math.exp(log)]));
    return [up!, down!];
  });
  const columns = changesBetween(prepared, modes, steps).map((changes) => changes.map((change) => change / (2 * STEP)));
  return modes.map((_, m) => columns.map((column) => column[m]!));
}

/** Spread of linear functions of the parameters (rows of slopes) from what the fit leaves open. */
export function frequencySigmas(
  slopes: readonly (readonly number[])[],
  { covariance }: Pick<Calibration, 'covariance'>,
): number[] {
  return slopes.map((row) =>
    Math.sqrt(
      Math.max(
        0,
        row.reduce((sum, a, p) => sum + row.reduce((inner, b, q) => inner + a * covariance[p]![q]! * b, 0), 0),
      ),
    ),
  );
}

/** A case with its properties multiplied by factors. */
export function withFactors(plate: PlateCase, parameters: readonly Parameter[], factors: readonly number[]): PlateCase {
  return parameters.reduce((changed, { property }, p) => withFactor(changed, property, factors[p]!), plate);
}

function withFactor(plate: PlateCase, property: Property, factor: number): PlateCase {
  const braces = (change: (wood: WoodConstants) => WoodConstants): PlateCase => ({
    ...plate,
    ...(plate.braces && { braces: plate.braces.map((brace) => ({ ...brace, material: change(brace.material) })) }),
  });
  const { material } = plate;
  switch (property) {
    case 'plate eL':
      return { ...plate, material: { ...material, eL: material.eL * factor } };
    case 'plate eR':
      return { ...plate, material: { ...material, eR: material.eR * factor } };
    case 'plate gLR':
      return { ...plate, material: { ...material, gLR: material.gLR * factor } };
    case 'plate density':
      return { ...plate, material: { ...material, densityKgM3: material.densityKgM3 * factor } };
    case 'brace eL':
      return braces((wood) => ({ ...wood, eL: wood.eL * factor }));
    case 'brace gLR':
      return braces((wood) => ({ ...wood, gLR: wood.gLR * factor, gLT: wood.gLT * factor }));
    case 'rim stiffness': {
      const { kind, pinnedAt, rotationalStiffnessN } = supportOf(plate);
      if (kind !== 'hinged') return plate;
      return { ...plate, edge: { kind, pinnedAt, rotationalStiffnessN: rotationalStiffnessN * factor } };
    }
  }
}
