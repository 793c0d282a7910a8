// The drawn top against the bench: what the fit moved, how each mode fits, and forecast against measured for every step.
import { useEffect } from 'preact/hooks';
import type { Property } from '../forecast/calibration.ts';
import { fitParameters, measuredSteps, type PlanConditions } from '../forecast/plan-question.ts';
import type { FitSummary, PastMove, TopAgreement } from '../forecast/top-agreement.ts';
import type { InstrumentRecord, Plan } from '../record/record.ts';
import { number, signed, withHalfWidth } from './figures.ts';
import { Waiting } from './forecast-waiting.tsx';
import { count } from './words.ts';
import { useWorkshop } from './workshop-context.ts';

const propertyWords: Readonly<Record<Property, string>> = {
  'plate eL': 'Plate, stiffness along',
  'plate eR': 'Plate, stiffness across',
  'plate gLR': 'Plate, shear',
  'plate density': 'Plate, density',
  'brace eL': 'Braces, stiffness along',
  'brace gLR': 'Braces, shear',
  'rim stiffness': 'Rim, resistance to turning',
};

export function AgreementCard(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly conditions: PlanConditions;
}) {
  const { forecasts } = useWorkshop();
  const { record, plan, conditions } = props;
  const steps = measuredSteps(record, plan, conditions);
  const question = { steps, parameters: fitParameters(plan, conditions.support) };
  const key = JSON.stringify(question);
  const asked = forecasts.agreement.current.value;
  // The modes come first: looking back takes longer.
  const modesAreThere = forecasts.modes.current.value.kind === 'ready';
  useEffect(() => {
    if (steps.length > 0 && modesAreThere) forecasts.agreement.ask(question);
  }, [key, modesAreThere]);
  if (steps.length === 0)
    return (
      <section class="card">
        <h2>Against the bench</h2>
        <p>
          This top has not been tapped in this way yet. <a href="#/bench">Tap it on the bench</a> and name a mode or
          two: the woods are then fitted to what you hear, and every later step is held against its forecast.
        </p>
      </section>
    );
  return (
    <section class="card">
      <h2>Against the bench</h2>
      <Waiting
        asked={asked}
        what="Agreeing with the taps"
        onCancel={() => forecasts.agreement.cancel()}
        onAgain={() => forecasts.agreement.again(question)}
      />
      {asked.kind === 'ready' && asked.key === key && asked.answer.kind === 'nothing-in-common' && (
        <p>No tapped mode could be told to be a computed one. Name a mode on the bench as the list above calls it.</p>
      )}
      {asked.kind === 'ready' && asked.key === key && asked.answer.kind === 'unsolvable' && (
        <p>The drawing as it stood at these steps cannot be computed.</p>
      )}
      {asked.kind === 'ready' && asked.key === key && asked.answer.kind === 'agreement' && (
        <Agreement record={record} answer={asked.answer} />
      )}
    </section>
  );
}

function Agreement(props: { readonly record: InstrumentRecord; readonly answer: TopAgreement }) {
  const { answer, record } = props;
  return (
    <>
      <p>{pairedWords(answer.pairedBy)}</p>
      <Misfit fit={answer.latest} />
      <History record={record} answer={answer} />
      <details>
        <summary>How each mode fits, and what the fit moved</summary>
        <Fit fit={answer.first} names={answer.names} title="First step tapped: what every later forecast rests on" />
        {answer.past.length > 0 && (
          <Fit fit={answer.latest} names={answer.names} title="Latest step tapped: what the advice rests on" />
        )}
      </details>
    </>
  );
}

function pairedWords(by: TopAgreement['pairedBy']): string {
  if (by.includes('frequency'))
    return 'No mode is named as computed and only one spot was tapped, so modes were told apart by frequency alone: name them, or tap a second spot, to be sure.';
  const spots = 'by their frequencies and by how loud they rang at each spot you tapped';
  if (!by.includes('name')) return `Modes were told apart ${spots}.`;
  return `Modes were told apart by the names you gave them${by.includes('spots') ? `, the unnamed ones ${spots}` : ''}.`;
}

function Misfit(props: { readonly fit: FitSummary }) {
  const { isMisfit } = props.fit;
  return isMisfit ? (
    <p class="stop" role="alert">
      The taps and the drawing do not agree: no woods within the stated spreads explain the modes measured. Look for a
      loose brace, a wrong name, or a wrong measure before you trust the forecast.
    </p>
  ) : (
    <p>The woods within their stated spreads explain the modes measured.</p>
  );
}

