// The plan of the demo's top, and the cuts of its story drawn on it. Invented; its woods are a little off the truth its
// sounds were made from, as woods are.

import { afterEvenCut } from '../brace/cut.ts';
import { planBraceLengthMm } from '../record/plan-brace.ts';
import { mirroredPlan, startPlan } from '../record/plan-edit.ts';
import { patternBraces } from '../record/plan-patterns.ts';
import type { Plan, PlanBrace, Shaving } from '../record/record.ts';

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

/** A cut of the story: braces by the beginning of their ids, a stretch from their first ends, a depth. */
export interface DemoCut {
  readonly braces: string;
  readonly fromMm: number;
  readonly toMm: number;
  readonly offMm: number;
}

const cutBrace = (brace: PlanBrace, cut: DemoCut): PlanBrace =>
  brace.id.startsWith(cut.braces)
    ? {
        ...brace,
        profile: [
          ...afterEvenCut(brace.profile, planBraceLengthMm(brace), {
            fromMm: cut.fromMm,
            toMm: cut.toMm,
            offMm: cut.offMm,
          }),
        ],
      }
    : brace;

/** The plan after a cut. */
export const cutDemoPlan = (plan: Plan, cut: DemoCut): Plan => ({
  ...plan,
  braces: plan.braces.map((brace) => cutBrace(brace, cut)),
});

/** The profiles that a cut leaves on the plan as it stood, as a shaving carries them. */
export const profilesAfter = (plan: Plan, cut: DemoCut): NonNullable<Shaving['after']> =>
  plan.braces
    .filter((brace) => brace.id.startsWith(cut.braces))
    .map((brace) => ({ braceId: brace.id, profile: cutBrace(brace, cut).profile }));
