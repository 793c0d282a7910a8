// The step on which the closed box is measured: begun here where there is none yet.

import { appendStep } from '../../record/edit.ts';
import { Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { boxWords } from './words.ts';

/** Begins a step of the stage "closed box"; gives its id. */
function useClosedStep(): () => string | undefined {
  const { beginStep } = useWorkshop();
  const editRecord = useEditRecord();
  return () => {
    const step = beginStep();
    if (step === undefined) return undefined;
    editRecord('new-step', (record) => appendStep(record, { ...step, stage: 'closed' }));
    return step.id;
  };
}

/** Says that the record has no closed box yet, and offers to begin it. */
export function NoBoxYet() {
  const begin = useClosedStep();
  const t = boxWords().step;
  return (
    <Card title={t.none}>
      <p>{t.noneHint}</p>
      <Button kind="primary" text={t.begin} onPress={begin} />
    </Card>
  );
}
