// The maker's loop in one place: where each wanted mode stands, what the last pass did, the one pass that is proposed, and
// the taps after it. It works without a plan too, from what the passes so far have done.
import { useEffect, useRef } from 'preact/hooks';
import { courseToward } from '../../compare/course.ts';
import type { Series } from '../../compare/series.ts';
import { type Track, tracks } from '../../compare/tracks.ts';
import { nextPassMeasured } from '../../forecast/measured-pass.ts';
import type { TopAdvice } from '../../forecast/top-advice.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import { removals } from '../../record/cuts.ts';
import { isPlateAlone } from '../../record/plan-case.ts';
import type { InstrumentRecord, Plan, Target } from '../../record/record.ts';
import { Session } from '../bench/session.tsx';
import { useAdviceQuestion, useAgreementQuestion } from '../forecast/use-questions.ts';
import { forecastWords } from '../forecast/words.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { number } from '../parts/figures.ts';
import { useLength } from '../parts/own-units.ts';
import { Waiting } from '../parts/waiting.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { TargetBand } from './band.tsx';
import { verdictWords } from './course.tsx';
import { LastPass } from './last-pass.tsx';
import { inHundred, Proposed, StopHere, standingPlan, WhatElse } from './proposed.tsx';
import './next-pass.css';

export function NextPassCard(props: { readonly record: InstrumentRecord; readonly conditions: Series }) {
  const { bench } = useWorkshop();
  const { record, conditions } = props;
  const place = useRef<HTMLDivElement>(null);
  const state = bench.state.value;
  const isOurs = 'place' in state && state.place.recordId === record.id && 'stepId' in state.place;
  const isTapping = state.kind === 'opening' || (isOurs && state.kind !== 'answer');
  // Whatever needs the maker's eyes while tapping is in view, however far down the press was.
  useEffect(() => {
    if (isTapping) place.current?.scrollIntoView({ block: 'start' });
  }, [isTapping]);
  return (
    <div ref={place} class="next-pass-place">
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
          <Between record={record} conditions={conditions} />
        )}
      </Card>
    </div>
  );
}

/** Between two rounds of taps: what happened, and what to do. */
function Between(props: { readonly record: InstrumentRecord; readonly conditions: Series }) {
  const { record, conditions } = props;
  const followed = tracks(record, conditions.stage, conditions.support);
  const targets = record.targets.filter(({ stage }) => stage === conditions.stage);
  const plan = isPlateAlone(conditions.support) ? standingPlan(record) : undefined;
  const latest = followed[0]?.points.at(-1);
  return (
    <>
      {plan === undefined ? (
        <WithoutPlan record={record} conditions={conditions} targets={targets} followed={followed} />
      ) : (
        <WithPlan record={record} plan={plan} conditions={conditions} targets={targets} followed={followed} />
      )}
      {latest !== undefined && !latest.signature.scatterKnown && (
        <p class="hint">{words.steps.oneHold(number(0.1, 1), number(0.3, 1))}</p>
      )}
    </>
  );
}

interface Way {
  readonly record: InstrumentRecord;
  readonly conditions: Series;
  readonly targets: readonly Target[];
  readonly followed: readonly Track[];
}

const trackOf = ({ followed }: Way, { mode }: Target): Track | undefined =>
  followed.find((track) => track.name === mode);

