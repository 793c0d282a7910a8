// A cut on the plan: from brace, stretch and depth to the shaving that a step carries.
import { afterEvenCut, volumeOffMm3 } from '../brace/cut.ts';
import { lowestMm, type Profile } from '../brace/profile.ts';
import { planBraceLengthMm } from './plan-brace.ts';
import type { Plan, PlanBrace, Shaving } from './record.ts';

/** Wood between two profiles of a brace, g, for the density of the plan's brace wood. */
export function massOfCutG(plan: Plan, brace: PlanBrace, after: Profile): number {
  const { section, widthMm, profile } = brace;
  const mm3 = volumeOffMm3({ section, widthMm, lengthMm: planBraceLengthMm(brace) }, profile, after);
  return mm3 * plan.braceWood.densityKgM3.value * 1e-6;
}

/** The shaving of one even cut on one brace of a plan as it now stands. */
export function evenCut(plan: Plan, brace: PlanBrace, fromMm: number, toMm: number, offMm: number): Shaving {
  const profile = afterEvenCut(brace.profile, planBraceLengthMm(brace), { fromMm, toMm, offMm });
  return { ...shavingTo(plan, brace, profile), fromMm, toMm, offMm, heightLeftMm: lowestMm(profile, fromMm, toMm) };
}

/** The shaving that leads to given heights. */
export function shavingTo(plan: Plan, brace: PlanBrace, profile: Profile): Shaving {
  const massOffG = Math.round(100 * massOfCutG(plan, brace, profile)) / 100;
  return { brace: brace.name, massOffG: Math.max(0, massOffG), after: [{ braceId: brace.id, profile: [...profile] }] };
}
