// Predicted level and mobility of the box over the spectrum that was measured.

import { useMemo, useState } from 'preact/hooks';
import type { Box } from '../../box/pistons.ts';
import { boxCurves } from '../../compare/box-curves.ts';
import type { StateRound } from '../../compare/box-evidence.ts';
import { Card } from '../parts/card.tsx';
import { number } from '../parts/figures.ts';
import { LazyChart } from '../parts/lazy-chart.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { useWorkshop } from '../workshop-context.ts';
import type { BoxPartProps } from './part.ts';
import { NoBoxYet } from './step.tsx';
import { boxWords } from './words.ts';

/** Microphone to box, mm. Common practice, no source. */
const usualDistanceMm = 300;

export function BoxResponsePart({ step, reading }: BoxPartProps) {
  const { response: t, whatIsMissing } = boxWords();
  if (step === undefined || reading === undefined)
    return (
      <>
        <h1>{t.title}</h1>
        <NoBoxYet />
      </>
    );
  const open = reading.rounds.find(({ state }) => state === 'open');
  if (reading.model === undefined || open === undefined)
    return (
      <>
        <h1>{t.title}</h1>
        <p class="lead">{t.needsModel}</p>
        <a class="primary button" href="#/box/found">
          {whatIsMissing}
        </a>
      </>
    );
  return (
    <>
      <h1>{t.title}</h1>
      <Curves model={reading.model} open={open} />
    </>
  );
}

function Curves(props: { readonly model: Box; readonly open: StateRound }) {
  const { spectra } = useWorkshop();
  const t = boxWords().response;
  const [distanceMm, setDistanceMm] = useState(usualDistanceMm);
  const state = spectra.of([props.open.round]).value;
  const spectrum = state.kind === 'spectrum' ? state.spectrum : undefined;
  const curves = useMemo(
    () => boxCurves(props.model, distanceMm / 1000, spectrum?.frequencyHz ?? [], spectrum?.levelDb ?? []),
    [props.model, distanceMm, spectrum],
  );
  const tops = [...curves.level, ...curves.measured].map(({ y }) => y);
  const highest = Math.ceil(Math.max(...tops) / 10) * 10;
  return (
    <>
      <Card title={t.level}>
        {state.kind === 'loading' && <p role="status">{t.reading}</p>}
        {state.kind === 'no-sound' && <p class="note">{t.noSound}</p>}
        <LazyChart
          title={t.levelTitle}
          xLabel="Hz"
          yLabel={curves.shiftDb === undefined ? t.perNewton : t.fullScale}
          xRange={[50, 320]}
          yRange={[highest - 60, highest]}
          series={[
            { label: t.predicted, bare: true, points: curves.level },
            ...(curves.measured.length > 0 ? [{ label: t.measured, bare: true, points: curves.measured }] : []),
          ]}
        />
        <p class="hint">
          {curves.shiftDb !== undefined && `${t.moved(number(curves.shiftDb, 0))} `}
          {t.otherMoves}
        </p>
        <div class="fields">
          <NumberField of="earDistance" value={distanceMm} onSet={setDistanceMm} />
        </div>
      </Card>
      <Card title={t.mobility}>
        <LazyChart
          title={t.mobilityTitle}
          xLabel="Hz"
          yLabel={t.mobilityAxis}
          xRange={[50, 320]}
          series={[{ label: t.predicted, bare: true, points: curves.mobility }]}
        />
        <p class="hint">{t.mobilityHint}</p>
      </Card>
    </>
  );
}
