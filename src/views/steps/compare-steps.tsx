// Any two steps: both spectra, and what moved, with an honest "no change you can trust".

import { useState } from 'preact/hooks';
import { compareSignatures } from '../../compare/compare-signatures.ts';
import { circumstances, obstacles, weatherBetween } from '../../compare/conditions.ts';
import { nameOfMode } from '../../compare/name-of-mode.ts';
import { roundsAt, type Signature, sharedSpots, signatures } from '../../compare/signature.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import type { InstrumentRecord, Step } from '../../record/record.ts';
import { Card } from '../parts/card.tsx';
import { CheckField, ChoiceField } from '../parts/choice-field.tsx';
import { number, parts, signed, withHalfWidth } from '../parts/figures.ts';
import { LazyChart } from '../parts/lazy-chart.tsx';
import { useStepName } from '../parts/step-name.ts';
import { type Row, Table, wide } from '../parts/table.tsx';
import { useAir } from '../parts/use-air.ts';
import { circumstanceWords, obstacleWords, spotWord } from '../words/codes.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { StepSpectrum } from './step-spectrum.tsx';

interface Measured {
  readonly key: string;
  readonly step: Step;
  readonly signature: Signature;
  readonly text: string;
}

export function CompareSteps(props: { readonly record: InstrumentRecord }) {
  const stepName = useStepName();
  const { record } = props;
  const measured = record.steps.flatMap((step, i) =>
    signatures(step).map(
      (signature, k): Measured => ({
        key: `${step.id} ${k}`,
        step,
        signature,
        text: `${i + 1}. ${stepName(record, step)}`,
      }),
    ),
  );
  const [before, setBefore] = useState<string | undefined>(undefined);
  const [after, setAfter] = useState<string | undefined>(undefined);
  if (measured.length < 2)
    return (
      <Card title={words.steps.compared}>
        <p>{words.steps.oneOnly}</p>
        {measured[0] !== undefined && <StepSpectrum record={record} step={measured[0].step} />}
      </Card>
    );
  const a = measured.find((known) => known.key === before) ?? measured.at(-2)!;
  const b = measured.find((known) => known.key === after) ?? measured.at(-1)!;
  const options = measured.map((known) => [known.key, known.text] as const);
  return (
    <Card title={words.steps.compared} id="compare">
      <div class="fields">
        <ChoiceField label={words.steps.before} value={a.key} options={options} onChange={setBefore} />
        <ChoiceField label={words.steps.after} value={b.key} options={options} onChange={setAfter} />
      </div>
      <Comparison key={`${a.key} ${b.key}`} record={record} before={a} after={b} />
    </Card>
  );
}

function Comparison(props: { readonly record: InstrumentRecord; readonly before: Measured; readonly after: Measured }) {
  const { before, after } = props;
  const { degreesOff } = useAir();
  const [allTheSame, setAllTheSame] = useState(false);
  const [weatherOut, setWeatherOut] = useState(false);
  const forbidding = obstacles(before.step, before.signature, after.step, after.signature);
  if (forbidding.length > 0 && !allTheSame)
    return (
      <>
        <p class="stop">{words.steps.forbidden(forbidding.map(obstacleWords).join('; '))}</p>
        <CheckField label={words.steps.allTheSame} value={allTheSame} onChange={setAllTheSame} />
      </>
    );
  const notes = circumstances(before.step, before.signature, after.step, after.signature);
  const weather = weatherBetween(before.step, after.step);
  return (
    <>
      {forbidding.length > 0 && <p class="stop">{words.steps.atYourWish(forbidding.map(obstacleWords).join('; '))}</p>}
      {notes.map((note) => (
        <p key={note.kind} class="note">
          {circumstanceWords(note, degreesOff)}
        </p>
      ))}
      <Spectra before={before} after={after} />
      {weather !== undefined && weather.frequencyRatio.value !== 1 && (
        <CheckField
          label={words.steps.weatherOut}
          hint={words.steps.weatherHint}
          value={weatherOut}
          onChange={setWeatherOut}
        />
      )}
      <Moves {...props} weather={weatherOut ? weather?.frequencyRatio : undefined} />
    </>
  );
}

