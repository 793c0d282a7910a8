// From the record to the top at one stage of the build, so that its modes can be followed to another.
import { signatures } from '../compare/signature.ts';
import type { PlateCase } from '../plate/plate-case.ts';
import { checkPlate } from '../plate/plate-check.ts';
import { planAtStep, planNow } from '../record/cuts.ts';
import { isPlateAlone, type PlanSupport, planCase } from '../record/plan-case.ts';
import type { InstrumentRecord, Plan, Stage, Support } from '../record/record.ts';
import { fitParameters, measuredSteps, solvableCase, usualConditions } from './plan-question.ts';
import type { StagePlates, StageShapes } from './stage-shapes.ts';

/** The drawn top before and after a stage, its braces as they stand now; undefined where one of the two is not drawn. */
export function stagePlates(record: InstrumentRecord, from: Stage, to: Stage): StagePlates | undefined {
  if (record.plan === undefined || isBox(from)) return undefined;
  const plan = planNow(record, record.plan);
  const support = tappedSupport(record, from);
  const tapped = support && measuredSteps(record, record.plan, { stage: from, support }).at(-1);
  // What was tapped is what then stood, however much was cut since.
  const before = plateAt(record, tapped === undefined ? plan : planAtStep(record, record.plan, tapped.stepId), from);
  const after = plateAt(record, plan, to);
  // What holds the rim of one of them is of no account to the other.
  const parameters = fitParameters(plan, usualConditions.support);
  return before && after && { before, after, parameters, ...(tapped && { tapped: tapped.modes }) };
}

const isBox = (stage: Stage): boolean => stage === 'closed' || stage === 'strung';

function plateAt(record: InstrumentRecord, plan: Plan, stage: Stage): PlateCase | undefined {
  switch (stage) {
    case 'board':
    case 'joined':
      return undefined;
    case 'thicknessed':
      return checkPlate({ ...planCase(plan, heldAt(record, stage)), braces: [], patches: [] }).solvable;
    default:
      return solvableCase(plan, { strung: false, ...heldAt(record, stage) });
  }
}

/** How the top was last held at a stage, or usually is. */
function heldAt(record: InstrumentRecord, stage: Stage): PlanSupport {
  // Glued to the rims all round, whatever is done to the box.
  if (isBox(stage)) return { hold: 'in-mould', bridge: 'glued' };
  const tapped = tappedSupport(record, stage);
  if (tapped !== undefined) return tapped;
  return stage === 'thicknessed' ? { hold: 'at-node', bridge: 'off' } : usualConditions.support;
}

/** How the top by itself was held when it was last tapped at a stage. */
const tappedSupport = (record: InstrumentRecord, stage: Stage): Support | undefined =>
  record.steps
    .filter((step) => step.stage === stage)
    .flatMap(signatures)
    .findLast(({ support }) => isPlateAlone(support))?.support;

/** Below half, some other motion of the top has as much to do with the air. */
const PUMPS = 0.5;

/** What a mode is called after a stage, by its shape; undefined where the shapes leave it open. */
export function nameAfterStage({ modes, pumping }: StageShapes, name: string, to: Stage): string | undefined {
  const mode = modes.find((known) => known.name === name);
  if (mode === undefined || mode.verdict === 'ask') return undefined;
  const isTop = isBox(to) && pumping.share > PUMPS && mode.after.name === pumping.name;
  return isTop ? 'top' : mode.after.name;
}
