// The computed top held against the bench: woods fitted to the first measured step, then every later step forecast with
// them and held against what was tapped. Nothing of a later step goes into its own forecast.
import { distinctModeNames } from '../plate/mode-name.ts';
import { deflection, sampled, steepness } from '../plate/mode-shape.ts';
import type { PlateCase } from '../plate/plate-case.ts';
import { type PlateMode, type PlateModes, type PreparedPlate, plateModes, preparePlate } from '../plate/plate-modes.ts';
import type { Prepare } from '../plate/prepared-plates.ts';
import { difference, type Estimate, estimate } from '../quantity/estimate.ts';
import { asDrawn, type Calibration, calibrate, type FitStart } from './calibration.ts';
import { type ComputedMode, type HeardAt, type MeasuredPair, pairMeasured } from './measured-match.ts';
import { type Parameter, slopesOf, withFactors } from './properties.ts';
import { followedModes } from './shape-match.ts';
import { agrees, moveSigmas, type Solved, spreadFactorOf } from './shaving.ts';

/** A mode as it was tapped. */
export interface TappedTopMode {
  readonly name: string | undefined;
  readonly frequencyHz: Estimate;
  /** how loud it rang at the spots that the drawing knows */
  readonly heardAt?: readonly HeardAt[];
}

/** A step that was tapped, with the plate as it then was. All plates have the same lines. */
export interface MeasuredStep {
  readonly stepId: string;
  readonly plate: PlateCase;
  readonly modes: readonly TappedTopMode[];
}

/** What one mode did from one measured step to the next, forecast and tapped. */
export interface PastMove {
  readonly stepId: string;
  /** rank of the computed mode */
  readonly mode: number;
  readonly forecast: Estimate;
  readonly measured: Estimate;
  readonly agrees: boolean;
}

export interface TopAgreement {
  readonly kind: 'agreement';
  readonly names: readonly string[];
  /** which computed modes the fit used, and how they were told apart */
  readonly pairedBy: readonly MeasuredPair['by'][];
  readonly first: FitSummary;
  /** the same woods fitted to the latest step: what the advice works with */
  readonly latest: FitSummary;
  readonly past: readonly PastMove[];
  /** how much wider than by themselves forecasts are to be stated now, for how the past ones fared */
  readonly spreadFactor: number;
}

export type FitSummary = Pick<
  Calibration,
  'parameters' | 'factors' | 'fits' | 'misfitPerMode' | 'isMisfit' | 'farProperties'
>;

export type TopAgreementAnswer =
  | TopAgreement
  | { readonly kind: 'unsolvable' }
  /** no measured mode could be told to be a computed one */
  | { readonly kind: 'nothing-in-common' };

/** A step that moves a computed mode by less was no cut: rounding of the solver. */
const NO_MOVE_HZ = 1e-4;

/** How many modes are computed to be matched. */
const COMPUTED_MODES = 8;

/**
 * Fits and looks back.
 * @param steps      in order, at least one
 * @param parameters properties that may move, with their spreads
 */
export function topAgreement(
  steps: readonly MeasuredStep[],
  parameters: readonly Parameter[],
  onProgress: (share: number) => void = () => undefined,
  prepare: Prepare = preparePlate,
): TopAgreementAnswer {
  const first = steps[0];
  const last = steps.at(-1);
  if (first === undefined || last === undefined) throw new RangeError('topAgreement: no steps, need at least one');
  const prepared = prepare(first.plate);
  const start = plateModes(prepared, first.plate, { count: COMPUTED_MODES });
  if (start.kind !== 'modes') return { kind: 'unsolvable' };
  onProgress(0.1);
  const named = namedModes(prepared, start.modes);
  const pairs = steps.map((step) => trusted(named, step.modes));
  const fitted = fitTo(prepared, first, pairs[0]!, parameters, asDrawn(start, parameters));
  if (fitted.kind !== 'calibrated') return { kind: fitted.kind === 'nothing-in-common' ? fitted.kind : 'unsolvable' };
  onProgress(0.35);
  const factors = fitted.factors.map(({ value }) => value);
  const back = lookBack(prepared, steps, pairs, fitted, (share) => onProgress(0.35 + 0.4 * share));
  // The last step as looked back at is where its own fit starts: the same woods, the modes in the same order.
  const from = back && { factors, modes: back.last };
  const latest = steps.length === 1 ? fitted : fitTo(prepared, last, pairs.at(-1)!, parameters, from);
  const past = back?.moves ?? [];
  onProgress(1);
  return {
    kind: 'agreement',
    names: named.map(({ name }) => name),
    pairedBy: [...new Set(pairs[0]!.map(({ by }) => by))],
    first: summary(fitted),
    latest: summary(latest.kind === 'calibrated' ? latest : { ...fitted, factors: factors.map((f) => estimate(f, 0)) }),
    past,
    spreadFactor: spreadFactorOf(past),
  };
}

