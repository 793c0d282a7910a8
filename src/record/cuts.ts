// The cuts of a record: each is a fact of its step, and what it did to the braces of the plan is worked out here and nowhere
// else: profiles, grams, millimetres. Correcting a cut corrects all of them; a cut that is deleted gives its wood back.
import { afterEvenCut, afterHeights, deepestMm, volumeOffMm3 } from '../brace/cut.ts';
import { lowestMm, type Profile } from '../brace/profile.ts';
import type { Estimate } from '../quantity/estimate.ts';
import { planBraceLengthMm } from './plan-brace.ts';
import { braceWoodOf } from './plan-wood.ts';
import type { Cut, InstrumentRecord, Plan, PlanBrace, Step } from './record.ts';

/** What a cut did to one brace of the plan. */
interface BraceCutMade {
  /** the brace as it stood before the cut */
  readonly brace: PlanBrace;
  readonly after: Profile;
  readonly massOffG: number;
}

/** One cut, with what it did to the braces of the plan that it names. */
export interface CutMade {
  readonly step: Step;
  readonly cut: Cut;
  /** none where the cut is named in words only */
  readonly on: readonly BraceCutMade[];
  /** as weighed, else as worked out from the plan; undefined where neither is known */
  readonly massOffG: number | undefined;
  readonly isWeighed: boolean;
  /** depth as told, else the deepest place worked out */
  readonly heightOffMm: number | undefined;
  /** lowest height of the stretch as measured, else as worked out */
  readonly heightLeftMm: number | undefined;
}

/** Wood between two profiles of a brace, g. */
export function massBetweenG(plan: Plan, brace: PlanBrace, after: Profile): number {
  const { section, widthMm, profile } = brace;
  const mm3 = volumeOffMm3({ section, widthMm, lengthMm: planBraceLengthMm(brace) }, profile, after);
  return mm3 * braceWoodOf(plan, brace).densityKgM3.value * 1e-6;
}

/** The profile that a cut leaves on a brace as it stands. */
export function profileAfter(brace: PlanBrace, cut: Cut): Profile {
  const lengthMm = planBraceLengthMm(brace);
  const drawn = cut.drawn?.find(({ braceId }) => braceId === brace.id);
  if (drawn !== undefined) return drawn.profile;
  if (cut.heights !== undefined) return afterHeights(brace.profile, lengthMm, cut.heights);
  const { fromMm, toMm, offMm } = cut;
  if (fromMm === undefined || toMm === undefined || offMm === undefined) return brace.profile;
  return afterEvenCut(brace.profile, lengthMm, { fromMm, toMm, offMm });
}

/** What one cut does to a plan as it stands. */
export function cutMade(plan: Plan | undefined, step: Step, cut: Cut): CutMade {
  const on = cut.braceIds.flatMap((id): BraceCutMade[] => {
    const brace = plan?.braces.find((known) => known.id === id);
    if (plan === undefined || brace === undefined || brace.profile.length === 0) return [];
    const after = profileAfter(brace, cut);
    return [{ brace, after, massOffG: Math.max(0, massBetweenG(plan, brace, after)) }];
  });
  const isKnown = on.length > 0;
  const stretch = ({ brace, after }: BraceCutMade) =>
    lowestMm(after, cut.fromMm ?? 0, cut.toMm ?? planBraceLengthMm(brace));
  return {
    step,
    cut,
    on,
    massOffG: cut.weighedG ?? (isKnown ? on.reduce((sum, { massOffG }) => sum + massOffG, 0) : undefined),
    isWeighed: cut.weighedG !== undefined,
    heightOffMm:
      cut.offMm ?? (isKnown ? Math.max(...on.map(({ brace, after }) => deepestMm(brace.profile, after))) : undefined),
    heightLeftMm: cut.heightLeftMm ?? (isKnown ? Math.min(...on.map(stretch)) : undefined),
  };
}

/** The plan with what a cut left. */
function withCut(plan: Plan, { on }: CutMade): Plan {
  if (on.length === 0) return plan;
  const left = new Map(on.map(({ brace, after }) => [brace.id, after]));
  return {
    ...plan,
    braces: plan.braces.map((brace): PlanBrace => {
      const profile = left.get(brace.id);
      return profile === undefined ? brace : { ...brace, profile: [...profile] };
    }),
  };
}

/** Every cut of some steps in order, each on the plan as the ones before it left it, and the plan after all of them. */
function replayed(
  steps: readonly Step[],
  plan: Plan | undefined,
): { readonly cuts: readonly CutMade[]; readonly plan: Plan | undefined } {
  let standing = plan;
  const cuts: CutMade[] = [];
  for (const step of steps)
    for (const cut of step.cuts) {
      const made = cutMade(standing, step, cut);
      cuts.push(made);
      if (standing !== undefined) standing = withCut(standing, made);
    }
  return { cuts, plan: standing };
}

