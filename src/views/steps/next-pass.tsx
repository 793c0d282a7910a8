// The maker's loop in one place: where each wanted mode stands, what the last pass did, the one pass that is proposed, and
// the taps after it. It works without a plan too, from what the passes so far have done.
import { useEffect } from 'preact/hooks';
import { type Series, targetsAt } from '../../compare/series.ts';
import { signatureUnder } from '../../compare/signature.ts';
import { tracks } from '../../compare/tracks.ts';
import type { TopAdvice } from '../../forecast/top-advice.ts';
import { stepCutAfter } from '../../record/cut-entry.ts';
import { planNow } from '../../record/cuts.ts';
import { isPlateAlone } from '../../record/plan-case.ts';
import type { InstrumentRecord, Plan, Target } from '../../record/record.ts';
import { OtherInstrument } from '../bench/other-instrument.tsx';
import { RoundsApart } from '../bench/rounds-apart.tsx';
import { Session } from '../bench/session.tsx';
import { useAdviceQuestion, useAgreementQuestion } from '../forecast/use-questions.ts';
import { forecastWords, noAdviceWords } from '../forecast/words.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { number } from '../parts/figures.ts';
import { Waiting } from '../parts/waiting.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { TargetBand } from './band.tsx';
import { CutNotTapped } from './cut-not-tapped.tsx';
import { LastPass } from './last-pass.tsx';
import { Proposed, StopHere, type StopHereAt, WhatElse } from './proposed.tsx';
import './next-pass.css';
import { type OfSeries, trackOf, WithoutPlan } from './without-plan.tsx';

export function NextPassCard(props: { readonly record: InstrumentRecord; readonly conditions: Series }) {
  const { bench } = useWorkshop();
  const { record, conditions } = props;
  const state = bench.state.value;
  const isOurs = 'place' in state && state.place.recordId === record.id && 'stepId' in state.place;
  const isTapping = state.kind === 'opening' || (isOurs && state.kind !== 'answer');
  return (
    <Card class="next-pass" label={forecastWords().nextPass.label}>
      {isTapping ? (
        <>
          {state.kind === 'opening' && (
            <>
              <p class="count">{words.bench.opening}</p>
              <Actions>
                <Button text={words.bench.doNotWait} onPress={() => bench.giveUpOpening()} />
              </Actions>
            </>
          )}
          <Session answer={() => null} />
        </>
      ) : (
        <>
          <OtherInstrument record={record} />
          <Between record={record} conditions={conditions} />
        </>
      )}
    </Card>
  );
}

/** Between two rounds of taps: what happened, and what to do. */
function Between(props: { readonly record: InstrumentRecord; readonly conditions: Series }) {
  const { record, conditions } = props;
  const followed = tracks(record, conditions.stage, conditions.support);
  const targets = targetsAt(record, conditions.stage);
  const plan = isPlateAlone(conditions.support) ? record.plan : undefined;
  const measured = record.steps.findLast(
    (step) => step.stage === conditions.stage && signatureUnder(step, conditions.support) !== undefined,
  );
  const cutSince = measured && stepCutAfter(record, measured.id);
  const series = { record, conditions, targets, followed };
  return (
    <>
      {measured && <RoundsApart recordId={record.id} step={measured} />}
      {cutSince !== undefined ? (
        <CutNotTapped {...series} step={cutSince} />
      ) : plan === undefined ? (
        <WithoutPlan {...series} />
      ) : (
        <WithPlan {...series} plan={plan} />
      )}
      {measured !== undefined && !signatureUnder(measured, conditions.support)!.scatterKnown && (
        <p class="hint">{words.steps.oneHold(number(0.1, 1), number(0.3, 1))}</p>
      )}
    </>
  );
}

/** @param props.plan as it was drawn */
function WithPlan(props: OfSeries & { readonly plan: Plan }) {
  const { record, plan, conditions, targets } = props;
  const standing = planNow(record, plan);
  const t = forecastWords().nextPass;
  const { looking, advising, answer } = useNextPass(props);
  const next = answer?.kind === 'advice' ? answer.alternatives[0]?.next : undefined;
  const stop = next?.kind === 'stop' ? next : stopWhereReached(answer);
  const landsOf = (target: Target) => (next?.kind === 'pass' ? next.pass.landsAt[targets.indexOf(target)] : undefined);
  return (
    <>
      {targets.map((target) => {
        const now = trackOf(props, target)?.points.at(-1)?.mode.frequencyHz;
        return now && <TargetBand key={target.id} target={target} now={now} lands={landsOf(target)} />;
      })}
      <LastPass record={record} conditions={conditions} wanted={targets.map(({ mode }) => mode)} />
      {targets.length === 0 && <p class="note">{t.needsTarget}</p>}
      {targets.length > 0 && !advising.hasFloors && (
        <p class="note">
          {t.needsFloors} <a href="#/plan">{t.toPlan}</a>
        </p>
      )}
      {looking.isWaited ? <Waiting {...looking.waiting} /> : advising.isAsked && <Waiting {...advising.waiting} />}
      {stop !== undefined && <StopHere stop={stop} />}
      {stop === undefined && answer?.kind === 'advice' && (
        <Proposed record={record} plan={standing} conditions={conditions} targets={targets} answer={answer} />
      )}
      {stop === undefined && answer !== undefined && answer.kind !== 'advice' && (
        <p class="verdict">{noAdviceWords(answer)}</p>
      )}
      {(answer?.kind !== 'advice' || stop !== undefined) && (
        <WhatElse record={record} plan={standing} conditions={conditions} />
      )}
    </>
  );
}

/** Where nothing is left to do the odds of stopping are told as anywhere else. */
const stopWhereReached = (answer: TopAdvice | undefined): StopHereAt | undefined =>
  answer?.kind === 'nothing-to-do' ? { because: 'reached', now: answer.odds } : undefined;

/** Looks back at the steps so far, then asks for the next pass; both again whenever what they rest on has changed. */
function useNextPass(props: OfSeries & { readonly plan: Plan }) {
  const { forecasts } = useWorkshop();
  const { record, plan, conditions, targets } = props;
  const t = forecastWords().nextPass;
  const past = useAgreementQuestion(record, plan, conditions);
  const advice = useAdviceQuestion(record, plan, conditions);
  const [looking, asked] = [forecasts.agreement.current.value, forecasts.advice.current.value];
  const isLookedBack =
    past.question.steps.length === 0 || ('key' in looking && looking.key === past.key && looking.kind !== 'computing');
  const hasFloors = (advice?.question.floors.length ?? 0) > 0;
  const canAsk = isLookedBack && targets.length > 0 && hasFloors;
  useEffect(() => {
    if (past.question.steps.length > 0) forecasts.agreement.ask(past.question);
  }, [past.key]);
  useEffect(() => {
    if (canAsk && advice !== undefined) forecasts.advice.ask(advice.question);
  }, [canAsk, advice?.key]);
  return {
    looking: {
      isWaited: looking.kind === 'computing' && !isLookedBack,
      waiting: {
        asked: looking,
        what: t.lookingBack,
        onCancel: () => forecasts.agreement.cancel(),
        onAgain: () => forecasts.agreement.again(past.question),
      },
    },
    advising: {
      hasFloors: hasFloors || advice === undefined,
      isAsked: advice !== undefined && canAsk,
      waiting: {
        asked,
        what: t.looking,
        onCancel: () => forecasts.advice.cancel(),
        onAgain: () => advice && forecasts.advice.again(advice.question),
      },
    },
    answer: asked.kind === 'ready' && asked.key === advice?.key ? asked.answer : undefined,
  };
}
