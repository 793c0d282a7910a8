// Predicted level and mobility of the box over the spectrum that was measured.
import { useMemo, useState } from 'preact/hooks';
import type { Box } from '../box/pistons.ts';
import { boxCurves } from '../compare/box-curves.ts';
import type { StateRound } from '../compare/box-evidence.ts';
import type { BoxPartProps } from './box-part.ts';
import { NoBoxYet } from './box-step.tsx';
import { NumberField } from './fields.tsx';
import { number } from './figures.ts';
import { LazyChart } from './lazy-chart.tsx';
import { useWorkshop } from './workshop-context.ts';

/** Microphone to box, mm. Common practice, no source. */
const usualDistanceMm = 300;

export function BoxResponsePart({ step, reading }: BoxPartProps) {
  if (step === undefined || reading === undefined)
    return (
      <>
        <h1>Response</h1>
        <NoBoxYet />
      </>
    );
  const open = reading.rounds.find(({ state }) => state === 'open');
  if (reading.model === null || open === undefined)
    return (
      <>
        <h1>Response</h1>
        <p class="lead">
          The predicted curve needs a model of this box: its sizes, and the rounds with the hole open, with the hole
          blocked, and with a known mass.
        </p>
        <a class="primary button" href="#/box/found">
          What is missing
        </a>
      </>
    );
  return (
    <>
      <h1>Response</h1>
      <Curves model={reading.model} open={open} />
    </>
  );
}

function Curves(props: { readonly model: Box; readonly open: StateRound }) {
  const { spectra } = useWorkshop();
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
      <section class="card">
        <h2>Sound level</h2>
        {state.kind === 'loading' && <p role="status">Reading the sound …</p>}
        {state.kind === 'no-sound' && <p class="note">The sound of this round is not on this machine.</p>}
        <LazyChart
          title="Predicted level of the box over the measured spectrum"
          xLabel="Hz"
          yLabel={curves.shiftDb === undefined ? 'dB re 20 µPa per N' : 'dB re full scale'}
          xRange={[50, 320]}
          yRange={[highest - 60, highest]}
          series={[
            { label: 'predicted', bare: true, points: curves.level },
            ...(curves.measured.length > 0 ? [{ label: 'measured', bare: true, points: curves.measured }] : []),
          ]}
        />
        <p class="hint">
          {curves.shiftDb !== undefined &&
            `The microphone is not calibrated and the finger’s force unknown, so the predicted curve is moved by ${number(curves.shiftDb, 0)} dB onto the measured one: compare the shapes, not the heights. A soft fingertip also lowers the measured curve toward higher frequencies. `}
          Where the measured curve has a peak that the predicted one lacks, something other than air, top and back
          moves.
        </p>
        <div class="fields">
          <NumberField
            label="Microphone to box"
            measure="mm"
            least={20}
            most={5000}
            value={distanceMm}
            onChange={(value) => value !== undefined && setDistanceMm(value)}
          />
        </div>
      </section>
      <section class="card">
        <h2>Mobility at the bridge</h2>
        <LazyChart
          title="Predicted mobility at the bridge"
          xLabel="Hz"
          yLabel="dB re 1 m/s per N"
          xRange={[50, 320]}
          series={[{ label: 'predicted', bare: true, points: curves.mobility }]}
        />
        <p class="hint">
          How readily the strings can move the top. High peaks make loud, short notes. The model knows three modes;
          above the highest of them a real top moves more than this.
        </p>
      </section>
    </>
  );
}
