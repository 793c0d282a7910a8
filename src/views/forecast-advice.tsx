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
import type { StrungAnswer } from '../forecast/strung.ts';
import type { CheckedAdvice, NamedTarget, TopAdvice } from '../forecast/top-advice.ts';
import type { TopAgreement } from '../forecast/top-agreement.ts';
import { planNow } from '../record/plan-course.ts';
import type { InstrumentRecord, Plan } from '../record/record.ts';
import { cutWords } from './cut-words.ts';
import { number, signed, withHalfWidth } from './figures.ts';
import { turnWords, usePull } from './forecast-strung.tsx';
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
  const pull = usePull(record);
  const spreadFactor = usePast()?.spreadFactor;
  if (plate === undefined || tapped === undefined) return null;
  const strung = strungTop(record, now, conditions.support, pull);
  const question = {
    plate,
    tappedPlate: tapped.plate,
    tapped: tapped.modes,
    parameters: fitParameters(plan, conditions.support),
    targets,
    floors,
    ...(strung && { strung }),
    ...(spreadFactor !== undefined && { spreadFactor }),
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
          {isCurrent && asked.kind === 'ready' && (
            <Answer record={record} plan={plan} targets={targets} answer={asked.answer} />
          )}
        </>
      )}
    </section>
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
  return (
    <p class="caution">
      {told.length === 0
        ? 'No forecast for this top has been put to the test yet.'
        : `Its forecasts for this top held in ${told.filter((move) => move.agrees).length} of ${told.length} moves.`}
      {past.spreadFactor > 1.05 &&
        ` The spreads below are ${number(past.spreadFactor, 1)} times wider for what was missed.`}
      {isMisfit && ' The taps and the drawing do not agree at present: do not lean on this.'}
    </p>
  );
}

const wayWords: Readonly<Record<CheckedAdvice['way'], string>> = {
  'least wood': 'The least wood',
  'evenly spread': 'Spread evenly',
  'one brace': 'In one place',
};

function Answer(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly targets: readonly NamedTarget[];
  readonly answer: TopAdvice;
}) {
  const { answer, record, plan, targets } = props;
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
  const aims = targets.flatMap((target, i) => {
    const move = way.moves.find(({ mode }) => names[mode] === target.name);
    return move === undefined ? [] : [{ move, target, isReached: way.reached[i] === true }];
  });
  const others = way.moves.filter(
    ({ mode, move }) => !aims.some((aim) => aim.move.mode === mode) && Math.abs(move.value) > 2 * move.sigma,
  );
  return (
    <li>
      <h3>{wayWords[way.way]}</h3>
      <ul>
        {cutWords(props.plan, props.record.hand, way.shavings).map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <p>{number(way.removedG, 1)} g of wood in all.</p>
      <ul class="way-moves">
        {aims.map(({ move, target, isReached }) => (
          <li key={move.mode}>
            <strong>
              {target.name} {signed(move.move, 'Hz')}
            </strong>
            , to {withHalfWidth(move.after, 'Hz')}
            {isReached ? ': reaches ' : ': does not reach '}
            {number(target.frequencyHz, 1)} Hz within {number(target.toleranceHz, 1)}.
          </li>
        ))}
        {others.length > 0 && (
          <li>
            Moves with it:{' '}
            {others.map(({ mode, move }) => `${names[mode] ?? `mode ${mode + 1}`} ${signed(move, 'Hz')}`).join('; ')}.
          </li>
        )}
      </ul>
      {way.strung !== undefined && (
        <p class={way.turnsTooFar ? 'stop' : 'caution'}>
          The strings would then turn the bridge by {withHalfWidth(way.strung.turnDeg, '°')}
          {props.strungNow && ` (now ${withHalfWidth(props.strungNow.turnDeg, '°')})`} and lift it by{' '}
          {withHalfWidth(way.strung.riseMm, 'mm')}. {turnWords(way.strung.turnDeg)} A guide, not a guarantee.
        </p>
      )}
    </li>
  );
}
