// From the record of an instrument to the questions the forecast is asked: which plates, which taps, which bounds.

import { floorLine } from '../brace/floor.ts';
import { matchModes, withinStep } from '../compare/match.ts';
import { type Series, targetsAt } from '../compare/series.ts';
import { type SignatureMode, sameSupport, signatures, soundRounds } from '../compare/signature.ts';
import { stringLoad, usualStrings } from '../compare/string-load.ts';
import { tracks } from '../compare/tracks.ts';
import { saddleLine } from '../plate/layout.ts';
import type { Point } from '../plate/outline.ts';
import type { PlateCase } from '../plate/plate-case.ts';
import { checkPlate } from '../plate/plate-check.ts';
import { planAtStep, planNow } from '../record/cuts.ts';
import { planBraceLengthMm } from '../record/plan-brace.ts';
import { isPlateAlone, planCase } from '../record/plan-case.ts';
import { planOutline, scaleLayout } from '../record/plan-outline.ts';
import { braceWoodOf } from '../record/plan-wood.ts';
import type { InstrumentRecord, Plan, Stage, Step, Support } from '../record/record.ts';
import type { BraceFloor } from './advice.ts';
import type { ComputedMode, HeardAt } from './measured-match.ts';
import { bladeSpread } from './measured-pass.ts';
import type { Parameter, Property } from './properties.ts';
import type { StrungTop } from './strung.ts';
import { tapPlaces } from './tap-places.ts';
import type { AdviceQuestion, NamedTarget } from './top-advice.ts';
import type { MeasuredStep, TopAgreement } from './top-agreement.ts';
import type { TopMode, TopModes, TopQuestion } from './top-modes.ts';

const hasBraces = (stage: Stage): boolean => stage === 'braced' || stage === 'on-rims';

/** Conditions under which the braced top alone was tapped, latest last; a closed box is not a plate and is left out. */
export function plateConditions(record: InstrumentRecord): readonly Series[] {
  const found: Series[] = [];
  for (const step of record.steps) {
    if (!hasBraces(step.stage)) continue;
    for (const { support } of signatures(step)) {
      if (!isPlateAlone(support)) continue;
      const known = found.findIndex((c) => c.stage === step.stage && sameSupport(c.support, support));
      if (known >= 0) found.splice(known, 1);
      found.push({ stage: step.stage, support });
    }
  }
  return found;
}

/** Conditions of a top that has not been tapped yet. */
export const usualConditions: Series = {
  stage: 'braced',
  support: { hold: 'in-mould', bridge: 'taped', strung: false },
};

/** The part of a drawing that can be solved; undefined where outline or plate are at fault. */
export const solvableCase = (plan: Plan, support: Support): PlateCase | undefined =>
  checkPlate(planCase(plan, support)).solvable;

/** Every step that was tapped under the conditions, with the plan as it then stood and the maker's names. */
export function measuredSteps(record: InstrumentRecord, plan: Plan, conditions: Series): readonly MeasuredStep[] {
  const followed = tracks(record, conditions.stage, conditions.support);
  const places = tapPlaces(plan, record.hand);
  return record.steps.flatMap((step): MeasuredStep[] => {
    if (step.stage !== conditions.stage) return [];
    const modes = followed.flatMap((track) =>
      track.points
        .filter((point) => point.step.id === step.id)
        .map((point) => ({
          name: track.name,
          frequencyHz: point.mode.frequencyHz,
          heardAt: heardAt(step, conditions.support, point.mode, places),
        })),
    );
    const plate = solvableCase(planAtStep(record, plan, step.id), conditions.support);
    return modes.length === 0 || plate === undefined ? [] : [{ stepId: step.id, plate, modes }];
  });
}

