// The plan through the steps: as glued, then after every shaving that was drawn on it.
import { massOfCutG } from './plan-cut.ts';
import type { InstrumentRecord, Plan, PlanBrace, Profile, Shaving, Step } from './record.ts';

/** The plan with the profiles that a list of shavings left. */
function shaved(plan: Plan, shavings: readonly Shaving[]): Plan {
  const after = new Map<string, Profile>();
  for (const shaving of shavings) for (const cut of shaving.after ?? []) after.set(cut.braceId, cut.profile);
  if (after.size === 0) return plan;
  return {
    ...plan,
    braces: plan.braces.map((brace): PlanBrace => {
      const profile = after.get(brace.id);
      return profile === undefined ? brace : { ...brace, profile };
    }),
  };
}

/** The plan as it stood when a step was measured: every shaving up to and with that step taken off. */
export function planAtStep(record: InstrumentRecord, plan: Plan, stepId: string): Plan {
  const at = record.steps.findIndex((step) => step.id === stepId);
  return shaved(
    plan,
    record.steps.slice(0, at + 1).flatMap((step) => step.shavings),
  );
}

/** The plan as it stands now. */
export function planNow(record: InstrumentRecord, plan: Plan): Plan {
  return shaved(
    plan,
    record.steps.flatMap((step) => step.shavings),
  );
}

/** What a step took off a brace of the plan: its profile before and after, or undefined where it took nothing. */
export function cutOfStep(
  record: InstrumentRecord,
  plan: Plan,
  step: Step,
  braceId: string,
): { readonly before: Profile; readonly after: Profile; readonly massOffG: number } | undefined {
  const after = step.shavings.flatMap((shaving) => shaving.after ?? []).findLast((cut) => cut.braceId === braceId);
  if (after === undefined) return undefined;
  const at = record.steps.findIndex((known) => known.id === step.id);
  const earlier = shaved(
    plan,
    record.steps.slice(0, at).flatMap((known) => known.shavings),
  );
  const brace = earlier.braces.find((known) => known.id === braceId);
  if (brace === undefined) return undefined;
  return { before: brace.profile, after: after.profile, massOffG: massOfCutG(plan, brace, after.profile) };
}
