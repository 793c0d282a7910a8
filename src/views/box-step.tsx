// The step on which the closed box is measured: begun here where there is none yet.
import { appendStep } from '../record/edit.ts';
import { useWorkshop } from './workshop-context.ts';

/** Begins a step of the stage "closed box"; gives its id. */
function useClosedStep(): () => string | undefined {
  const { shelf, beginStep } = useWorkshop();
  return () => {
    const step = beginStep();
    if (step === undefined) return undefined;
    shelf.edit('new-step', (record) => appendStep(record, { ...step, stage: 'closed' }));
    return step.id;
  };
}

/** Says that the record has no closed box yet, and offers to begin it. */
export function NoBoxYet() {
  const begin = useClosedStep();
  return (
    <section class="card">
      <h2>No closed box yet</h2>
      <p>
        The rounds belong to a step of the stage “closed box”. Begin it when top and back are glued on; nothing of the
        earlier steps changes.
      </p>
      <button type="button" class="primary" onClick={begin}>
        Begin the step “closed box”
      </button>
    </section>
  );
}
