// The old top and the new one as they are drawn, each in its own wood, as questions for the plate forecast.
import type { BoxRepair } from '../record/box-edit.ts';
import type { InstrumentRecord, Plan, Support } from '../record/record.ts';
import { topQuestion } from './plan-question.ts';
import type { TopQuestion } from './top-modes.ts';

/** How a top is held at the stages before the box is closed. */
const HELD = {
  braced: { hold: 'at-node', bridge: 'off', strung: false },
  rims: { hold: 'in-mould', bridge: 'off', strung: false },
} as const satisfies Record<string, Support>;

export type LooseStage = keyof typeof HELD;

/** The drawing in the wood as far as it was read; what was not read stays as the drawing has it, by its species. */
function inWood(
  plan: Plan,
  { densityKgM3, eLongGpa, eCrossGpa, gGpa }: BoxRepair['oldWood'],
  thicknessMm: number,
): Plan {
  const wood = {
    ...plan.wood,
    ...(densityKgM3 && { densityKgM3 }),
    ...(eLongGpa && { eLongGpa }),
    ...(eCrossGpa && { eCrossGpa }),
    ...(gGpa && { shearGpa: gGpa }),
  };
  return { ...plan, wood, thicknessMm };
}

/**
 * What the worker is asked of both tops at a stage; undefined where one is not drawn or cannot be computed.
 * @param newThicknessMm what the new top is planed to
 */
export function oldAndNewQuestions(
  record: InstrumentRecord,
  repair: BoxRepair,
  newThicknessMm: number,
  stage: LooseStage,
): { readonly old: TopQuestion | undefined; readonly fresh: TopQuestion | undefined } {
  const { oldPlan, oldThicknessMm } = repair;
  const ask = (plan: Plan) => topQuestion(record, plan, HELD[stage]);
  return {
    old: oldPlan && ask(inWood(oldPlan, repair.oldWood, oldThicknessMm?.value ?? oldPlan.thicknessMm)),
    // Until the old one is kept apart, the drawing on the plan is not known to be that of the new top.
    fresh: oldPlan && record.plan && ask(inWood(record.plan, repair.newWood, newThicknessMm)),
  };
}