/** How loud a mode rang at every spot of a step, for the spots that have a place; the loudest where one was tapped twice. */
function heardAt(
  step: Step,
  support: Support,
  { frequencyHz }: SignatureMode,
  places: ReturnType<typeof tapPlaces>,
): readonly HeardAt[] {
  const heard = new Map<string, HeardAt>();
  for (const { fit, spot, support: under } of soundRounds(step)) {
    const at = places.get(spot);
    if (at === undefined || fit === undefined || fit.modes.length === 0 || !sameSupport(under, support)) continue;
    const frequencies = fit.modes.map((mode) => mode.frequencyHz.value);
    const [pair] = matchModes([frequencyHz.value], frequencies, withinStep);
    const level: HeardAt =
      pair === undefined
        ? { at, levelDb: Math.min(...fit.modes.map(({ levelDb }) => levelDb)), isAtMost: true }
        : { at, levelDb: fit.modes[pair[1]]!.levelDb };
    const known = heard.get(spot);
    if (known === undefined || (known.isAtMost && !level.isAtMost) || known.levelDb < level.levelDb)
      heard.set(spot, level);
  }
  return [...heard.values()];
}

const isFree = ({ hold }: Support): boolean => hold === 'at-node' || hold === 'on-foam';

/**
 * A figure of all braces together, as one factor on them is known: each stick errs by itself, what all share of one wood errs alike,
 * and nobody knows which; the mean of their spreads is between the two.
 */
function ofBraces(plan: Plan, key: 'eLongGpa' | 'shearGpa' | 'densityKgM3') {
  const woods = plan.braces.length === 0 ? [plan.braceWood] : plan.braces.map((brace) => braceWoodOf(plan, brace));
  const mean = (of: (wood: (typeof woods)[number]) => number) =>
    woods.reduce((sum, wood) => sum + of(wood), 0) / woods.length;
  const value = mean((wood) => wood[key].value);
  return { value, sigma: value * mean((wood) => wood[key].sigma / wood[key].value) };
}

/** What is known of a top only within the spread its plan states, and a fit may move; what is known exactly or is nought stays. */
export function fitParameters(plan: Plan, support: Support): readonly Parameter[] {
  const given: readonly (readonly [Property, { readonly value: number; readonly sigma: number }])[] = [
    ['plate eL', plan.wood.eLongGpa],
    ['plate eR', plan.wood.eCrossGpa],
    ['plate gLR', plan.wood.shearGpa],
    ['plate density', plan.wood.densityKgM3],
    ['brace eL', ofBraces(plan, 'eLongGpa')],
    ['brace gLR', ofBraces(plan, 'shearGpa')],
    ['brace density', ofBraces(plan, 'densityKgM3')],
    ...(isFree(support) ? [] : [['rim stiffness', plan.rimStiffnessN] as const]),
  ];
  return given.flatMap(([property, { value, sigma }]) =>
    value > 0 && sigma > 0 ? [{ property, relativeSigma: sigma / value }] : [],
  );
}

/** Floors as the advice takes them: a brace without any, or a stretch outside of them, is not to be touched. */
export function adviceFloors(plan: Plan): readonly BraceFloor[] {
  return plan.braces
    .filter((brace) => brace.floors.length > 0)
    .map((brace) => ({
      braceId: brace.id,
      heightMm: floorLine(brace.floors, planBraceLengthMm(brace)),
      ...(brace.structural && { carriesStrings: true }),
    }));
}

/** Targets of a stage by the names of their modes. */
export const namedTargets = (record: InstrumentRecord, stage: Stage): readonly NamedTarget[] =>
  targetsAt(record, stage).map(({ mode, frequencyHz, toleranceHz }) => ({ name: mode, frequencyHz, toleranceHz }));

/** Spread of the pull where the maker has not told the set, as a share of it. Common practice, no source. */
const UNKNOWN_SET_SHARE = 0.1;

/** What pulls at the bridge. */
export interface BridgePull {
  readonly tensionN: number;
  readonly stringHeightMm: number;
  /** spread of the pull, as a share of it */
  readonly share: number;
  /** set of the record's strings; undefined where none are told and what is usual is taken */
  readonly setName?: string;
}