const shownHz: readonly [number, number] = [40, 800];

function Spectra(props: { readonly before: Measured; readonly after: Measured }) {
  const { spectra } = useWorkshop();
  const { before, after } = props;
  const spots = sharedSpots(before.signature, after.signature);
  const [spotsBefore, spotsAfter] = [before, after].map(({ signature }) => signature.spots.map(spotWord));
  if (spots.length === 0) return <p class="note">{words.steps.noSharedSpot(spotsBefore!, spotsAfter!)}</p>;
  const states = [before, after].map((measured) => ({
    measured,
    state: spectra.of(roundsAt(measured.step, measured.signature.support, spots)).value,
  }));
  if (states.some(({ state }) => state.kind === 'loading'))
    return (
      <div class="chart" role="status">
        {words.steps.readingSound}
      </div>
    );
  const series = states.flatMap(({ measured, state }) => {
    if (state.kind !== 'spectrum') return [];
    const { frequencyHz, levelDb } = state.spectrum;
    const points: { x: number; y: number }[] = [];
    frequencyHz.forEach((x, i) => {
      if (x >= shownHz[0] && x <= shownHz[1]) points.push({ x, y: levelDb[i]! });
    });
    return [{ label: measured.text, bare: true, points }];
  });
  if (series.length === 0) return <p class="hint">{words.steps.noSound}</p>;
  const top = Math.max(...series.flatMap((one) => one.points.map((point) => point.y)));
  return (
    <>
      <LazyChart
        title={words.steps.spectra}
        xLabel="Hz"
        yLabel={words.steps.dbAxis}
        series={series}
        xRange={shownHz}
        yRange={[Math.floor(top / 10) * 10 - 60, Math.ceil(top / 10) * 10]}
      />
      <p class="hint">{words.steps.spectraAt(spots.map(spotWord))}</p>
    </>
  );
}

/** How far a mode moved, or why that is not to be told. */
function movedCells(row: ReturnType<typeof compareSignatures>[number]): Row {
  if (row.kind !== 'moved')
    return [wide(3, row.kind === 'appeared' ? words.steps.appeared : words.steps.notHeardAgain)];
  const { hz, percent, cents, trusted } = row.move;
  return trusted
    ? [<strong>{signed(hz, 'Hz')}</strong>, signed(percent, ''), signed(cents, '')]
    : [wide(3, words.steps.noChange(parts(hz).halfWidth))];
}

function Moves(props: {
  readonly record: InstrumentRecord;
  readonly before: Measured;
  readonly after: Measured;
  readonly weather: Estimate | undefined;
}) {
  const rows = compareSignatures(props.before.signature, props.after.signature, props.weather);
  const nameAt = (measured: Measured, hz: number) => nameOfMode(props.record, measured.step, hz);
  return (
    <>
      <Table
        label={words.steps.whatMoved}
        class="moves"
        head={[words.steps.mode, words.steps.before, words.steps.after, words.steps.moved, '%', words.steps.cents]}
        rows={rows.map((row) => {
          const anchor = row.kind === 'appeared' ? row.after : row.before;
          const name =
            row.kind === 'appeared'
              ? nameAt(props.after, anchor.frequencyHz.value)
              : (nameAt(props.before, anchor.frequencyHz.value) ??
                (row.kind === 'moved' ? nameAt(props.after, row.after.frequencyHz.value) : undefined));
          return [
            name ?? '–',
            row.kind === 'appeared' ? '–' : withHalfWidth(row.before.frequencyHz, 'Hz'),
            row.kind === 'not-heard-again' ? '–' : withHalfWidth(row.after.frequencyHz, 'Hz'),
            ...movedCells(row),
          ];
        })}
      />
      {!(props.before.signature.scatterKnown && props.after.signature.scatterKnown) && (
        <p class="hint">{words.steps.oneHold(number(0.1, 1), number(0.3, 1))}</p>
      )}
    </>
  );
}
