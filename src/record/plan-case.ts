// From the plan of a record to the plate that can be computed.
import { bridgePolygon } from '../plate/layout.ts';
import type { Point } from '../plate/outline.ts';
import type { BraceCase, EdgeCase, PatchCase, PlateCase, WoodConstants } from '../plate/plate-case.ts';
import { planOutline, pointOf, scaleLayout } from './plan-outline.ts';
import { braceWoodOf, woodConstants } from './plan-wood.ts';
import type { Plan, PlanBrace, PlanSlab, Support } from './record.ts';

/** How the top is held and what is on it when it is tapped. */
export type PlanSupport = Pick<Support, 'hold' | 'bridge'>;

/** Whether a support leaves a plate that can be computed: a closed box has air in it, which this plate has not. */
export const isPlateAlone = ({ hold }: PlanSupport): boolean => !hold.startsWith('box-');

/** Rectangle of a bridge or bridge plate about the saddle line, mm. The saddle stands a third of the way from its front. */
export function slabPolygon(plan: Plan, slab: PlanSlab, outline: readonly Point[]): Point[] {
  return bridgePolygon(scaleLayout(plan, outline), slab.alongMm / 3, slab.alongMm, slab.acrossMm);
}

/** A brace as plate/ takes it. */
export function braceCase(plan: Plan, brace: PlanBrace): BraceCase {
  return {
    id: brace.id,
    from: pointOf(brace.from),
    to: pointOf(brace.to),
    widthMm: brace.widthMm,
    heightMm: brace.profile.map(({ atMm, heightMm }) => [atMm, heightMm] as const),
    material: woodConstants(braceWoodOf(plan, brace)),
    crossSection: brace.section,
    grainDeg: brace.grainDeg,
  };
}

/**
 * The plate of a plan under a support. The bridge plate lies inside, the bridge outside with its grain across.
 * @param plan  one in which plate-check.ts finds nothing that cannot be computed
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
            material:
              given === plan.bridge && support.bridge === 'taped'
                ? limp(woodConstants(given.wood))
                : woodConstants(given.wood),
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

/** Share of its stiffness that a bridge held by tape lends to the top: hardly any. Common practice, no source. */
const TAPED_STIFFNESS = 0.02;

function limp(wood: WoodConstants): WoodConstants {
  const { eL, eR, eT, gLR, gLT, gRT } = wood;
  const part = (mpa: number) => TAPED_STIFFNESS * mpa;
  return { ...wood, eL: part(eL), eR: part(eR), eT: part(eT), gLR: part(gLR), gLT: part(gLT), gRT: part(gRT) };
}

function edgeOf(plan: Plan, { hold }: PlanSupport): EdgeCase {
  if (hold === 'at-node' || hold === 'on-foam') return 'free';
  return { kind: 'hinged', rotationalStiffnessN: plan.rimStiffnessN.value };
}