/** What pulls at the bridge of an instrument. @param a4Hz pitch it is tuned to */
export function bridgePull(record: InstrumentRecord, a4Hz: number): BridgePull {
  const usual = usualStrings(record);
  const entered = record.box?.strings;
  const known = entered === undefined ? undefined : stringLoad(entered, entered.setName, a4Hz);
  const [strings, load] =
    entered !== undefined && known?.kind === 'load'
      ? [entered, known]
      : [usual, stringLoad(usual, usual.setName, a4Hz)];
  if (load.kind !== 'load') throw new RangeError(`bridgePull: ${usual.setName}, need a set that can be strung`);
  const { value, sigma } = load.tension.totalN;
  return {
    tensionN: value,
    stringHeightMm: strings.saddleHeightMm,
    ...(strings === entered
      ? { share: sigma / value, setName: strings.setName }
      : { share: Math.max(UNKNOWN_SET_SHARE, sigma / value) }),
  };
}

/**
 * The top under the strings, its bridge glued; undefined where no bridge is on it or nothing holds its rim, for then its
 * lines would not be those of the plate that is tapped, or nothing would carry the load.
 */
export function strungTop(
  record: InstrumentRecord,
  plan: Plan,
  support: Support,
  pull: BridgePull,
): StrungTop | undefined {
  if (support.bridge === 'off' || isFree(support)) return undefined;
  const plate = solvableCase(plan, { ...support, bridge: 'glued' });
  if (plate === undefined) return undefined;
  const { tensionN, stringHeightMm, share } = pull;
  const saddle = saddleLine(scaleLayout(plan, planOutline(plan), record.hand));
  return {
    plate,
    load: { tensionN, stringHeightMm, saddle },
    loadShare: share,
    parameters: fitParameters(plan, support),
  };
}

/**
 * What the advice is asked; undefined where the top cannot be computed or was not tapped under the conditions.
 * @param past the agreement with the bench, where it is worked out: what this top did against what was foreseen of it
 */
export function adviceQuestion(
  record: InstrumentRecord,
  plan: Plan,
  conditions: Series,
  pull: BridgePull,
  past?: Pick<TopAgreement, 'names' | 'past' | 'spreadFactor'>,
): AdviceQuestion | undefined {
  const now = planNow(record, plan);
  const tapped = measuredSteps(record, plan, conditions).at(-1);
  const plate = solvableCase(now, conditions.support);
  if (plate === undefined || tapped === undefined) return undefined;
  const strung = strungTop(record, now, conditions.support, pull);
  return {
    plate,
    tappedPlate: tapped.plate,
    tapped: tapped.modes,
    parameters: fitParameters(plan, conditions.support),
    targets: namedTargets(record, conditions.stage),
    floors: adviceFloors(now),
    bladeMm: bladeSpread(record),
    ...(strung && { strung }),
    ...(past && {
      spreadFactor: past.spreadFactor,
      past: past.past.map(({ stepId, mode, forecast, measured }) => ({
        name: past.names[mode]!,
        forecast,
        measured,
        endsNow: stepId === tapped.stepId,
      })),
    }),
  };
}

/** What is asked of a top as it stands; undefined where it cannot be computed. @param plan as it stands now */
export function topQuestion(record: InstrumentRecord, plan: Plan, support: Support): TopQuestion | undefined {
  const plate = solvableCase(plan, support);
  return (
    plate && { plate, parameters: fitParameters(plan, support), spots: [...tapPlaces(plan, record.hand).values()] }
  );
}

/** The computed modes of an answer, told from one another by name, frequency and what each spot makes of them. */
export function computedModes(
  { modes }: TopModes,
  { spots = [] }: TopQuestion,
): readonly (ComputedMode & { readonly top: TopMode })[] {
  const spotAt = (at: Point): number => spots.findIndex(([x, y]) => x === at[0] && y === at[1]);
  return modes.map((top) => ({
    top,
    name: top.name,
    frequencyHz: top.frequencyHz.value,
    deflectionAt: (at) => top.atSpots[spotAt(at)],
    steepnessAt: (at) => top.steepAtSpots?.[spotAt(at)],
  }));
}