function WithPlan(props: Way & { readonly plan: Plan }) {
  const { forecasts } = useWorkshop();
  const { record, plan, conditions, targets } = props;
  const t = forecastWords().nextPass;
  const drawn = record.plan ?? plan;
  const past = useAgreementQuestion(record, drawn, conditions);
  const advice = useAdviceQuestion(record, drawn, conditions);
  const [looking, asked] = [forecasts.agreement.current.value, forecasts.advice.current.value];
  const isLookedBack =
    past.question.steps.length === 0 || ('key' in looking && looking.key === past.key && looking.kind !== 'computing');
  const canAsk = isLookedBack && targets.length > 0 && (advice?.question.floors.length ?? 0) > 0;
  useEffect(() => {
    if (past.question.steps.length > 0) forecasts.agreement.ask(past.question);
  }, [past.key]);
  useEffect(() => {
    if (canAsk && advice !== undefined) forecasts.advice.ask(advice.question);
  }, [canAsk, advice?.key]);
  const answer = asked.kind === 'ready' && asked.key === advice?.key ? asked.answer : undefined;
  const first = answer?.kind === 'advice' ? answer.alternatives[0] : undefined;
  const next = first?.next;
  const stop = next?.kind === 'stop' ? next : undefined;
  const landsOf = (target: Target) => (next?.kind === 'pass' ? next.pass.landsAt[targets.indexOf(target)] : undefined);
  return (
    <>
      {targets.map((target) => {
        const now = trackOf(props, target)?.points.at(-1)?.mode.frequencyHz;
        return now && <TargetBand key={target.id} target={target} now={now} lands={landsOf(target)} />;
      })}
      <LastPass record={record} conditions={conditions} wanted={targets.map(({ mode }) => mode)} />
      {targets.length === 0 && <p class="note">{t.needsTarget}</p>}
      {targets.length > 0 && advice?.question.floors.length === 0 && (
        <p class="note">
          {t.needsFloors} <a href="#/plan">{t.toPlan}</a>
        </p>
      )}
      {looking.kind === 'computing' && !isLookedBack ? (
        <Waiting
          asked={looking}
          what={t.lookingBack}
          onCancel={() => forecasts.agreement.cancel()}
          onAgain={() => forecasts.agreement.again(past.question)}
        />
      ) : (
        advice !== undefined &&
        canAsk && (
          <Waiting
            asked={asked}
            what={t.looking}
            onCancel={() => forecasts.advice.cancel()}
            onAgain={() => forecasts.advice.again(advice.question)}
          />
        )
      )}
      {stop !== undefined ? (
        <StopHere stop={stop} />
      ) : answer?.kind === 'advice' ? (
        <Proposed record={record} plan={plan} conditions={conditions} answer={answer} />
      ) : (
        answer !== undefined && <p class="verdict">{noAdviceWords(answer)}</p>
      )}
      {(answer?.kind !== 'advice' || stop !== undefined) && (
        <WhatElse record={record} plan={plan} conditions={conditions} />
      )}
    </>
  );
}

function noAdviceWords(answer: Exclude<TopAdvice, { kind: 'advice' }>): string {
  const t = forecastWords().advice;
  switch (answer.kind) {
    case 'nothing-to-do':
      return t.reachedAll;
    case 'no-such-mode':
      return t.noSuchMode(answer.name);
    case 'cannot':
      return t.cannot[answer.because];
  }
}

/** Judged by what the passes so far have done. */
function WithoutPlan(props: Way) {
  const { record, conditions, targets } = props;
  const t = forecastWords().nextPass;
  return (
    <>
      {targets.map((target) => {
        const track = trackOf(props, target);
        const now = track?.points.at(-1)?.mode.frequencyHz;
        return (
          track &&
          now && (
            <div key={target.id}>
              <MeasuredPassOf record={record} track={track} target={target} now={now} />
              <p class="hint">{verdictWords(courseToward(track, removals(record), target))}</p>
            </div>
          )
        );
      })}
      <LastPass record={record} conditions={conditions} wanted={targets.map(({ mode }) => mode)} />
      {targets.length === 0 && <p class="note">{t.needsTarget}</p>}
      {isPlateAlone(conditions.support) && (
        <p class="hint">
          {t.needsPlan} <a href="#/plan">{t.toPlan}</a>
        </p>
      )}
      <WhatElse record={record} plan={undefined} conditions={conditions} />
    </>
  );
}

/** A pass like the last, sized by what like passes have done. */
function MeasuredPassOf(props: {
  readonly record: InstrumentRecord;
  readonly track: Track;
  readonly target: Target;
  readonly now: Estimate;
}) {
  const { record, track, target, now } = props;
  const t = forecastWords().nextPass;
  const length = useLength();
  const { next, at, moves } = nextPassMeasured(record, track, target);
  return (
    <>
      <TargetBand target={target} now={now} lands={next.kind === 'pass' ? next.pass.landsAt[0] : undefined} />
      {next.kind === 'stop' ? (
        <StopHere stop={next} />
      ) : (
        <p class="pass-cut">
          {t.asLast(length(next.pass.depthMm), at?.brace ?? '', moves.length)}
          {` · ${t.chancePast(inHundred(next.pass.chancePast))}`}
        </p>
      )}
    </>
  );
}
