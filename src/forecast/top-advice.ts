// Advice for a top as it stands, on the woods that the bench has agreed with.
import type { BraceCut } from '../brace/cut.ts';
import { weatherSpreadHz } from '../compare/conditions.ts';
import type { PlateCase } from '../plate/plate-case.ts';
import { plateModes, preparePlate } from '../plate/plate-modes.ts';
import type { Prepare } from '../plate/prepared-plates.ts';
import { ROTATION_GUIDE_DEG } from '../plate/static-load.ts';
import { type Estimate, estimate, scaled } from '../quantity/estimate.ts';
import { type Advice, type AdviceAnswer, advise, type BraceFloor } from './advice.ts';
import { asDrawn, type Calibration, calibrate } from './calibration.ts';
import { type MeasureNext, measureNext } from './measure-next.ts';
import { type NextPass, nextPass, oddsOfPass, type PassOdds, type PassTarget, USUAL_PASS_MM } from './next-pass.ts';
import { computedFrequencies, type Parameter } from './properties.ts';
import { CUT_SIGMA_MM, cutPlate, MOVE_ERROR_SHARE, type ModeMove } from './shaving.ts';
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
  /** what this top did against what was foreseen of it, oldest first, by the names of its modes */
  readonly past?: readonly NamedMove[];
  /** spread of the maker's blade, see `bladeSpread` */
  readonly bladeMm?: number;
  /** the maker's limit of the chance to go past, CHANCE_PAST unless told */
  readonly chancePast?: number;
}

/** A move of a mode that was foreseen and then measured. */
interface NamedMove {
  readonly name: string;
  readonly forecast: Estimate;
  readonly measured: Estimate;
  /** it ends at the latest taps */
  readonly endsNow: boolean;
}

/** The first pass on a way: all its cuts in proportion, the deepest as deep as the pass. */
export type WayPass =
  | (Extract<NextPass, { kind: 'pass' }> & { readonly cuts: readonly BraceCut[] })
  | Extract<NextPass, { kind: 'stop' }>;

/** An alternative with its odds, and with what the strings would do to the bridge after it. */
export type CheckedAdvice = Advice & {
  /** all of it in one go; `landsAt` in the order of the targets asked */
  readonly whole: PassOdds;
  readonly next: WayPass;
  /** whether it shaves a brace that carries the strings, and if so whether a way that does not reaches as much */
  readonly caution: 'none' | 'others-reach' | 'nothing-else-reaches';
  readonly strung?: StrungAnswer;
  readonly turnsTooFar: boolean;
};

export type TopAdvice =
  | Exclude<AdviceAnswer, { kind: 'advice' | 'nothing-to-do' }>
  /** with the odds of stopping here */
  | { readonly kind: 'nothing-to-do'; readonly odds: PassOdds }
  | { readonly kind: 'no-such-mode'; readonly name: string }
  /** modes were tapped that no computed one explains, and none is known to be this one: where it stands is not known */
  | { readonly kind: 'not-tapped'; readonly name: string }
  | {
      readonly kind: 'advice';
      readonly alternatives: readonly CheckedAdvice[];
      readonly names: readonly string[];
      /** what would narrow the whole first way, for the mode that is least sure of reaching its band */
      readonly measureNext: { readonly name: string; readonly offers: readonly MeasureNext[] };
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
  const unheard = targets.find(({ name }) => !measured.some(({ mode }) => names[mode] === name));
  if (measured.length < tapped.length && unheard !== undefined) return { kind: 'not-tapped', name: unheard.name };
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
  if (answer.kind === 'nothing-to-do') {
    const still = targets.map((target, i): PassTarget => {
      return { ...target, nowHz: standing[aims[i]!.mode]!.nowHz, hzPerMm: estimate(0, 0) };
    });
    return { ...answer, odds: oddsOfPass(still, 0) };
  }
  if (answer.kind !== 'advice') return answer;
  // With its bridge glued, whatever it was when tapped, and after the fit: what was measured narrows the woods.
  const strungBy = (shavings: Advice['shavings']): StrungAnswer | undefined => {
    const { strung } = question;
    if (strung === undefined) return undefined;
    const loaded = { ...cutPlate(base, shavings), patches: strung.plate.patches ?? [] };
    return strungAnswer(prepared, { ...strung, plate: loaded, parameters: narrowed(strung.parameters, calibration) });
  };
  const strungNow = strungBy([]);
  const judged = answer.alternatives.map((found): Judged => {
    const advice = { ...found, moves: found.moves.map((move) => fromBench(move, standing[move.mode]!)) };
    const asked = targets.map((target, i) => {
      const { mode } = aims[i]!;
      return passTarget(target, advice, mode, standing[mode]!.share, question);
    });
    return { ...advice, ...wayOdds(advice, asked, question) };
  });
  const alternatives = ranked(judged).map((advice): CheckedAdvice => {
    const strung = strungBy(advice.shavings);
    if (strung === undefined) return { ...advice, turnsTooFar: false };
    return { ...advice, strung, turnsTooFar: strung.turnDeg.value > ROTATION_GUIDE_DEG };
  });
  const [first] = alternatives;
  const least = targets
    .map(({ name, toleranceHz }, i) => ({ name, mode: aims[i]!.mode, toleranceHz }))
    .toSorted((a, b) => leastSure(first!, b) - leastSure(first!, a))[0]!;
  const offers = measureNext(prepared, base, before, first!, least.mode, parameters, calibration) ?? [];
  const next = { name: least.name, offers };
  return { kind: 'advice', alternatives, names, measureNext: next, ...(strungNow && { strungNow }) };
}