function Fit(props: { readonly fit: FitSummary; readonly names: readonly string[]; readonly title: string }) {
  const { fit, names } = props;
  return (
    <>
      <h3>{props.title}</h3>
      <section class="scroll" tabIndex={0} aria-label={`How each mode fits: ${props.title}`}>
        <table>
          <thead>
            <tr>
              <th scope="col">Mode</th>
              <th scope="col">Measured</th>
              <th scope="col">Computed after the fit</th>
              <th scope="col">Apart</th>
            </tr>
          </thead>
          <tbody>
            {fit.fits.map((mode) => (
              <tr key={mode.mode}>
                <th scope="row">{names[mode.mode]}</th>
                <td>{withHalfWidth(mode.measured, 'Hz')}</td>
                <td>{number(mode.computedHz, 1)} Hz</td>
                <td>{signed(mode.apart, 'Hz')}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <p class="hint">Apart is measured less computed; its ± is what taps and drawing together leave open.</p>
      <section class="scroll" tabIndex={0} aria-label={`What the fit moved: ${props.title}`}>
        <table>
          <thead>
            <tr>
              <th scope="col">Moved by the fit</th>
              <th scope="col">Times what was drawn</th>
              <th scope="col">Beforehand</th>
            </tr>
          </thead>
          <tbody>
            {fit.parameters.map((parameter, i) => (
              <tr key={parameter.property}>
                <th scope="row">{propertyWords[parameter.property]}</th>
                <td>{fit.factors[i] === undefined ? '–' : withHalfWidth(fit.factors[i], '')}</td>
                <td>{withHalfWidth({ value: 1, sigma: parameter.relativeSigma }, '')}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </>
  );
}

/** Steps that stand open; the older ones are folded away. */
const shownSteps = 2;

/** Forecast against measured, and how often it was right. */
function History(props: { readonly record: InstrumentRecord; readonly answer: TopAgreement }) {
  const { past } = props.answer;
  if (past.length === 0)
    return <p>After the next step is tapped, its forecast stands here beside what was measured.</p>;
  // Where nothing was cut nothing was forecast: such a step neither proves nor disproves.
  const cut = past.filter((move) => move.forecast.value !== 0);
  const right = cut.filter((move) => move.agrees).length;
  const steps = [...new Set(past.map((move) => move.stepId))].toReversed();
  const earlier = steps.slice(shownSteps);
  return (
    <>
      <p class="verdict-line">
        Right within its own spread in <strong>{right}</strong> of {count(cut.length, 'move')} so far.
      </p>
      <PastSteps {...props} steps={steps.slice(0, shownSteps)} label="Forecast against measured" />
      {earlier.length > 0 && (
        <details>
          <summary>{count(earlier.length, 'earlier step')}</summary>
          <PastSteps {...props} steps={earlier} label="Forecast against measured, earlier steps" />
        </details>
      )}
      <p class="hint">
        The woods were fitted to the first step only; nothing of a later step went into its own forecast. A step where
        nothing was cut shows what weather and holding do.
      </p>
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
  return (
    <section class="scroll" tabIndex={0} aria-label={props.label}>
      <table class="history">
        <thead>
          <tr>
            <th scope="col">Mode</th>
            <th scope="col">Forecast, Hz</th>
            <th scope="col">Measured, Hz</th>
            <th scope="col">Held?</th>
          </tr>
        </thead>
        {props.steps.map((stepId) => (
          <tbody key={stepId}>
            <tr>
              <th scope="rowgroup" colSpan={4} class="history-step">
                {props.record.steps.find((step) => step.id === stepId)?.done || 'Unnamed step'}
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
    </section>
  );
}

function Move(props: { readonly move: PastMove; readonly name: string }) {
  const { move } = props;
  const isCut = move.forecast.value !== 0;
  return (
    <tr>
      <th scope="row">{props.name}</th>
      <td>{isCut ? signed(move.forecast, '') : 'nothing cut'}</td>
      <td>{signed(move.measured, '')}</td>
      <td>{isCut ? (move.agrees ? 'yes' : 'no') : '–'}</td>
    </tr>
  );
}