type Replayed = ReturnType<typeof replayed>;

// A record is never changed in place, and every entry of its diary asks.
const known = new WeakMap<InstrumentRecord, Replayed>();

/** The whole record played on its own plan. */
function played(record: InstrumentRecord): Replayed {
  const found = known.get(record) ?? replayed(record.steps, record.plan);
  known.set(record, found);
  return found;
}

/** Every cut of a record, in the order in which they were made. */
export const cutsMade = (record: InstrumentRecord): readonly CutMade[] => played(record).cuts;

/** The plan as it stood when a step was measured: every cut up to and with that step taken off. */
export function planAtStep(record: InstrumentRecord, plan: Plan, stepId: string): Plan {
  const at = record.steps.findIndex((step) => step.id === stepId);
  return replayed(record.steps.slice(0, at + 1), plan).plan ?? plan;
}

/** The plan as it stands now. */
export const planNow = (record: InstrumentRecord, plan: Plan): Plan =>
  (plan === record.plan ? played(record) : replayed(record.steps, plan)).plan ?? plan;

/** What was taken off in all. */
export interface TakenOff {
  /** grams, or undefined where no cut tells */
  readonly massOffG: number | undefined;
  /** millimetres of height, summed over the cuts, or undefined where none tells */
  readonly heightOffMm: number | undefined;
}

/** What a step took off in all. */
export interface Removal extends TakenOff {
  readonly stepId: string;
}

/** What each step of a record took off, in the order of the steps. */
export function removals(record: InstrumentRecord): readonly Removal[] {
  const made = cutsMade(record);
  return record.steps.map(({ id }) => {
    const cuts = made.filter(({ step }) => step.id === id);
    return { stepId: id, ...together(cuts) };
  });
}

/** Cuts or steps taken together. */
export const together = (parts: readonly TakenOff[]): TakenOff => ({
  massOffG: total(parts.map(({ massOffG }) => massOffG)),
  heightOffMm: total(parts.map(({ heightOffMm }) => heightOffMm)),
});

/** Sum of the amounts that are known, or undefined where none is. */
function total(amounts: readonly (number | undefined)[]): number | undefined {
  const known = amounts.filter((amount) => amount !== undefined);
  return known.length === 0 ? undefined : known.reduce((sum, amount) => sum + amount, 0);
}

/** Weight of the piece at a step: on the scale, or the last time it was, less what was cut since. */
export type Weight =
  | { readonly kind: 'weighed'; readonly massG: number }
  | {
      readonly kind: 'carried';
      readonly massG: number;
      /** one standard deviation of what was cut since, g; of the scale nothing is known here */
      readonly sigmaG: number;
      /** place of the step at which it was weighed, from 1, and what it weighed there */
      readonly weighedAt: number;
      readonly weighedG: number;
      readonly offG: number;
    };

/** Share that a worked-out mass may well be off, one sigma: density and the depth of the blade. Common practice, no source. */
const WORKED_OUT_SHARE = 0.15;

/** Wood off as worked out from the plan, with what that is worth, g. */
export const workedOut = (massOffG: number): Estimate => ({ value: massOffG, sigma: WORKED_OUT_SHARE * massOffG });

/**
 * The weight of a record's piece at a step; undefined where it was never weighed before, was weighed in another stage, or
 * where a cut since then tells no mass.
 */
export function weightAt(record: InstrumentRecord, stepId: string): Weight | undefined {
  const at = record.steps.findIndex((step) => step.id === stepId);
  const here = record.steps[at];
  if (here === undefined) return undefined;
  if (here.massG !== undefined) return { kind: 'weighed', massG: here.massG };
  const since = record.steps.slice(0, at + 1).findLastIndex((step) => step.massG !== undefined);
  const weighed = record.steps[since];
  // Braces, rims and strings come between the stages.
  if (weighed?.massG === undefined || weighed.stage !== here.stage) return undefined;
  const between = new Set(record.steps.slice(since + 1, at + 1).map(({ id }) => id));
  const cuts = cutsMade(record).filter(({ step }) => between.has(step.id));
  if (cuts.some(({ massOffG }) => massOffG === undefined)) return undefined;
  const offG = cuts.reduce((sum, { massOffG }) => sum + massOffG!, 0);
  const worked = cuts.filter(({ isWeighed }) => !isWeighed).map(({ massOffG }) => workedOut(massOffG!).sigma);
  return {
    kind: 'carried',
    massG: weighed.massG - offG,
    sigmaG: Math.hypot(0, ...worked),
    weighedAt: since + 1,
    weighedG: weighed.massG,
    offG,
  };
}
