// The figures of an answer, with the names the maker gave to the modes.
import { useState } from 'preact/hooks';
import { nameOfMode } from '../../compare/name-of-mode.ts';
import { pinMode } from '../../record/edit.ts';
import type { InstrumentRecord, Step } from '../../record/record.ts';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { Answer, type ShownMode } from './answer.tsx';
import { NameMode } from './name-mode.tsx';

export function NamedAnswer(props: {
  readonly record: InstrumentRecord;
  readonly step: Step;
  readonly modes: readonly ShownMode[];
  readonly scatterKnown: boolean;
}) {
  const { newId } = useWorkshop();
  const editRecord = useEditRecord();
  const [naming, setNaming] = useState<ShownMode | undefined>(undefined);
  const modes = props.modes.map((mode) => ({
    ...mode,
    name: nameOfMode(props.record, props.step, mode.frequencyHz.value),
  }));
  return (
    <>
      <Answer modes={modes} scatterKnown={props.scatterKnown} onName={setNaming} />
      {naming !== undefined && (
        <NameMode
          mode={naming}
          onDone={(name) => {
            if (name !== undefined) {
              const pin = { id: newId(), stepId: props.step.id, mode: name, frequencyHz: naming.frequencyHz.value };
              editRecord('mode-name', (record) => pinMode(record, pin));
            }
            setNaming(undefined);
          }}
        />
      )}
    </>
  );
}
