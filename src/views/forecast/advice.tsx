// Advice: two or three ways to bring the modes toward their targets, in plain words.

import type { Series } from '../../compare/series.ts';
import { MOST_REMOVAL_MM } from '../../forecast/advice.ts';
import type { NamedTarget, TopAdvice } from '../../forecast/top-advice.ts';
import type { InstrumentRecord, Plan } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { number } from '../parts/figures.ts';
import { useLength } from '../parts/own-units.ts';
import { Waiting } from '../parts/waiting.tsx';
import { useWorkshop } from '../workshop-context.ts';
import { useAdviceQuestion, usePast } from './use-questions.ts';
import { Way } from './way.tsx';
import { forecastWords, noAdviceWords } from './words.ts';

export function AdviceCard(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly conditions: Series;
}) {
  const { forecasts } = useWorkshop();
  const { record, plan, conditions } = props;
  const asked = forecasts.advice.current.value;
  const given = useAdviceQuestion(record, plan, conditions);
  if (given === undefined) return null;
  const { question, key } = given;
  const { targets, floors } = question;
  const t = forecastWords().advice;
  // What is found about the past goes into the question: asked sooner, the answer would be of another one.
  const isEarly = [forecasts.modes, forecasts.agreement].some(({ current }) => current.value.kind === 'computing');
  const depth = useLength(3, 0);
  const isCurrent = 'key' in asked && asked.key === key;
  return (
    <Card title={t.title}>
      {targets.length === 0 ? (
        <p>
          {t.needsTarget} <a href="#/steps">{t.toSteps}</a>
        </p>
      ) : floors.length === 0 ? (
        <p>
          {t.needsFloors} <a href="#/plan">{t.toPlan}</a>
        </p>
      ) : (
        <>
          <p>
            {t.toward(
              targets
                .map(({ name, frequencyHz, toleranceHz }) =>
                  t.target(name, number(frequencyHz, 1), number(toleranceHz, 1)),
                )
                .join(', '),
              depth(MOST_REMOVAL_MM),
            )}
          </p>
          <Accuracy />
          <Button kind="primary" text={t.find} isDisabled={isEarly} onPress={() => forecasts.advice.again(question)} />
          {isEarly && <p class="hint">{t.tooEarly}</p>}
          {isCurrent && (
            <Waiting
              asked={asked}
              what={t.looking}
              onCancel={() => forecasts.advice.cancel()}
              onAgain={() => forecasts.advice.again(question)}
            />
          )}
          {isCurrent && asked.kind === 'ready' && (
            <Answer record={record} plan={plan} targets={targets} answer={asked.answer} />
          )}
        </>
      )}
    </Card>
  );
}

/** How forecasts for this top have fared so far, beside what is forecast next. */
function Accuracy() {
  const past = usePast();
  if (past === undefined) return null;
  const foretold = past.past.filter((move) => move.forecast.value !== 0);
  const { isMisfit, farProperties } = past.latest;
  const t = forecastWords().advice;
  return (
    <p class="caution">
      {[
        foretold.length === 0 ? t.notTested : t.heldIn(foretold.filter((move) => move.agrees).length, foretold.length),
        ...(past.spreadFactor > 1.05 ? [t.wider(number(past.spreadFactor, 1))] : []),
        ...(isMisfit || farProperties.length > 0 ? [t.misfit] : []),
      ].join(' ')}
    </p>
  );
}

function Answer(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly targets: readonly NamedTarget[];
  readonly answer: TopAdvice;
}) {
  const { answer, record, plan, targets } = props;
  switch (answer.kind) {
    case 'nothing-to-do':
      return <p class="verdict within">{noAdviceWords(answer)}</p>;
    case 'no-such-mode':
    case 'not-tapped':
    case 'cannot':
      return <p>{noAdviceWords(answer)}</p>;
    case 'advice':
      return (
        <>
          <ol class="ways">
            {answer.alternatives.map((way) => (
              <Way
                key={way.way}
                record={record}
                plan={plan}
                way={way}
                names={answer.names}
                targets={targets}
                strungNow={answer.strungNow}
              />
            ))}
          </ol>
          <Narrower next={answer.measureNext} names={answer.names} />
        </>
      );
  }
}

/** What would narrow the first way, the most telling first. */
function Narrower(props: {
  readonly next: Extract<TopAdvice, { kind: 'advice' }>['measureNext'];
  readonly names: readonly string[];
}) {
  const { name, offers } = props.next;
  const t = forecastWords().advice;
  if (offers.length === 0) return null;
  const said = (offer: (typeof offers)[number]) =>
    t.narrows(
      offer.what === 'mode' ? t.tapMode(props.names[offer.mode]!) : t.stillToMeasure[offer.what],
      number(100 * offer.left, 0),
    );
  return (
    <div class="hint">
      <p>{t.wouldNarrow(name)}</p>
      <ul>
        {offers.slice(0, SHOWN_OFFERS).map((offer) => (
          <li key={said(offer)}>{said(offer)}</li>
        ))}
      </ul>
    </div>
  );
}

/** More than these nobody measures before a pass. */
const SHOWN_OFFERS = 3;
