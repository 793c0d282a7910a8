// Advice: two or three ways to bring the modes toward their targets, in plain words.
import {
  adviceFloors,
  fitParameters,
  measuredSteps,
  namedTargets,
  type PlanConditions,
  solvableCase,
  strungTop,
} from '../forecast/plan-question.ts';
import type { CheckedAdvice, TopAdvice } from '../forecast/top-advice.ts';
import { planNow } from '../record/plan-course.ts';
import type { InstrumentRecord, Plan } from '../record/record.ts';
import { number, signed } from './figures.ts';
import { Waiting } from './forecast-waiting.tsx';
import { useWorkshop } from './workshop-context.ts';

export function AdviceCard(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly conditions: PlanConditions;
}) {
  const { forecasts } = useWorkshop();
  const { record, plan, conditions } = props;
  const now = planNow(record, plan);
  const tapped = measuredSteps(record, plan, conditions).at(-1);
  const targets = namedTargets(record, conditions.stage);
  const floors = adviceFloors(now);
  const plate = solvableCase(now, conditions.support);
  const asked = forecasts.advice.current.value;
  if (plate === undefined || tapped === undefined) return null;
  const strung = strungTop(record, now, conditions.support);
  const question = {
    plate,
    tappedPlate: tapped.plate,
    tapped: tapped.modes,
    parameters: fitParameters(plan, conditions.support),
    targets,
    floors,
    ...(strung && { strung }),
  };
  const isCurrent = 'key' in asked && asked.key === JSON.stringify(question);
  return (
    <section class="card">
      <h2>What to shave next</h2>
      {targets.length === 0 ? (
        <p>
          Set a target first: <a href="#/steps">on the Steps page</a>, for this stage.
        </p>
      ) : floors.length === 0 ? (
        <p>
          Set floors first: <a href="#/plan">on the plan</a>, for every stretch that may be shaved. Where no floor is
          set, no wood is advised away.
        </p>
      ) : (
        <>
          <p>
            Toward{' '}
            {targets
              .map((t) => `${t.name} ${number(t.frequencyHz, 1)} Hz within ${number(t.toleranceHz, 1)}`)
              .join(', ')}
            . Only where a floor is set, never below it, 2 mm at most in one pass.
          </p>
          <Accuracy />
          <button type="button" class="primary" onClick={() => forecasts.advice.again(question)}>
            Find ways
          </button>
          {isCurrent && (
            <Waiting
              asked={asked}
              what="Looking for the least wood"
              onCancel={() => forecasts.advice.cancel()}
              onAgain={() => forecasts.advice.again(question)}
            />
          )}
          {isCurrent && asked.kind === 'ready' && <Answer plan={plan} answer={asked.answer} />}
        </>
      )}
    </section>
  );
}

/** How forecasts for this top have fared so far, beside what is forecast next. */
function Accuracy() {
  const asked = useWorkshop().forecasts.agreement.current.value;
  if (asked.kind !== 'ready' || asked.answer.kind !== 'agreement') return null;
  const told = asked.answer.past.filter((move) => move.forecast.value !== 0);
  const { isMisfit } = asked.answer.latest;
  return (
    <p class="caution">
      {told.length === 0
        ? 'No forecast for this top has been put to the test yet.'
        : `Its forecasts for this top held in ${told.filter((move) => move.agrees).length} of ${told.length} moves.`}
      {isMisfit && ' The taps and the drawing do not agree at present: do not lean on this.'}
    </p>
  );
}

const wayWords: Readonly<Record<CheckedAdvice['way'], string>> = {
  'least wood': 'The least wood',
  'evenly spread': 'Spread evenly',
  'one brace': 'In one place',
};

function Answer(props: { readonly plan: Plan; readonly answer: TopAdvice }) {
  const { answer, plan } = props;
  switch (answer.kind) {
    case 'nothing-to-do':
      return <p class="verdict within">Every target is reached. Stop here.</p>;
    case 'no-such-mode':
      return (
        <p>
          No computed mode is called {answer.name}. Name the target as the list of modes does, or the target cannot be
          aimed at.
        </p>
      );
    case 'cannot':
      return (
        <p>
          {
            {
              'only-shaving-lowers':
                'Shaving cannot bring the modes there: it takes stiffness away, and the target lies the other way.',
              'no-wood-to-spare': 'There is no wood to spare above the floors.',
              unsolvable: 'The drawing could not be computed on the way.',
            }[answer.because]
          }
        </p>
      );
    case 'advice':
      return (
        <ol class="ways">
          {answer.alternatives.map((way) => (
            <Way key={way.way} plan={plan} way={way} names={answer.names} />
          ))}
        </ol>
      );
  }
}

/** Modes told of: those the maker would hear first. */
const TOLD = 4;

function Way(props: { readonly plan: Plan; readonly way: CheckedAdvice; readonly names: readonly string[] }) {
  const { way, plan } = props;
  const nameOf = (id: string) => plan.braces.find((brace) => brace.id === id)?.name ?? id;
  return (
    <li>
      <h3>{wayWords[way.way]}</h3>
      <ul>
        {way.shavings.map((shaving) => (
          <li key={`${shaving.braceId} ${shaving.fromMm}`}>
            {number(shaving.removeMm, 1)} mm off {nameOf(shaving.braceId)}, from {number(shaving.fromMm, 0)} to{' '}
            {number(shaving.toMm, 0)} mm
          </li>
        ))}
      </ul>
      <p>
        {number(way.removedG, 2)} g off.{' '}
        {way.moves
          .slice(0, TOLD)
          .map((move) => `${props.names[move.mode] ?? ''} ${signed(move.move, 'Hz')}`)
          .join('; ')}
        . {way.reached.every(Boolean) ? 'Reaches the target.' : 'Does not reach every target.'}
      </p>
      {way.turnDeg !== undefined && (
        <p class={way.turnsTooFar ? 'stop' : 'caution'}>
          The strings would then turn the bridge by {number(way.turnDeg, 1)}°
          {way.turnsTooFar ? ', more than the published 2°. ' : '. '}A guide, not a guarantee.
        </p>
      )}
    </li>
  );
}
