// From the plan of a record to the plate that can be computed.
import type { Point } from '../plate/outline.ts';
import type { BraceCase, EdgeCase, PatchCase, PlateCase } from '../plate/plate-case.ts';
import { planOutline, pointOf, saddleMm } from './plan-outline.ts';
import { woodConstants } from './plan-wood.ts';
import type { Plan, PlanBrace, PlanSlab, Support } from './record.ts';

/** How the top is held and what is on it when it is tapped. */
export type PlanSupport = Pick<Support, 'hold' | 'bridge'>;

/** Whether a support leaves a plate that can be computed: a closed box has air in it, which this plate has not. */
export const isPlateAlone = ({ hold }: PlanSupport): boolean => !hold.startsWith('box-');

/** Rectangle of a bridge or bridge plate about the saddle line, mm. The saddle stands a third of the way from its front. */
export function slabPolygon(plan: Plan, slab: PlanSlab, outline: readonly Point[] = planOutline(plan)): Point[] {
  const saddle = saddleMm(plan, outline);
  const [front, back] = [saddle + slab.alongMm / 3, saddle - (2 * slab.alongMm) / 3];
  const half = slab.acrossMm / 2;
  return [
    [back, -half],
    [front, -half],
    [front, half],
    [back, half],
  ];
}

/** A brace as plate/ takes it. */
export function braceCase(plan: Plan, brace: PlanBrace): BraceCase {
  return {
    id: brace.id,
    from: pointOf(brace.from),
    to: pointOf(brace.to),
    widthMm: brace.widthMm,
    heightMm: brace.profile.map(({ atMm, heightMm }) => [atMm, heightMm] as const),
    material: woodConstants(plan.braceWood),
    crossSection: brace.section,
    grainDeg: brace.grainDeg,
  };
}

/**
 * The plate of a plan under a support. The bridge plate lies inside, the bridge outside with its grain across.
 * @param plan  one in which plan-faults.ts finds nothing that cannot be computed
 */
export function planCase(plan: Plan, support: PlanSupport): PlateCase {
  const outline = planOutline(plan);
  const slab = (id: string, given: PlanSlab, face: 'inside' | 'outside'): PatchCase[] =>
    given.thicknessMm > 0 && given.alongMm > 0 && given.acrossMm > 0
      ? [
          {
            id,
            polygon: slabPolygon(plan, given, outline),
            thicknessMm: given.thicknessMm,
            material: woodConstants(given.wood),
            grainDeg: 90,
            face,
          },
        ]
      : [];
  return {
    outline,
    ...(plan.soundhole && { soundhole: plan.soundhole }),
    thicknessMm: plan.thicknessMm,
    material: woodConstants(plan.wood),
    braces: plan.braces.map((brace) => braceCase(plan, brace)),
    patches: [
      ...slab('bridge-plate', plan.bridgePlate, 'inside'),
      ...(support.bridge === 'off' ? [] : slab('bridge', plan.bridge, 'outside')),
    ],
    edge: edgeOf(plan, support),
  };
}

function edgeOf(plan: Plan, { hold }: PlanSupport): EdgeCase {
  if (hold === 'at-node' || hold === 'on-foam') return 'free';
  return { kind: 'hinged', rotationalStiffnessN: plan.rimStiffnessN.value };
}