const summary = ({ parameters, factors, fits, misfitPerMode, isMisfit, farProperties }: FitSummary): FitSummary => ({
  parameters,
  factors,
  fits,
  misfitPerMode,
  isMisfit,
  farProperties,
});

/** Computed modes with their names and shapes, ready to be told from one another. */
export function namedModes(prepared: PreparedPlate, modes: readonly PlateMode[]) {
  const { mesh, support } = prepared;
  const shapes = modes.map((mode) => deflection(prepared, mode));
  const names = distinctModeNames(mesh, shapes, support.kind === 'free');
  return modes.map(({ frequencyHz }, i): ComputedMode & { readonly name: string } => ({
    name: names[i]!,
    frequencyHz,
    deflectionAt: (at) => sampled(mesh, shapes[i]!, [at])[0],
    steepnessAt: (at) => steepness(mesh, shapes[i]!, [at])[0],
  }));
}

/** Names decide, and so do several spots; only where there is neither is frequency trusted alone. */
export function trusted(computed: readonly ComputedMode[], tapped: readonly TappedTopMode[]): readonly MeasuredPair[] {
  const pairs = pairMeasured(
    computed,
    tapped.map((mode) => ({ ...mode, frequencyHz: mode.frequencyHz.value })),
  );
  const sure = pairs.filter(({ by }) => by !== 'frequency');
  return sure.length > 0 ? sure : pairs;
}

/**
 * A drawing fitted to what was tapped of it; undefined where nothing tapped could be told to be a computed mode, or no fit was found.
 * @param start modes of the drawing on the prepared plate
 */
export function fittedTo(
  prepared: PreparedPlate,
  plate: PlateCase,
  start: PlateModes,
  tapped: readonly TappedTopMode[],
  parameters: readonly Parameter[],
): Calibration | undefined {
  const pairs = trusted(namedModes(prepared, start.modes), tapped);
  const fitted = fitTo(prepared, { plate, modes: tapped }, pairs, parameters, asDrawn(start, parameters));
  return fitted.kind === 'calibrated' ? fitted : undefined;
}

function fitTo(
  prepared: PreparedPlate,
  step: Pick<MeasuredStep, 'plate' | 'modes'>,
  pairs: readonly MeasuredPair[],
  parameters: readonly Parameter[],
  from: FitStart | undefined,
) {
  const measured = pairs.map((pair) => ({
    mode: pair.computed,
    frequencyHz: step.modes[pair.measured]!.frequencyHz,
  }));
  if (measured.length === 0) return { kind: 'nothing-in-common' } as const;
  return calibrate(prepared, step.plate, measured, parameters, { from });
}

function lookBack(
  prepared: PreparedPlate,
  steps: readonly MeasuredStep[],
  pairs: readonly (readonly MeasuredPair[])[],
  fit: Calibration,
  onProgress: (share: number) => void,
): { readonly moves: readonly PastMove[]; readonly last: PlateModes } | undefined {
  const factors = fit.factors.map(({ value }) => value);
  const moves: PastMove[] = [];
  const solved = (plate: PlateCase, modes: readonly PlateMode[]): Solved => ({
    plate,
    modes,
    slopes: slopesOf(prepared, plate, modes, fit.parameters),
  });
  let before = solved(fit.plate, fit.modes.modes);
  let last = fit.modes;
  let near = fit.modes.modes;
  for (let k = 1; k < steps.length; k++) {
    const step = steps[k]!;
    const earlier = steps[k - 1]!;
    const plate = withFactors(step.plate, fit.parameters, factors);
    const answer = plateModes(prepared, plate, { count: COMPUTED_MODES, near });
    if (answer.kind !== 'modes') return undefined;
    const partners = followedModes(prepared, before.modes, answer.modes, 'heights').map(({ mode }) => mode);
    const after = solved(plate, partners);
    const sigmas = moveSigmas(prepared, before, after, fit);
    const factor = spreadFactorOf(moves);
    const wasTapped = new Map(pairs[k - 1]!.map((pair) => [pair.computed, pair.measured]));
    for (const { computed, measured } of pairs[k]!) {
      const was = wasTapped.get(computed);
      const [from, to] = [before.modes[computed], partners[computed]];
      if (was === undefined || from === undefined || to === undefined) continue;
      const move = to.frequencyHz - from.frequencyHz;
      const isCut = Math.abs(move) > NO_MOVE_HZ;
      const forecast = isCut ? estimate(move, factor * sigmas[computed]!) : estimate(0, 0);
      const tapped = difference(step.modes[measured]!.frequencyHz, earlier.modes[was]!.frequencyHz);
      moves.push({ stepId: step.stepId, mode: computed, forecast, measured: tapped, agrees: agrees(forecast, tapped) });
    }
    before = after;
    last = { ...answer, modes: partners };
    near = answer.modes;
    onProgress(k / (steps.length - 1));
  }
  return { moves, last };
}
