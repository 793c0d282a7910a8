// Advice for a top as it stands, on the woods that the bench has agreed with.
import type { PlateCase } from '../plate/plate-case.ts';
import { plateModes, preparePlate } from '../plate/plate-modes.ts';
import type { Prepare } from '../plate/prepared-plates.ts';
import { ROTATION_GUIDE_DEG } from '../plate/static-load.ts';
import { type Estimate, estimate, scaled } from '../quantity/estimate.ts';
import { type Advice, type AdviceAnswer, advise, type BraceFloor } from './advice.ts';
import { asDrawn, type Calibration, calibrate } from './calibration.ts';
import { computedFrequencies, type Parameter } from './properties.ts';
import { cutPlate, MOVE_ERROR_SHARE, type ModeMove } from './shaving.ts';
import { type StrungAnswer, type StrungTop, strungAnswer } from './strung.ts';
import { namedModes, type TappedTopMode, trusted } from './top-agreement.ts';

/** What is wanted of a mode, by its name. */
export interface NamedTarget {
  readonly name: string;
  readonly frequencyHz: number;
  readonly toleranceHz: number;
}

export interface AdviceQuestion {
  /** the plate as it stands, and as it stood when it was tapped last; same lines */
  readonly plate: PlateCase;
  readonly tappedPlate: PlateCase;
  readonly tapped: readonly TappedTopMode[];
  readonly parameters: readonly Parameter[];
  readonly targets: readonly NamedTarget[];
  readonly floors: readonly BraceFloor[];
  readonly strung?: StrungTop;
  /** from the record of past forecasts, see `spreadFactorOf` */
  readonly spreadFactor?: number;
}

/** An alternative with what the strings would do to the bridge after it. */
export type CheckedAdvice = Advice & { readonly strung?: StrungAnswer; readonly turnsTooFar: boolean };

export type TopAdvice =
  | Exclude<AdviceAnswer, { kind: 'advice' }>
  | { readonly kind: 'no-such-mode'; readonly name: string }
  | {
      readonly kind: 'advice';
      readonly alternatives: readonly CheckedAdvice[];
      readonly names: readonly string[];
      /** what the strings would do to the bridge before anything is shaved */
      readonly strungNow?: StrungAnswer;
    };

const COMPUTED_MODES = 8;

/** Two or three ways to bring the modes toward their targets. @throws RangeError without a target */
export function topAdvice(
  question: AdviceQuestion,
  onProgress: (share: number) => void = () => undefined,
  prepare: Prepare = preparePlate,
): TopAdvice {
  const { plate, tappedPlate, tapped, parameters, targets } = question;
  if (targets.length === 0) throw new RangeError('topAdvice: no targets, need at least one');
  const prepared = prepare(plate);
  const then = plateModes(prepared, tappedPlate, { count: COMPUTED_MODES });
  if (then.kind !== 'modes') return { kind: 'cannot', because: 'unsolvable' };
  const computed = namedModes(prepared, then.modes);
  const names = computed.map(({ name }) => name);
  const missing = targets.find(({ name }) => !names.includes(name));
  if (missing !== undefined) return { kind: 'no-such-mode', name: missing.name };
  onProgress(0.15);
  const measured = trusted(computed, tapped).map((pair) => ({
    mode: pair.computed,
    frequencyHz: tapped[pair.measured]!.frequencyHz,
  }));
  const fit =
    measured.length === 0
      ? undefined
      : calibrate(prepared, tappedPlate, measured, parameters, { from: asDrawn(then, parameters) });
  onProgress(0.4);
  const calibration = fit?.kind === 'calibrated' ? fit : undefined;
  const base = withWoodsOf(plate, calibration?.plate);
  // a fit follows no more modes than it was measured by
  const isFollowed = plate === tappedPlate && calibration?.modes.modes.length === COMPUTED_MODES;
  const before =
    calibration === undefined || !isFollowed
      ? plateModes(prepared, base, { count: COMPUTED_MODES, near: then.modes })
      : calibration.modes;
  if (before.kind !== 'modes') return { kind: 'cannot', because: 'unsolvable' };
  const computedHz = computedFrequencies(prepared, base, before.modes, parameters, calibration?.covariance);
  const standing = standings(computedHz, calibration, plate === tappedPlate);
  const aims = targets.map(({ name, frequencyHz, toleranceHz }) => {
    const mode = names.indexOf(name);
    const { share } = standing[mode]!;
    return { mode, frequencyHz: frequencyHz / share, toleranceHz: toleranceHz / share };
  });
  const answer = advise(prepared, base, before, aims, question.floors, {}, calibration, question.spreadFactor);
  onProgress(0.95);
  if (answer.kind !== 'advice') return answer;
  // With its bridge glued, whatever it was when tapped, and after the fit: what was measured narrows the woods.
  const strungBy = (shavings: Advice['shavings']): StrungAnswer | undefined => {
    const { strung } = question;
    if (strung === undefined) return undefined;
    const loaded = { ...cutPlate(base, shavings), patches: strung.plate.patches ?? [] };
    return strungAnswer(prepared, { ...strung, plate: loaded, parameters: narrowed(strung.parameters, calibration) });
  };
  const strungNow = strungBy([]);
  const alternatives = answer.alternatives.map((found): CheckedAdvice => {
    const advice = { ...found, moves: found.moves.map((move) => fromBench(move, standing[move.mode]!)) };
    const strung = strungBy(advice.shavings);
    if (strung === undefined) return { ...advice, turnsTooFar: false };
    return { ...advice, strung, turnsTooFar: strung.turnDeg.value > ROTATION_GUIDE_DEG };
  });
  return { kind: 'advice', alternatives, names, ...(strungNow && { strungNow }) };
}

