// Whether the braces still stand where their pattern puts them: a plan whose scale, soundhole or outline was changed leaves them
// behind until they are laid out anew.
import { mirroredPlan, moveBraceEnd } from './plan-edit.ts';
import { type BracingPattern, patternBraces, patterns } from './plan-patterns.ts';
import type { InstrumentRecord, Plan, PlanBrace, PlanLayout } from './record.ts';

/** Places are whole millimetres; half of one is no move. */
const MOVED_MM = 0.5;

/** What of a plan decides where its pattern puts the braces. */
const layoutOf = ({
  outline,
  soundhole,
  scaleMm,
  fretsToBody,
  setbackTrebleMm,
  setbackBassMm,
  liningMm,
}: Plan): PlanLayout => ({
  outline,
  ...(soundhole && { soundhole }),
  scaleMm,
  fretsToBody,
  setbackTrebleMm,
  setbackBassMm,
  liningMm,
});

/** The plan changed, its braces where they were: what they were laid out for is kept, where it is no longer what the plan is. */
export function changedUnderBraces(plan: Plan, change: (plan: Plan) => Plan): Plan {
  const laidFor = plan.laidFor ?? layoutOf(plan);
  const changed = change(plan);
  return JSON.stringify(layoutOf(changed)) === JSON.stringify(layoutOf({ ...plan, ...laidFor }))
    ? settledPlan(changed)
    : { ...changed, laidFor };
}

/** The plan as its maker wants it: the braces stand for what it is now. */
export function settledPlan({ laidFor: _, ...plan }: Plan): Plan {
  return plan;
}

/** The pattern that most braces of a plan come from; undefined where none does. */
function patternOf(plan: Plan): BracingPattern | undefined {
  const shared = (pattern: BracingPattern): number => {
    const ids = new Set(patternBraces(pattern, plan).map(({ id }) => id));
    return plan.braces.filter(({ id }) => ids.has(id)).length;
  };
  const most = patterns.reduce((best, pattern) => (shared(pattern) > shared(best) ? pattern : best));
  return shared(most) === 0 ? undefined : most;
}

/** Braces of a pattern for a plan, for the player's hand. */
export function laidBraces(pattern: BracingPattern, plan: Plan, hand: InstrumentRecord['hand']): readonly PlanBrace[] {
  if (hand === 'right') return patternBraces(pattern, plan);
  // The pattern is for a right-handed player: laid on the mirrored plan and mirrored back.
  const mirrored = mirroredPlan({ ...plan, braces: [] });
  return mirroredPlan({ ...mirrored, braces: [...patternBraces(pattern, mirrored)] }).braces;
}

/**
 * The plan with its braces laid out anew: each goes as far as the pattern has gone, so that what was moved by hand stays moved,
 * and heights and floors stretch with the length. A brace that was cut already is glued and stays, and so does one of no pattern.
 * @param cutIds braces that were cut
 * @returns undefined where no brace would go elsewhere
 */
export function laidAnew(plan: Plan, hand: InstrumentRecord['hand'], cutIds: ReadonlySet<string>): Plan | undefined {
  const { laidFor } = plan;
  const pattern = laidFor && patternOf(plan);
  if (pattern === undefined) return undefined;
  const { soundhole: _, ...bare } = plan;
  const before = laidBraces(pattern, { ...bare, ...laidFor }, hand);
  const after = laidBraces(pattern, plan, hand);
  let isMoved = false;
  const braces = plan.braces.map((brace) => {
    const [from, to] = [before, after].map((laid) => laid.find(({ id }) => id === brace.id));
    if (from === undefined || to === undefined || cutIds.has(brace.id)) return brace;
    return (['from', 'to'] as const).reduce((moved, end) => {
      const [dx, dy] = [to[end].xMm - from[end].xMm, to[end].yMm - from[end].yMm];
      if (Math.hypot(dx, dy) < MOVED_MM) return moved;
      isMoved = true;
      return moveBraceEnd(moved, end, { xMm: moved[end].xMm + dx, yMm: moved[end].yMm + dy });
    }, brace);
  });
  return isMoved ? settledPlan({ ...plan, braces }) : undefined;
}
