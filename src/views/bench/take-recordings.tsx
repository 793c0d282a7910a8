// Recordings instead of the microphone: chosen, or dropped anywhere on the bench.

import { useRef } from 'preact/hooks';
import type { Step } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { useNewStep } from '../steps/step-form.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

/** The step to measure at: the last one, or a first one begun now. */
export function useStepToMeasure(step: Step | undefined): () => string | undefined {
  const newStep = useNewStep();
  return () => step?.id ?? newStep();
}

/** Takes files as one round of the step: one file a hold. */
export function useTakeRecordings(step: Step | undefined): (files: readonly File[]) => void {
  const { recordings, shelf } = useWorkshop();
  const recordId = shelf.record.value?.id;
  const stepToMeasure = useStepToMeasure(step);
  const home = () => {
    const stepId = stepToMeasure();
    return stepId === undefined || recordId === undefined ? undefined : { recordId, stepId };
  };
  return (files) => void recordings.take(home, files);
}

/** A button for choosing the recordings of a round: one file a hold. */
export function TakeRecordings(props: {
  readonly onTake: (files: readonly File[]) => void;
  readonly disabled?: boolean;
}) {
  return (
    <p>
      <ChooseSounds
        id="recordings"
        words={words.bench.takeRecordings}
        label={words.bench.recordingsLabel}
        disabled={props.disabled ?? false}
        onFiles={props.onTake}
      />{' '}
      <span class="hint">{words.bench.dropHint}</span>
    </p>
  );
}

/** A button that lets sound files be chosen. */
export function ChooseSounds(props: {
  readonly id: string;
  readonly words: string;
  /** name of the field for those who do not see it */
  readonly label: string;
  readonly disabled?: boolean;
  readonly onFiles: (files: readonly File[]) => void;
}) {
  const file = useRef<HTMLInputElement>(null);
  return (
    <>
      <Button kind="quiet" text={props.words} isDisabled={props.disabled} onPress={() => file.current?.click()} />
      <input
        ref={file}
        id={props.id}
        class="visually-hidden"
        type="file"
        multiple
        accept="audio/*,.wav"
        aria-label={props.label}
        onChange={(event) => {
          props.onFiles([...(event.currentTarget.files ?? [])]);
          event.currentTarget.value = '';
        }}
      />
    </>
  );
}
