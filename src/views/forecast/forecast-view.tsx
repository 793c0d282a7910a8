// The forecast: modes of the drawn top, what each place of each brace does to them, how well the bench agrees, and advice.

import { useEffect, useMemo, useState } from 'preact/hooks';
import { type Series, seriesKey } from '../../compare/series.ts';
import { plateConditions, topQuestion, usualConditions } from '../../forecast/plan-question.ts';
import { checkPlate } from '../../plate/plate-check.ts';
import { planNow } from '../../record/cuts.ts';
import { planCase } from '../../record/plan-case.ts';
import type { InstrumentRecord, Plan } from '../../record/record.ts';
import { EmptyView } from '../parts/card.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { Waiting } from '../parts/waiting.tsx';
import type { Face } from '../plan/face.ts';
import { faultWords } from '../plan/words.ts';
import { conditionsWords } from '../words/conditions.ts';
import { useWorkshop } from '../workshop-context.ts';
import { AdviceCard } from './advice.tsx';
import { AgreementCard } from './agreement.tsx';
import { forecastWords } from './words.ts';
import './forecast.css';
import { ComputedModes } from './modes.tsx';

export function ForecastView() {
  const { shelf } = useWorkshop();
  const record = shelf.record.value;
  if (record?.plan === undefined)
    return (
      <EmptyView
        title={forecastWords().title}
        text={forecastWords().needsPlan}
        to="#/plan"
        toText={forecastWords().toPlan}
      />
    );
  return <ForecastOf key={record.id} record={record} plan={record.plan} />;
}

/** Ways to hold a top that can be computed before anything is tapped. */
const untapped: readonly Series[] = [
  { stage: 'braced', support: { hold: 'at-node', bridge: 'off', strung: false } },
  usualConditions,
];

function ForecastOf(props: { readonly record: InstrumentRecord; readonly plan: Plan }) {
  const { forecasts } = useWorkshop();
  const { record, plan } = props;
  const t = forecastWords();
  const tapped = useMemo(() => plateConditions(record), [record]);
  const offered = [
    ...untapped.filter((given) => !tapped.some((known) => seriesKey(known) === seriesKey(given))),
    ...tapped,
  ];
  const [chosenKey, setChosen] = useState<string | undefined>(undefined);
  const conditions = offered.find((option) => seriesKey(option) === chosenKey) ?? offered.at(-1) ?? usualConditions;
  const [face, setFace] = useState<Face>('inside');
  // The view is drawn anew with every step of a computation: what it asks stays while the record stays.
  const { now, solvable, question, key, faults } = useMemo(() => {
    const now = planNow(record, plan);
    const question = topQuestion(record, now, conditions.support);
    const { faults, solvable } = checkPlate(planCase(now, conditions.support));
    return { now, solvable, question, key: JSON.stringify(question), faults };
  }, [record, plan, conditions]);
  const asked = forecasts.modes.current.value;
  useEffect(() => {
    if (question !== undefined) forecasts.modes.ask(question);
  }, [key]);
  const ready = asked.kind === 'ready' && asked.answer.kind === 'modes' ? asked.answer : undefined;
  const isOld = asked.kind !== 'none' && asked.key !== key;
  return (
    <div class="forecast">
      <h1>{t.titleFor(record.name)}</h1>
      <p class="caution">{t.guide}</p>
      <div class="fields">
        <ChoiceField
          label={t.heldHow}
          value={seriesKey(conditions)}
          options={offered.map((option) => [seriesKey(option), conditionsWords(option)] as const)}
          onChange={setChosen}
        />
      </div>
      {faults.length > 0 && (
        <ul class="plan-faults" role="status">
          {faults.map((fault) => (
            <li key={faultWords(fault, plan)}>{faultWords(fault, plan)}</li>
          ))}
        </ul>
      )}
      {solvable === undefined && (
        <p class="note">
          {t.notComputable} <a href="#/plan">{t.mendPlan}</a>
        </p>
      )}
      {question !== undefined && (
        <Waiting
          asked={asked}
          what={t.computingModes}
          onCancel={() => forecasts.modes.cancel()}
          onAgain={() => forecasts.modes.again(question)}
        />
      )}
      {asked.kind === 'ready' && asked.answer.kind === 'unsolvable' && <p class="note">{t.noModes}</p>}
      {ready !== undefined && !isOld && question !== undefined && (
        <ComputedModes
          record={record}
          plan={now}
          conditions={conditions}
          question={question}
          answer={ready}
          face={face}
          onFace={setFace}
        />
      )}
      <AdviceCard record={record} plan={plan} conditions={conditions} />
      {solvable !== undefined && (
        <AgreementCard record={record} plan={plan} conditions={conditions} isDue={ready !== undefined && !isOld} />
      )}
    </div>
  );
}
