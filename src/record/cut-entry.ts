// Cuts entered into the record, whoever enters them: the plan, the advice that was followed, or the maker's own words.
import type { BraceCut } from '../brace/cut.ts';
import { appendStep, changeStep } from './edit.ts';
import type { Cut, InstrumentRecord, Plan, Step } from './record.ts';

/** The step that further cuts belong to: the last one. One that was measured is closed: what was tapped must stay what was cut. */
export function openStep(record: InstrumentRecord): Step | undefined {
  const latest = record.steps.at(-1);
  return latest?.rounds.length === 0 ? latest : undefined;
}

/** The latest step after the given one at which something was cut; undefined where nothing was. */
export function stepCutAfter({ steps }: InstrumentRecord, stepId: string): Step | undefined {
  const at = steps.findIndex(({ id }) => id === stepId);
  return steps.findLast(({ cuts }, i) => i > at && cuts.length > 0);
}

/**
 * The record with further cuts at a step; the step is appended where the record does not hold it yet.
 * @param step the open step, or a new one
 */
export function withCuts(record: InstrumentRecord, step: Step, cuts: readonly Cut[]): InstrumentRecord {
  const holding = record.steps.some(({ id }) => id === step.id) ? record : appendStep(record, step);
  return changeStep(holding, step.id, (known) => ({
    ...known,
    // Braces are cut on a plate that has them.
    stage: known.stage === 'thicknessed' ? 'braced' : known.stage,
    cuts: [...known.cuts, ...cuts],
  }));
}

/** Cuts of advice as they are entered. Cuts of braces that are not drawn are left out. */
export const cutsOfAdvice = (plan: Plan, cuts: readonly BraceCut[], newId: () => string): readonly Cut[] =>
  cuts.flatMap(({ braceId, fromMm, toMm, offMm }) => {
    const brace = plan.braces.find(({ id }) => id === braceId);
    return brace === undefined ? [] : [{ id: newId(), brace: brace.name, braceIds: [braceId], fromMm, toMm, offMm }];
  });
