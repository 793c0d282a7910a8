import { openStep, withCuts } from '../../record/cut-entry.ts';
import type { Cut, InstrumentRecord } from '../../record/record.ts';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';

/** Enters cuts into the step they belong to. @returns its id, to be measured next; undefined where no record is open */
export function useEnterCuts(): (record: InstrumentRecord, cuts: readonly Cut[]) => string | undefined {
  const { beginStep } = useWorkshop();
  const editRecord = useEditRecord();
  return (record, cuts) => {
    const step = openStep(record) ?? beginStep();
    if (step === undefined) return undefined;
    editRecord('plan-shaving', (current) => withCuts(current, step, cuts));
    return step.id;
  };
}
