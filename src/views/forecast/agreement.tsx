// The drawn top against the bench: what the fit moved, how each mode fits, and forecast against measured for every step.

import { useEffect } from 'preact/hooks';
import type { Series } from '../../compare/series.ts';
import type { FitSummary, PastMove, TopAgreement } from '../../forecast/top-agreement.ts';
import type { InstrumentRecord, Plan, Step } from '../../record/record.ts';
import { Card } from '../parts/card.tsx';
import { Emphasised } from '../parts/emphasised.tsx';
import { signed, withHalfWidth } from '../parts/figures.ts';
import { useStepName } from '../parts/step-name.ts';
import { type Row, Table } from '../parts/table.tsx';
import { Waiting } from '../parts/waiting.tsx';
import { useWorkshop } from '../workshop-context.ts';
import { useAgreementQuestion } from './use-questions.ts';
import { forecastWords } from './words.ts';

export function AgreementCard(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly conditions: Series;
  /** whether the modes of the drawing as it stands are there: they come first, for looking back takes longer */
  readonly isDue: boolean;
}) {
  const { forecasts } = useWorkshop();
  const { record, plan, conditions, isDue } = props;
  const t = forecastWords().agreement;
  const { question, key } = useAgreementQuestion(record, plan, conditions);
  const { steps } = question;
  const asked = forecasts.agreement.current.value;
  useEffect(() => {
    if (!isDue) forecasts.agreement.giveUp();
    else if (steps.length > 0) forecasts.agreement.ask(question);
  }, [key, isDue]);
  if (steps.length === 0)
    return (
      <Card title={t.title}>
        <p>
          {t.notTapped} <a href="#/bench">{t.toBench}</a>
        </p>
      </Card>
    );
  return (
    <Card title={t.title}>
      <Waiting
        asked={asked}
        what={t.agreeing}
        onCancel={() => forecasts.agreement.cancel()}
        onAgain={() => forecasts.agreement.again(question)}
      />
      {asked.kind === 'ready' && asked.key === key && asked.answer.kind === 'nothing-in-common' && (
        <p>{t.nothingInCommon}</p>
      )}
      {asked.kind === 'ready' && asked.key === key && asked.answer.kind === 'unsolvable' && <p>{t.unsolvable}</p>}
      {asked.kind === 'ready' && asked.key === key && asked.answer.kind === 'agreement' && (
        <Agreement record={record} answer={asked.answer} />
      )}
    </Card>
  );
}

function Agreement(props: { readonly record: InstrumentRecord; readonly answer: TopAgreement }) {
  const { answer, record } = props;
  const t = forecastWords().agreement;
  return (
    <>
      <p>{t.pairedBy(answer.pairedBy)}</p>
      <Misfit fit={answer.latest} />
      <History record={record} answer={answer} />
      <details>
        <summary>{t.more}</summary>
        <Fit fit={answer.first} names={answer.names} title={t.first} />
        {answer.past.length > 0 && <Fit fit={answer.latest} names={answer.names} title={t.latest} />}
      </details>
    </>
  );
}

function Misfit(props: { readonly fit: FitSummary }) {
  const { isMisfit, farProperties } = props.fit;
  const t = forecastWords().agreement;
  if (!isMisfit && farProperties.length === 0) return <p>{t.fits}</p>;
  return (
    <p class="stop" role="alert">
      {[...(isMisfit ? [t.misfit] : []), ...(farProperties.length > 0 ? [t.far(farProperties)] : [])].join(' ')}
    </p>
  );
}

function Fit(props: { readonly fit: FitSummary; readonly names: readonly string[]; readonly title: string }) {
  const { fit, names } = props;
  const t = forecastWords().agreement;
  return (
    <>
      <h3>{props.title}</h3>
      <Table
        label={t.fitOf(props.title)}
        head={[t.mode, t.measured, t.computed, t.apart]}
        rows={fit.fits.map((mode) => [
          names[mode.mode],
          withHalfWidth(mode.measured, 'Hz'),
          withHalfWidth(mode.computed, 'Hz'),
          signed(mode.apart, 'Hz'),
        ])}
      />
      <p class="hint">{t.apartHint}</p>
      <Table
        label={t.movedOf(props.title)}
        head={[t.moved, t.times, t.beforehand]}
        rows={fit.parameters.map((parameter, i) => [
          t.properties[parameter.property],
          fit.factors[i] === undefined ? '–' : withHalfWidth(fit.factors[i], ''),
          withHalfWidth({ value: 1, sigma: parameter.relativeSigma }, ''),
        ])}
      />
    </>
  );
}

/** Steps that stand open; the older ones are folded away. */
const shownSteps = 2;

/** Forecast against measured, and how often it was right. */
function History(props: { readonly record: InstrumentRecord; readonly answer: TopAgreement }) {
  const { past } = props.answer;
  const t = forecastWords().agreement;
  if (past.length === 0) return <p>{t.noPast}</p>;
  // Where nothing was cut nothing was forecast: such a step neither proves nor disproves.
  const cut = past.filter((move) => move.forecast.value !== 0);
  const right = cut.filter((move) => move.agrees).length;
  const steps = [...new Set(past.map((move) => move.stepId))].toReversed();
  const earlier = steps.slice(shownSteps);
  return (
    <>
      <p class="verdict-line">
        <Emphasised text={t.right(right, cut.length)} part={String(right)} />
      </p>
      <PastSteps {...props} steps={steps.slice(0, shownSteps)} label={t.against} />
      {earlier.length > 0 && (
        <details>
          <summary>{t.earlier(earlier.length)}</summary>
          <PastSteps {...props} steps={earlier} label={t.againstEarlier} />
        </details>
      )}
      <p class="hint">{t.pastHint}</p>
    </>
  );
}

function PastSteps(props: {
  readonly record: InstrumentRecord;
  readonly answer: TopAgreement;
  readonly steps: readonly string[];
  readonly label: string;
}) {
  const { past, names } = props.answer;
  const t = forecastWords().agreement;
  const nameOf = useStepName();
  const stepName = (step: Step | undefined) => (step === undefined ? '' : nameOf(props.record, step));
  return (
    <Table
      label={props.label}
      class="history"
      head={[t.mode, t.forecastHz, t.measuredHz, t.held]}
      rows={props.steps.map((stepId) => ({
        title: stepName(props.record.steps.find((step) => step.id === stepId)),
        rows: past.filter((move) => move.stepId === stepId).map((move) => pastRow(move, names[move.mode] ?? '')),
      }))}
    />
  );
}

function pastRow(move: PastMove, name: string): Row {
  const t = forecastWords().agreement;
  const isCut = move.forecast.value !== 0;
  return [
    name,
    isCut ? signed(move.forecast, '') : t.nothingCut,
    signed(move.measured, ''),
    isCut ? (move.agrees ? t.yes : t.no) : '–',
  ];
}
