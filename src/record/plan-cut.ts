// A cut on the plan: from brace, stretch and depth to the shaving that a step carries.
import { unitMoments } from '../plate/cross-section.ts';
import { cutProfile, heightAtMm, lowestMm, planBraceLengthMm } from './plan-profile.ts';
import type { Plan, PlanBrace, Profile, Shaving } from './record.ts';

const SLICE_MM = 1;

/** Wood between two profiles of a brace, g, for the density of the plan's brace wood. */
export function massOfCutG(plan: Plan, brace: PlanBrace, after: Profile): number {
  const length = planBraceLengthMm(brace);
  const slices = Math.max(1, Math.round(length / SLICE_MM));
  let area = 0;
  for (let i = 0; i < slices; i++) {
    const at = ((i + 0.5) * length) / slices;
    area += ((heightAtMm(brace.profile, at) - heightAtMm(after, at)) * length) / slices;
  }
  return area * unitMoments(brace.section).area * brace.widthMm * plan.braceWood.densityKgM3.value * 1e-6;
}

/** The shaving of one even cut on one brace of a plan as it now stands. */
export function evenCut(plan: Plan, brace: PlanBrace, fromMm: number, toMm: number, offMm: number): Shaving {
  const profile = cutProfile(brace.profile, planBraceLengthMm(brace), fromMm, toMm, offMm);
  return { ...shavingTo(plan, brace, profile), fromMm, toMm, offMm, heightLeftMm: lowestMm(profile, fromMm, toMm) };
}

/** The shaving that leads to given heights. */
export function shavingTo(plan: Plan, brace: PlanBrace, profile: Profile): Shaving {
  const massOffG = Math.round(100 * massOfCutG(plan, brace, profile)) / 100;
  return { brace: brace.name, massOffG: Math.max(0, massOffG), after: [{ braceId: brace.id, profile }] };
}
