// The diary: every step with what was done, measured and heard, newest first. A record grows long, so it is paged.

import { useState } from 'preact/hooks';
import { hashOf } from '../../app/place.ts';
import { isTakenAgain } from '../../compare/signature.ts';
import { weightAt } from '../../record/cuts.ts';
import type { InstrumentRecord, Round, Step } from '../../record/record.ts';
import { bestTap, removeRound } from '../../record/round-edit.ts';
import { isTorn, RoundsApart } from '../bench/rounds-apart.tsx';
import { Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { moment } from '../parts/figures.ts';
import { useMass } from '../parts/own-units.ts';
import { useStepName } from '../parts/step-name.ts';
import { useAir } from '../parts/use-air.ts';
import { bridgeWords, holdWords, midSentence, spotWord, stageWords } from '../words/codes.ts';
import { words } from '../words/language.ts';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { RoundSettingFields } from './round-setting.tsx';
import { StepForm } from './step-form.tsx';
import { StepSpectrum } from './step-spectrum.tsx';

const pageSize = 20;

export function StepDiary(props: { readonly record: InstrumentRecord }) {
  const [shown, setShown] = useState(pageSize);
  const { record } = props;
  const newest = record.steps.map((step, i) => ({ step, number: i + 1 })).reverse();
  return (
    <Card title={words.steps.diary}>
      <ol class="diary">
        {newest.slice(0, shown).map(({ step, number: place }) => (
          <li key={step.id}>
            <Entry record={record} step={step} place={place} />
          </li>
        ))}
      </ol>
      {newest.length > shown && <Button text={words.steps.older} onPress={() => setShown(shown + pageSize)} />}
    </Card>
  );
}

function Entry(props: { readonly record: InstrumentRecord; readonly step: Step; readonly place: number }) {
  const stepName = useStepName();
  const editRecord = useEditRecord();
  const { step, record } = props;
  const mass = useMass();
  const air = useAir().one(step.climate);
  const taps = step.rounds.reduce((sum, round) => sum + round.taps.length, 0);
  const facts = [
    stageWords[step.stage],
    weightFact(record, step, mass),
    air === '' ? undefined : air,
    taps === 0 ? words.steps.notMeasured : words.fields.taps(taps),
    step.trust === undefined ? undefined : words.steps.trustOf(words.steps.trust[step.trust.verdict]),
    isTorn(step) ? words.steps.torn : undefined,
  ].filter((fact) => fact !== undefined);
  return (
    <details>
      <summary>
        <strong>
          {props.place}. {stepName(record, step)}
        </strong>
        <span class="hint">
          {moment(step.atIso)} · {facts.join(' · ')}
        </span>
        {step.heard !== '' && <span class="heard-words">“{step.heard}”</span>}
      </summary>
      <RoundsApart recordId={record.id} step={step} />
      <StepForm record={record} step={step} />
      <StepSpectrum record={record} step={step} />
      {step.rounds.length > 0 && <Rounds record={record} step={step} />}
      <Button
        kind="quiet"
        text={words.steps.deleteStep}
        onPress={() =>
          editRecord('delete-step', (current) => ({
            ...current,
            steps: current.steps.filter((known) => known.id !== step.id),
            pins: current.pins.filter((pin) => pin.stepId !== step.id),
          }))
        }
      />
    </details>
  );
}

/** Weighed here, or carried over; a weight of nobody knows when is not told. */
function weightFact(record: InstrumentRecord, step: Step, mass: (g: number) => string): string | undefined {
  const weight = weightAt(record, step.id);
  if (weight === undefined) return undefined;
  return weight.kind === 'weighed' ? mass(weight.massG) : words.steps.about(mass(weight.massG));
}

const roundWords = ({ spot, support, taps, fit, state, roving }: Round, isTakenAgain: boolean): string =>
  [
    roving !== undefined
      ? words.bench.shapes.inDiary(roving.spots.length, words.fields.taps(taps.length))
      : words.steps.round(
          spotWord(spot),
          midSentence(holdWords[support.hold]),
          midSentence(bridgeWords[support.bridge]),
          words.fields.taps(taps.length),
        ),
    ...(roving !== undefined ? [] : [fit === undefined ? words.steps.notRead : words.fields.modes(fit.modes.length)]),
    ...(state === 'set-aside' ? [words.steps.isAside] : isTakenAgain ? [words.steps.isTakenAgain] : []),
  ].join(', ');

function Rounds(props: { readonly record: InstrumentRecord; readonly step: Step }) {
  const { bench, hearBack } = useWorkshop();
  const editRecord = useEditRecord();
  return (
    <ul class="rounds">
      {props.step.rounds.map((round) => {
        const place = { recordId: props.record.id, stepId: props.step.id, roundId: round.id };
        const best = bestTap(round.taps);
        return (
          <li key={round.id} class={round.state === 'set-aside' ? 'aside' : ''}>
            <span>
              {roundWords(round, isTakenAgain(props.step, round))}
              <span class="hint"> {round.source}</span>
              {round.roving === undefined && (
                <RoundSettingFields record={props.record} step={props.step} round={round} place={place} />
              )}
            </span>
            {best !== undefined && (
              <Button kind="quiet" text={words.steps.hear} onPress={() => void hearBack.play([best])} />
            )}
            {round.roving === undefined ? (
              <Button kind="quiet" text={words.steps.readAgain} onPress={() => void bench.readAgain(place)} />
            ) : (
              <a href={`${hashOf('bench', 'shapes')}/${round.id}`}>{words.bench.shapes.see}</a>
            )}
            {round.state !== 'open' && (
              <Button
                kind="quiet"
                text={round.state === 'set-aside' ? words.steps.countIt : words.steps.setAside}
                onPress={() => bench.setAside(place, round.state !== 'set-aside')}
              />
            )}
            <Button
              kind="quiet"
              text={words.steps.delete}
              onPress={() => editRecord('delete-round', (current) => removeRound(current, place))}
            />
          </li>
        );
      })}
    </ul>
  );
}
