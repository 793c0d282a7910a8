// Before and after: the course of every mode toward its target, the diary of steps, and any two of them compared.

import { useState } from 'preact/hooks';
import { type Series, seriesKey } from '../../compare/series.ts';
import { signatures } from '../../compare/signature.ts';
import type { InstrumentRecord } from '../../record/record.ts';
import { EmptyView } from '../parts/card.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { conditionsWords } from '../words/conditions.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { CompareSteps } from './compare-steps.tsx';
import { Course } from './course.tsx';
import { StepDiary } from './diary.tsx';
import { NextPassCard } from './next-pass.tsx';
import { Targets } from './targets.tsx';
import './steps.css';

export function StepsView() {
  const { shelf } = useWorkshop();
  const record = shelf.record.value;
  if (record === undefined || record.steps.length === 0)
    return <EmptyView title={words.steps.title} text={words.steps.nothing} to="#/bench" toText={words.steps.toBench} />;
  return <StepsOf key={record.id} record={record} />;
}

function StepsOf(props: { readonly record: InstrumentRecord }) {
  const { record } = props;
  const offered = conditionsIn(record);
  const [chosen, setChosen] = useState<string | undefined>(undefined);
  const current = offered.find((option) => option.key === chosen) ?? offered.at(-1);
  return (
    <div class="steps">
      <h1>{words.steps.of(record.name)}</h1>
      {current === undefined ? (
        <p>{words.steps.nothingRead}</p>
      ) : (
        <>
          {offered.length > 1 && (
            <ChoiceField
              label={words.steps.measuredHow}
              value={current.key}
              options={offered.map((option) => [option.key, option.text] as const)}
              onChange={setChosen}
            />
          )}
          {record.kind === 'instrument' && (
            <>
              <NextPassCard record={record} conditions={current.conditions} />
              <Targets record={record} conditions={current.conditions} />
            </>
          )}
          <Course record={record} conditions={current.conditions} />
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
): readonly { readonly key: string; readonly text: string; readonly conditions: Series }[] {
  const found = new Map<string, { conditions: Series; steps: number }>();
  for (const step of record.steps)
    for (const { support } of signatures(step)) {
      const conditions = { stage: step.stage, support };
      const key = seriesKey(conditions);
      const steps = (found.get(key)?.steps ?? 0) + 1;
      found.delete(key);
      found.set(key, { conditions, steps });
    }
  return [...found].map(([key, { conditions, steps }]) => ({
    key,
    conditions,
    text: words.steps.series(conditionsWords(conditions), steps),
  }));
}
