// Advice: two or three ways to bring the modes toward their targets, in plain words.

import { useMemo } from 'preact/hooks';
import type { Series } from '../../compare/series.ts';
import {
  adviceFloors,
  fitParameters,
  measuredSteps,
  namedTargets,
  solvableCase,
  strungTop,
} from '../../forecast/plan-question.ts';
import type { StrungAnswer } from '../../forecast/strung.ts';
import type { CheckedAdvice, NamedTarget, TopAdvice } from '../../forecast/top-advice.ts';
import type { TopAgreement } from '../../forecast/top-agreement.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import { toldCuts } from '../../record/cut-place.ts';
import { planNow } from '../../record/cuts.ts';
import type { InstrumentRecord, Plan } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { Emphasised } from '../parts/emphasised.tsx';
import { number, signed, withHalfWidth } from '../parts/figures.ts';
import { useLengthEstimate, useMass } from '../parts/own-units.ts';
import { Waiting } from '../parts/waiting.tsx';
import { planWords } from '../plan/words.ts';
import { useWorkshop } from '../workshop-context.ts';
import { turnWords, usePull } from './strung.tsx';
import { forecastWords } from './words.ts';

export function AdviceCard(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly conditions: Series;
}) {
  const { forecasts } = useWorkshop();
  const { record, plan, conditions } = props;
  const asked = forecasts.advice.current.value;
  const pull = usePull(record);
  const spreadFactor = usePast()?.spreadFactor;
  const question = useMemo(() => {
    const now = planNow(record, plan);
    const tapped = measuredSteps(record, plan, conditions).at(-1);
    const plate = solvableCase(now, conditions.support);
    if (plate === undefined || tapped === undefined) return undefined;
    const strung = strungTop(record, now, conditions.support, pull);
    return {
      plate,
      tappedPlate: tapped.plate,
      tapped: tapped.modes,
      parameters: fitParameters(plan, conditions.support),
      targets: namedTargets(record, conditions.stage),
      floors: adviceFloors(now),
      ...(strung && { strung }),
      ...(spreadFactor !== undefined && { spreadFactor }),
    };
  }, [record, plan, conditions, pull, spreadFactor]);
  if (question === undefined) return null;
  const { targets, floors } = question;
  const t = forecastWords().advice;
  // What is found about the past goes into the question: asked sooner, the answer would be of another one.
  const isEarly = [forecasts.modes, forecasts.agreement].some(({ current }) => current.value.kind === 'computing');
  const isCurrent = 'key' in asked && asked.key === JSON.stringify(question);
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

/** The agreement with the bench, where it is worked out. */
function usePast(): TopAgreement | undefined {
  const asked = useWorkshop().forecasts.agreement.current.value;
  return asked.kind === 'ready' && asked.answer.kind === 'agreement' ? asked.answer : undefined;
}

/** How forecasts for this top have fared so far, beside what is forecast next. */
function Accuracy() {
  const past = usePast();
  if (past === undefined) return null;
  const told = past.past.filter((move) => move.forecast.value !== 0);
  const { isMisfit } = past.latest;
  const t = forecastWords().advice;
  return (
    <p class="caution">
      {[
        told.length === 0 ? t.notTested : t.heldIn(told.filter((move) => move.agrees).length, told.length),
        ...(past.spreadFactor > 1.05 ? [t.wider(number(past.spreadFactor, 1))] : []),
        ...(isMisfit ? [t.misfit] : []),
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
  const t = forecastWords().advice;
  switch (answer.kind) {
    case 'nothing-to-do':
      return <p class="verdict within">{t.reachedAll}</p>;
    case 'no-such-mode':
      return <p>{t.noSuchMode(answer.name)}</p>;
    case 'cannot':
      return <p>{t.cannot[answer.because]}</p>;
    case 'advice':
      return (
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
      );
  }
}

function Way(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly way: CheckedAdvice;
  readonly names: readonly string[];
  readonly targets: readonly NamedTarget[];
  readonly strungNow: StrungAnswer | undefined;
}) {
  const { way, names, targets } = props;
  const t = forecastWords().advice;
  const mass = useMass();
  const length = useLengthEstimate();
  const aims = targets.flatMap((target, i) => {
    const move = way.moves.find(({ mode }) => names[mode] === target.name);
    return move === undefined ? [] : [{ move, target, isReached: way.reached[i] === true }];
  });
  const others = way.moves.filter(
    ({ mode, move }) => !aims.some((aim) => aim.move.mode === mode) && Math.abs(move.value) > 2 * move.sigma,
  );
  return (
    <li>
      <h3>{t.ways[way.way]}</h3>
      <ul>
        {toldCuts(props.plan, props.record.hand, way.shavings)
          .map(planWords().cut)
          .map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
      </ul>
      <p>{t.inAll(mass(way.removedG))}</p>
      <ul class="way-moves">
        {aims.map(({ move, target, isReached }) => {
          const moved = t.modeMoves(target.name, signed(move.move, 'Hz'));
          const said = (isReached ? t.reaches : t.doesNotReach)(
            moved,
            withHalfWidth(move.after, 'Hz'),
            number(target.frequencyHz, 1),
            number(target.toleranceHz, 1),
          );
          return (
            <li key={move.mode}>
              <Emphasised text={said} part={moved} />
            </li>
          );
        })}
      </ul>
      {others.length > 0 && (
        <details>
          <summary>{t.movesWithIt(others.length)}</summary>
          <ul>
            {others.map(({ mode, move }) => (
              <li key={mode}>{t.modeMoves(names[mode] ?? t.unnamed(mode + 1), signed(move, 'Hz'))}</li>
            ))}
          </ul>
        </details>
      )}
      {way.strung !== undefined && (
        <p class={way.turnsTooFar ? 'stop' : 'caution'}>
          {bridgeThenWords(way.strung, props.strungNow, length)} {turnWords(way.strung.turnDeg)} {t.guide}
        </p>
      )}
    </li>
  );
}

function bridgeThenWords(
  { turnDeg, riseMm }: StrungAnswer,
  now: StrungAnswer | undefined,
  length: (mm: Estimate) => string,
): string {
  const t = forecastWords().advice;
  const [turn, rise] = [withHalfWidth(turnDeg, '°'), length(riseMm)];
  return now === undefined ? t.bridgeThen(turn, rise) : t.bridgeThenAndNow(turn, withHalfWidth(now.turnDeg, '°'), rise);
}
