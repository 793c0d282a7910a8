// Recordings instead of the microphone: chosen, or dropped anywhere on the bench.
import { useRef } from 'preact/hooks';
import type { Step } from '../record/record.ts';
import { useNewStep } from './step-form.tsx';
import { useWorkshop } from './workshop-context.ts';

/** The step to measure at: the last one, or a first one begun now. */
export function useStepToMeasure(step: Step | undefined): () => string | undefined {
  const newStep = useNewStep();
  return () => step?.id ?? newStep();
}

/** Takes files as one round of the step: one file a hold. */
export function useTakeRecordings(step: Step | undefined): (files: readonly File[]) => void {
  const { recordings } = useWorkshop();
  const stepToMeasure = useStepToMeasure(step);
  return (files) => {
    const stepId = files.length === 0 ? undefined : stepToMeasure();
    if (stepId !== undefined) void recordings.take({ stepId }, files);
  };
}

/** A button for choosing sound files. */
export function TakeRecordings(props: { readonly onTake: (files: readonly File[]) => void }) {
  const file = useRef<HTMLInputElement>(null);
  return (
    <p>
      <button type="button" class="quiet" onClick={() => file.current?.click()}>
        Or take recordings …
      </button>{' '}
      <span class="hint">or drop sound files here, one file a hold</span>
      <input
        ref={file}
        id="recordings"
        class="visually-hidden"
        type="file"
        multiple
        accept="audio/*,.wav"
        aria-label="Recordings of taps"
        onChange={(event) => {
          props.onTake([...(event.currentTarget.files ?? [])]);
          event.currentTarget.value = '';
        }}
      />
    </p>
  );
}
