// What to do next: the one pass that is proposed, where it lands and at what odds, or that it is time to stop.

import { useState } from 'preact/hooks';
import type { Series } from '../../compare/series.ts';
import type { NextPass as SizedPass } from '../../forecast/next-pass.ts';
import type { CheckedAdvice, TopAdvice } from '../../forecast/top-advice.ts';
import type { Point } from '../../plate/outline.ts';
import { cutsOfAdvice } from '../../record/cut-entry.ts';
import { namedCuts } from '../../record/cut-place.ts';
import { planBraceLengthMm } from '../../record/plan-brace.ts';
import type { InstrumentRecord, Plan, Target } from '../../record/record.ts';
import { chanceWords, forecastWords } from '../forecast/words.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { useEnterCuts } from '../parts/enter-cuts.ts';
import { withHalfWidth } from '../parts/figures.ts';
import { onScreen } from '../plan/face.ts';
import { PlanDrawing } from '../plan/plan-drawing.tsx';
import { useCutWords } from '../plan/words.ts';
import { useWorkshop } from '../workshop-context.ts';
import { DidElse } from './did-else.tsx';
import { useNewStep } from './step-form.tsx';
import { useListen } from './use-listen.ts';

export function Proposed(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly conditions: Series;
  readonly targets: readonly Target[];
  readonly answer: Extract<TopAdvice, { kind: 'advice' }>;
}) {
  const { record, plan, conditions, targets, answer } = props;
  const t = forecastWords().nextPass;
  const [first, ...others] = answer.alternatives;
  if (first === undefined) return null;
  return (
    <>
      <h2>{t.proposed}</h2>
      <Way record={record} plan={plan} conditions={conditions} targets={targets} way={first} />
      <WhatElse record={record} plan={plan} conditions={conditions} />
      {others.length > 0 && (
        <details>
          <summary>{t.otherWays(others.length)}</summary>
          {others.map((way) => (
            <Way key={way.way} record={record} plan={plan} conditions={conditions} targets={targets} way={way} />
          ))}
        </details>
      )}
    </>
  );
}

function Way(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly conditions: Series;
  /** in the order in which they were asked */
  readonly targets: readonly Target[];
  readonly way: CheckedAdvice;
}) {
  const { record, plan, conditions, targets, way } = props;
  const { newId } = useWorkshop();
  const t = forecastWords().nextPass;
  const enter = useEnterCuts();
  const cutWords = useCutWords();
  const listen = useListen(record, conditions);
  const { next } = way;
  if (next.kind === 'stop') return <StopHere stop={next} />;
  return (
    <div class="pass-columns">
      <div>
        {namedCuts(plan, record.hand, next.cuts)
          .map(cutWords)
          .map((sentence) => (
            <p class="pass-cut" key={sentence}>
              {sentence}
            </p>
          ))}
        <p>
          {[
            ...targets.flatMap(({ mode }, i) => {
              const lands = next.pass.landsAt[i];
              return lands === undefined ? [] : [t.landsAt(mode, withHalfWidth(lands, 'Hz'))];
            }),
            t.chancePast(chanceWords(next.pass.chancePast)),
            t.chanceWithin(chanceWords(next.pass.chanceWithin)),
          ].join(' · ')}
        </p>
        {way.caution !== 'none' && <p class="caution">{forecastWords().advice.caution[way.caution]}</p>}
        <Actions>
          <Button
            kind="primary"
            isBig
            text={t.didThis}
            onPress={() => listen(enter(record, cutsOfAdvice(plan, next.cuts, newId)))}
          />
        </Actions>
      </div>
      <PlanDrawing plan={plan} hand={record.hand} face="inside">
        {next.cuts.map((cut) => {
          const brace = plan.braces.find(({ id }) => id === cut.braceId);
          if (brace === undefined) return null;
          const length = planBraceLengthMm(brace);
          const at = (mm: number): Point => {
            const share = length > 0 ? mm / length : 0;
            return onScreen('inside', [
              brace.from.xMm + share * (brace.to.xMm - brace.from.xMm),
              brace.from.yMm + share * (brace.to.yMm - brace.from.yMm),
            ]);
          };
          const [[x1, y1], [x2, y2]] = [at(cut.fromMm), at(cut.toMm)];
          return <line key={`${cut.braceId} ${cut.fromMm}`} class="pass-stretch" x1={x1} y1={y1} x2={x2} y2={y2} />;
        })}
      </PlanDrawing>
    </div>
  );
}

/** What was done instead, or only another round of taps. */
export function WhatElse(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan | undefined;
  readonly conditions: Series;
  /** false where to tap is the one thing asked for already */
  readonly isTapOffered?: boolean;
}) {
  const { record, plan, conditions, isTapOffered = true } = props;
  const t = forecastWords().nextPass;
  const [isOpen, setOpen] = useState(false);
  const newStep = useNewStep();
  const listen = useListen(record, conditions);
  if (isOpen) return <DidElse record={record} plan={plan} conditions={conditions} onClose={() => setOpen(false)} />;
  return (
    <Actions>
      <Button text={t.didElse} onPress={() => setOpen(true)} />
      {isTapOffered && (
        <Button kind="quiet" text={t.tapOnly} onPress={() => listen(record.steps.at(-1)?.id ?? newStep())} />
      )}
    </Actions>
  );
}

/** Why to stop, and the odds of doing so. */
export type StopHereAt = Pick<Extract<SizedPass, { kind: 'stop' }>, 'because' | 'now'>;

export function StopHere(props: { readonly stop: StopHereAt }) {
  const { stop } = props;
  const t = forecastWords().nextPass;
  return (
    <>
      <p class="verdict within">{t.stopHere}</p>
      <p>
        {t.stopBecause[stop.because]} {t.stopOdds(chanceWords(stop.now.chanceWithin))} {t.cautionStop}
      </p>
    </>
  );
}
