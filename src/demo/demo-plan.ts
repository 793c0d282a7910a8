// The plan of the demo's top, and the cuts of its story drawn on it. Invented; its woods are a little off the truth its
// sounds were made from, as woods are.
import { afterEvenCut, type EvenCut } from '../brace/cut.ts';
import { planBraceLengthMm } from '../record/plan-brace.ts';
import { mirroredPlan, startPlan } from '../record/plan-edit.ts';
import { patternBraces } from '../record/plan-patterns.ts';
import type { Cut, Plan, PlanBrace } from '../record/record.ts';

/** Wood of the demo with the spread its maker would state. */
const spruce = (eLong: number, eCross: number, shear: number, density: number) => ({
  name: 'Spruce, board of the demo',
  speciesId: 'sitka-spruce',
  eLongGpa: { value: eLong, sigma: 0.08 * eLong },
  eCrossGpa: { value: eCross, sigma: 0.12 * eCross },
  shearGpa: { value: shear, sigma: 0.12 * shear },
  densityKgM3: { value: density, sigma: 0.02 * density },
});

/** The top as glued together, left-handed like the demo. */
export function demoPlan(): Plan {
  const start = startPlan('right', {
    lengthMm: 462,
    lowerBout: { atMm: 129, widthMm: 348 },
    waist: { atMm: 283, widthMm: 228 },
    upperBout: { atMm: 386, widthMm: 260 },
  });
  const bare: Plan = {
    ...start,
    scaleMm: 632,
    thicknessMm: 2.75,
    wood: spruce(12.2, 0.85, 0.78, 420),
    braceWood: spruce(12.8, 0.9, 0.82, 425),
    bridge: { ...start.bridge, alongMm: 30, acrossMm: 146, thicknessMm: 6 },
    bridgePlate: { ...start.bridgePlate, alongMm: 42, acrossMm: 140 },
    rimStiffnessN: { value: 250, sigma: 100 },
  };
  return mirroredPlan({ ...bare, braces: [...patternBraces('x', bare)] });
}

/** A cut of the story as its maker notes it; the plan's braces by the beginning of their ids. */
export interface DemoCut extends EvenCut {
  readonly brace: string;
  readonly ids: string;
  readonly weighedG: number;
  readonly heightLeftMm?: number;
}

/** The cut as the record keeps it. */
export function recordedCut(plan: Plan, id: string, { ids, ...cut }: DemoCut): Cut {
  return { id, ...cut, braceIds: plan.braces.filter((brace) => brace.id.startsWith(ids)).map((brace) => brace.id) };
}

/** The plan after a cut. */
export const cutDemoPlan = (plan: Plan, cut: DemoCut): Plan => ({
  ...plan,
  braces: plan.braces.map(
    (brace): PlanBrace =>
      brace.id.startsWith(cut.ids)
        ? { ...brace, profile: [...afterEvenCut(brace.profile, planBraceLengthMm(brace), cut)] }
        : brace,
  ),
});
