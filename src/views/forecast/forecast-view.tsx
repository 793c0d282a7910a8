// The forecast: modes of the drawn top, what each place of each brace does to them, how well the bench agrees, and advice.

import { useEffect, useMemo, useState } from 'preact/hooks';
import { type Series, seriesKey } from '../../compare/series.ts';
import { type MeasuredPair, pairMeasured } from '../../forecast/measured-match.ts';
import {
  computedModes,
  measuredSteps,
  plateConditions,
  topQuestion,
  usualConditions,
} from '../../forecast/plan-question.ts';
import type { TopModes, TopQuestion } from '../../forecast/top-modes.ts';
import { checkPlate } from '../../plate/plate-check.ts';
import type { StretchSensitivity } from '../../plate/sensitivity.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import { planNow } from '../../record/cuts.ts';
import { planCase } from '../../record/plan-case.ts';
import type { InstrumentRecord, Plan } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { EmptyView } from '../parts/card.tsx';
import { ChoiceField, choices } from '../parts/choice-field.tsx';
import { withHalfWidth } from '../parts/figures.ts';
import { useMassEstimate } from '../parts/own-units.ts';
import { Waiting } from '../parts/waiting.tsx';
import type { Face } from '../plan/face.ts';
import { PlanDrawing } from '../plan/plan-drawing.tsx';
import { FaceSwitch } from '../plan/plan-view.tsx';
import { faultWords, woodSourceWords } from '../plan/words.ts';
import { conditionsWords } from '../words/conditions.ts';
import { useWorkshop } from '../workshop-context.ts';
import { AdviceCard } from './advice.tsx';
import { AgreementCard } from './agreement.tsx';
import { Sensitivities, SensitivityScale, SensitivityTable } from './sensitivity.tsx';
import { ModePicture, Places, ShapeOnPlan } from './shape.tsx';
import { UnderTheStrings } from './strung.tsx';
import { forecastWords } from './words.ts';
import './forecast.css';

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
        <Modes
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

/** A top in the hand is pinched where the mode is at rest; one that its rim carries is not. */
const isHeldAtNodes = ({ support }: Series): boolean => support.hold === 'at-node' || support.hold === 'on-foam';

/** Which tapped mode a computed one is, and how sure that is. */
const tappedWords = (by: MeasuredPair['by'], hz: Estimate): string =>
  (by === 'frequency' ? forecastWords().perhapsTapped : forecastWords().tapped)(withHalfWidth(hz, 'Hz'));

function Modes(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly conditions: Series;
  readonly question: TopQuestion;
  readonly answer: TopModes;
  readonly face: Face;
  readonly onFace: (face: Face) => void;
}) {
  const { record, plan, question, answer, face } = props;
  const t = forecastWords();
  const mass = useMassEstimate();
  const braceIds = (question.plate.braces ?? []).map(({ id }) => id);
  const [chosen, setChosen] = useState(0);
  const [what, setWhat] = useState<'shape' | 'per-mm' | 'per-g'>('shape');
  const rank = Math.min(chosen, answer.modes.length - 1);
  const mode = answer.modes[rank];
  const { tapped, pairs } = useMemo(() => {
    const tapped = measuredSteps(record, plan, props.conditions).at(-1)?.modes ?? [];
    const pairs = pairMeasured(
      computedModes(answer, question),
      tapped.map((heard) => ({ ...heard, frequencyHz: heard.frequencyHz.value })),
    );
    return { tapped, pairs };
  }, [record, plan, props.conditions, answer, question]);
  if (mode === undefined) return null;
  const per = what === 'per-g' ? 'g' : 'mm';
  const isFree = isHeldAtNodes(props.conditions);
  const stretches: readonly StretchSensitivity[] = answer.sensitivity;
  return (
    <section class="plan-columns" aria-label={t.modes}>
      <div class="plan-sheet">
        <FaceSwitch face={face} onChange={props.onFace} />
        <PlanDrawing plan={plan} hand={record.hand} face={face} showBridge={props.conditions.support.bridge !== 'off'}>
          {what === 'shape' ? (
            <ShapeOnPlan key={rank} mode={mode} face={face} isFree={isFree} />
          ) : (
            <Sensitivities
              plan={plan}
              hand={record.hand}
              face={face}
              stretches={stretches}
              braceIds={braceIds}
              mode={rank}
              per={per}
            />
          )}
        </PlanDrawing>
        {what === 'shape' ? (
          <Places mode={mode} isFree={isFree} />
        ) : (
          <SensitivityScale stretches={stretches} mode={rank} per={per} />
        )}
      </div>
      <div class="plan-forms">
        <ol class="forecast-modes">
          {answer.modes.map((shown, i) => {
            const pair = pairs.find(({ computed }) => computed === i);
            return (
              <li key={i}>
                <Button
                  text={
                    <>
                      <ModePicture mode={shown} outline={question.plate.outline} face={face} />
                      <span class="forecast-hz">{withHalfWidth(shown.frequencyHz, 'Hz')}</span>
                      <span>
                        {shown.name}
                        {pair !== undefined && (
                          <span class="hint"> {tappedWords(pair.by, tapped[pair.measured]!.frequencyHz)}</span>
                        )}
                      </span>
                    </>
                  }
                  isChosen={i === rank}
                  onPress={() => setChosen(i)}
                />
              </li>
            );
          })}
        </ol>
        <p class="hint">
          {t.fromWoods(mass(answer.massG))}
          <br />
          {t.plateWood(woodSourceWords(record, plan.wood))}
          <br />
          {t.braceWood(woodSourceWords(record, plan.braceWood))}
        </p>
        <ChoiceField
          label={t.onDrawing}
          value={what}
          options={choices(isFree ? { ...t.drawn, shape: t.shapeOfFree } : t.drawn)}
          onChange={setWhat}
        />
        {what !== 'shape' && (
          <SensitivityTable plan={plan} hand={record.hand} stretches={stretches} braceIds={braceIds} mode={rank} />
        )}
        <UnderTheStrings record={record} plan={plan} support={props.conditions.support} />
      </div>
    </section>
  );
}