/** Where a mode stands now, and measured over computed: what the fit could not mend stays through a shaving. */
interface Standing {
  readonly nowHz: Estimate;
  readonly share: number;
}

/**
 * A tapped mode stands where it was tapped, another where it is computed.
 * @param isAsTapped whether nothing was cut since the taps
 */
function standings(
  computedHz: readonly Estimate[],
  calibration: Calibration | undefined,
  isAsTapped: boolean,
): readonly Standing[] {
  return computedHz.map((nowHz, m) => {
    const fit = calibration?.fits.find(({ mode }) => mode === m);
    if (fit === undefined) return { nowHz, share: 1 };
    const { measured, computed } = fit;
    const share = measured.value / computed.value;
    const cutSinceHz = isAsTapped ? 0 : MOVE_ERROR_SHARE * (share * nowHz.value - measured.value);
    return { nowHz: estimate(share * nowHz.value, Math.hypot(measured.sigma, cutSinceHz)), share };
  });
}

/** A move that starts from where the mode stands, not from where the fitted drawing has it. */
function fromBench(move: ModeMove, { nowHz, share }: Standing): ModeMove {
  const by = scaled(move.move, share);
  return {
    ...move,
    before: nowHz,
    move: by,
    after: estimate(nowHz.value + by.value, Math.hypot(nowHz.sigma, by.sigma)),
  };
}

/** Properties with the spread the fit has left them. Their spreads are taken one by one, which is on the safe side. */
function narrowed(parameters: readonly Parameter[], calibration: Calibration | undefined): readonly Parameter[] {
  return parameters.map((parameter) => {
    const at = calibration?.parameters.findIndex(({ property }) => property === parameter.property) ?? -1;
    const found = calibration?.factors[at];
    return found === undefined ? parameter : { ...parameter, relativeSigma: found.sigma / found.value };
  });
}

/** The heights of one plate with the woods and rim of another of the same lines. */
function withWoodsOf(plate: PlateCase, fitted: PlateCase | undefined): PlateCase {
  if (fitted === undefined) return plate;
  return {
    ...plate,
    material: fitted.material,
    ...(fitted.edge !== undefined && { edge: fitted.edge }),
    ...(plate.braces && {
      braces: plate.braces.map((brace, i) => ({ ...brace, material: fitted.braces?.[i]?.material ?? brace.material })),
    }),
  };
}