/** How much of the band the spread of a move fills. */
const leastSure = (
  { moves }: Advice,
  { mode, toleranceHz }: { readonly mode: number; readonly toleranceHz: number },
): number => moves[mode]!.move.sigma / toleranceHz;

type Judged = Advice & Pick<CheckedAdvice, 'whole' | 'next'>;

const deepestOf = ({ shavings }: Advice): number => Math.max(...shavings.map(({ offMm }) => offMm));

/** One target of a way as a pass of it sees it: the way's deepest cut is the depth of the pass. */
function passTarget(
  target: NamedTarget,
  advice: Advice,
  mode: number,
  share: number,
  { past = [], bladeMm = CUT_SIGMA_MM, spreadFactor = 1 }: AdviceQuestion,
): PassTarget {
  const depthMm = deepestOf(advice);
  const { before, move } = advice.moves[mode]!;
  const slope = (share * advice.slopes.wayHz[mode]!) / depthMm;
  const bladeHzPerMm = Math.sign(slope) * share * advice.slopes.bladeHzPerMm[mode]!;
  // The spread of a move holds that of the blade it was foreseen with; what is left of it is the slope's.
  const left = Math.sqrt(Math.max(0, move.sigma ** 2 - (spreadFactor * CUT_SIGMA_MM * bladeHzPerMm) ** 2));
  const slopeSigma = Math.max(left, MOVE_ERROR_SHARE * Math.abs(move.value)) / depthMm;
  const told = past.filter(
    ({ name, forecast }) =>
      name === target.name && Math.abs(forecast.value) > forecast.sigma && forecast.value * slope > 0,
  );
  return {
    ...target,
    nowHz: before,
    hzPerMm: estimate(slope, slopeSigma),
    // The whole way was solved: what its move may be off, bend and all, is in the spread of the slope.
    hzPerMm2: estimate((move.value - slope * depthMm) / depthMm ** 2, 0),
    bladeHzPerMm,
    weatherHz: weatherSpreadHz(before.value),
    moves: told.map(({ forecast, measured, endsNow }) => ({
      depthMm: estimate(forecast.value / slope, bladeMm),
      hz: measured,
      endsNow,
      isScaled: true,
    })),
  };
}

/** Depths of the lesser cuts of a pass are told in twentieths, mm: an error well below the blade's. */
const PASS_STEPS_PER_MM = 20;

function wayOdds(
  advice: Advice,
  asked: readonly PassTarget[],
  { bladeMm, chancePast }: AdviceQuestion,
): Pick<CheckedAdvice, 'whole' | 'next'> {
  const depthMm = deepestOf(advice);
  const next = nextPass(asked, {
    mostMm: advice.shavesStructural ? Math.min(depthMm, USUAL_PASS_MM) : depthMm,
    ...(bladeMm !== undefined && { bladeMm }),
    ...(chancePast !== undefined && { chancePast }),
  });
  const whole = oddsOfPass(asked, depthMm, bladeMm);
  if (next.kind === 'stop') return { whole, next };
  const cuts = advice.shavings.flatMap((cut) => {
    const offMm = Math.round((PASS_STEPS_PER_MM * cut.offMm * next.pass.depthMm) / depthMm) / PASS_STEPS_PER_MM;
    return offMm > 0 ? [{ ...cut, offMm }] : [];
  });
  return { whole, next: { ...next, cuts } };
}

const reachedBy = ({ reached }: Advice): number => reached.filter(Boolean).length;

/** Whether a way is as good as another in every respect a maker weighs, how many cuts it takes among them, and better in one. */
function beats(a: Judged, b: Judged): boolean {
  const respects = (way: Judged) => [
    -reachedBy(way),
    Number(way.shavesStructural),
    way.removedG,
    way.shavings.length,
    way.whole.chancePast,
    -way.whole.chanceWithin,
  ];
  const [of, other] = [respects(a), respects(b)];
  return of.every((value, i) => value <= other[i]!) && of.some((value, i) => value < other[i]!);
}

/**
 * The ways without those that another beats: what reaches most first, of those what leaves the braces that carry the strings
 * alone, of those the least wood.
 */
function ranked(ways: readonly Judged[]): readonly (Judged & Pick<CheckedAdvice, 'caution'>)[] {
  const spares = (way: Judged) => ways.some((other) => !other.shavesStructural && reachedBy(other) >= reachedBy(way));
  return ways
    .filter((way) => !ways.some((other) => beats(other, way)))
    .toSorted(
      (a, b) =>
        reachedBy(b) - reachedBy(a) ||
        Number(a.shavesStructural) - Number(b.shavesStructural) ||
        a.removedG - b.removedG,
    )
    .map((way) => ({
      ...way,
      caution: !way.shavesStructural ? 'none' : spares(way) ? 'others-reach' : 'nothing-else-reaches',
    }));
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
