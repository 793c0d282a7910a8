// The drawn top against the bench: what the fit moved, how each mode fits, and forecast against measured for every step.
import { useEffect, useMemo } from 'preact/hooks';
import { fitParameters, measuredSteps, type PlanConditions } from '../../forecast/plan-question.ts';
import type { FitSummary, PastMove, TopAgreement } from '../../forecast/top-agreement.ts';
import type { InstrumentRecord, Plan } from '../../record/record.ts';
import { Emphasised } from '../parts/emphasised.tsx';
import { signed, withHalfWidth } from '../parts/figures.ts';
import { Scroll } from '../parts/scroll.tsx';
import { Waiting } from '../parts/waiting.tsx';
import { useWorkshop } from '../workshop-context.ts';
import { forecastWords } from './words.ts';

export function AgreementCard(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly conditions: PlanConditions;
  /** whether the modes of the drawing as it stands are there: they come first, for looking back takes longer */
  readonly isDue: boolean;
}) {
  const { forecasts } = useWorkshop();
  const { record, plan, conditions, isDue } = props;
  const t = forecastWords().agreement;
  const { question, key } = useMemo(() => {
    const steps = measuredSteps(record, plan, conditions);
    const question = { steps, parameters: fitParameters(plan, conditions.support) };
    return { question, key: JSON.stringify(question) };
  }, [record, plan, conditions]);
  const { steps } = question;
  const asked = forecasts.agreement.current.value;
  useEffect(() => {
    if (!isDue) forecasts.agreement.giveUp();
    else if (steps.length > 0) forecasts.agreement.ask(question);
  }, [key, isDue]);
  if (steps.length === 0)
    return (
      <section class="card">
        <h2>{t.title}</h2>
        <p>
          {t.notTapped} <a href="#/bench">{t.toBench}</a>
        </p>
      </section>
    );
  return (
    <section class="card">
      <h2>{t.title}</h2>
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
    </section>
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
  const { isMisfit } = props.fit;
  return isMisfit ? (
    <p class="stop" role="alert">
      {forecastWords().agreement.misfit}
    </p>
  ) : (
    <p>{forecastWords().agreement.fits}</p>
  );
}

function Fit(props: { readonly fit: FitSummary; readonly names: readonly string[]; readonly title: string }) {
  const { fit, names } = props;
  const t = forecastWords().agreement;
  return (
    <>
      <h3>{props.title}</h3>
      <Scroll label={t.fitOf(props.title)}>
        <table>
          <thead>
            <tr>
              <th scope="col">{t.mode}</th>
              <th scope="col">{t.measured}</th>
              <th scope="col">{t.computed}</th>
              <th scope="col">{t.apart}</th>
            </tr>
          </thead>
          <tbody>
            {fit.fits.map((mode) => (
              <tr key={mode.mode}>
                <th scope="row">{names[mode.mode]}</th>
                <td>{withHalfWidth(mode.measured, 'Hz')}</td>
                <td>{withHalfWidth(mode.computed, 'Hz')}</td>
                <td>{signed(mode.apart, 'Hz')}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      <p class="hint">{t.apartHint}</p>
      <Scroll label={t.movedOf(props.title)}>
        <table>
          <thead>
            <tr>
              <th scope="col">{t.moved}</th>
              <th scope="col">{t.times}</th>
              <th scope="col">{t.beforehand}</th>
            </tr>
          </thead>
          <tbody>
            {fit.parameters.map((parameter, i) => (
              <tr key={parameter.property}>
                <th scope="row">{t.properties[parameter.property]}</th>
                <td>{fit.factors[i] === undefined ? '–' : withHalfWidth(fit.factors[i], '')}</td>
                <td>{withHalfWidth({ value: 1, sigma: parameter.relativeSigma }, '')}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
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
  return (
    <Scroll label={props.label}>
      <table class="history">
        <thead>
          <tr>
            <th scope="col">{t.mode}</th>
            <th scope="col">{t.forecastHz}</th>
            <th scope="col">{t.measuredHz}</th>
            <th scope="col">{t.held}</th>
          </tr>
        </thead>
        {props.steps.map((stepId) => (
          <tbody key={stepId}>
            <tr>
              <th scope="rowgroup" colSpan={4} class="history-step">
                {props.record.steps.find((step) => step.id === stepId)?.done || t.unnamedStep}
              </th>
            </tr>
            {past
              .filter((move) => move.stepId === stepId)
              .map((move) => (
                <Move key={move.mode} move={move} name={names[move.mode] ?? ''} />
              ))}
          </tbody>
        ))}
      </table>
    </Scroll>
  );
}

function Move(props: { readonly move: PastMove; readonly name: string }) {
  const { move } = props;
  const t = forecastWords().agreement;
  const isCut = move.forecast.value !== 0;
  return (
    <tr>
      <th scope="row">{props.name}</th>
      <td>{isCut ? signed(move.forecast, '') : t.nothingCut}</td>
      <td>{signed(move.measured, '')}</td>
      <td>{isCut ? (move.agrees ? t.yes : t.no) : '–'}</td>
    </tr>
  );
}
