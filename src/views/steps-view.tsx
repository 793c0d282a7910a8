// Before and after: the course of every mode toward its target, the diary of steps, and any two of them compared.
import { useState } from 'preact/hooks';
import { signatures } from '../compare/signature.ts';
import type { InstrumentRecord, Stage, Support } from '../record/record.ts';
import { CompareSteps } from './compare-steps.tsx';
import { Course } from './course.tsx';
import { ChoiceField } from './fields.tsx';
import { number } from './figures.ts';
import { StepDiary } from './step-diary.tsx';
import { Targets } from './targets.tsx';
import { bridgeWords, count, holdWords, stageWords } from './words.ts';
import { useWorkshop } from './workshop-context.ts';

/** Conditions under which steps may be followed together. */
export interface Conditions {
  readonly stage: Stage;
  readonly support: Support;
}

export function StepsView() {
  const { shelf } = useWorkshop();
  const record = shelf.record.value;
  if (record === undefined || record.steps.length === 0)
    return (
      <section class="empty">
        <h1>Steps</h1>
        <p>
          Nothing has been measured yet. Tap the piece once before you take anything off: that is the start that every
          later step is held against.
        </p>
        <a class="primary button" href="#/bench">
          To the bench
        </a>
      </section>
    );
  return <StepsOf key={record.id} record={record} />;
}

function StepsOf(props: { readonly record: InstrumentRecord }) {
  const { record } = props;
  const offered = conditionsIn(record);
  const [chosen, setChosen] = useState<string | undefined>(undefined);
  const current = offered.find((option) => option.key === chosen) ?? offered.at(-1);
  return (
    <div class="steps">
      <h1>Steps of {record.name}</h1>
      {current === undefined ? (
        <p>No round has been read yet. Tap the piece on the bench; its modes and their course appear here.</p>
      ) : (
        <>
          {offered.length > 1 && (
            <ChoiceField
              label="Measured how"
              value={current.key}
              options={offered.map((option) => [option.key, option.text] as const)}
              onChange={setChosen}
            />
          )}
          <Course record={record} conditions={current.conditions} />
          {record.kind === 'instrument' && <Targets record={record} conditions={current.conditions} />}
          <CompareSteps record={record} />
        </>
      )}
      <StepDiary record={record} />
    </div>
  );
}

/** Every combination of stage and support that was measured, in the order of its last use. */
function conditionsIn(
  record: InstrumentRecord,
): readonly { readonly key: string; readonly text: string; readonly conditions: Conditions }[] {
  const found = new Map<string, { conditions: Conditions; steps: number }>();
  for (const step of record.steps)
    for (const { support } of signatures(step)) {
      const key = [
        step.stage,
        support.hold,
        support.bridge,
        support.strung,
        support.addedMassG,
        support.addedMassOnBackG,
      ].join(' ');
      const steps = (found.get(key)?.steps ?? 0) + 1;
      found.delete(key);
      found.set(key, { conditions: { stage: step.stage, support }, steps });
    }
  return [...found].map(([key, { conditions, steps }]) => ({
    key,
    conditions,
    text: `${stageWords[conditions.stage]}, ${holdWords[conditions.support.hold].toLowerCase()}, ${bridgeWords[conditions.support.bridge].toLowerCase()}${conditions.support.strung ? ', strung' : ''}${lumpWords(conditions.support)} (${count(steps, 'step')})`,
  }));
}

/** ", 10.0 g at the bridge" where a lump was fixed for the round, else nothing. */
function lumpWords({ addedMassG, addedMassOnBackG }: Support): string {
  const at = (massG: number | undefined, place: string) =>
    massG === undefined ? '' : `, ${number(massG, 1)} g ${place}`;
  return at(addedMassG, 'at the bridge') + at(addedMassOnBackG, 'on the back');
}
