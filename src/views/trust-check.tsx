// The reference stick against its own history.
import { checksOf, trustOf } from '../compare/trust.ts';
import type { InstrumentRecord } from '../record/record.ts';
import { number, withHalfWidth } from './figures.ts';
import { LazyChart } from './lazy-chart.tsx';

export function TrustCheck(props: { readonly record: InstrumentRecord }) {
  const checks = checksOf(props.record);
  const latest = checks.at(-1);
  if (latest === undefined)
    return (
      <section class="card">
        <h2>Trust check</h2>
        <p>
          Keep one stick of dry wood only for this. Tap it at the start of a day or in a new room: if it reads as it
          always does, so will your plates.
        </p>
      </section>
    );
  const chart = trustOf(props.record);
  const lines = [-3, -2, 0, 2, 3].map((k) => ({
    label: k === 0 ? 'mean' : `${k > 0 ? '+' : '−'}${Math.abs(k)} sigma`,
    guide: true,
    points: [
      { x: 0.5, y: chart.meanHz + k * chart.sigmaHz },
      { x: checks.length + 0.5, y: chart.meanHz + k * chart.sigmaHz },
    ],
  }));
  return (
    <section class="card">
      <h2>Trust check</h2>
      <p class={`verdict ${chart.verdict}`} role="status">
        {chart.verdict === 'go' && 'Go: the stick reads as it always does.'}
        {chart.verdict === 'look-again' &&
          'Look again: the stick does not read as it did. Check the hold, the room, the humidity and the microphone before you trust a plate.'}
        {chart.verdict === 'too-few' && `Too few checks to judge by (${checks.length}). It takes five.`}
      </p>
      <p class="hint">
        Today {withHalfWidth(latest.frequencyHz, 'Hz')}; history {number(chart.meanHz, 2)} Hz, sigma{' '}
        {number(chart.sigmaHz, 2)} Hz
      </p>
      <LazyChart
        title="Reference stick over time"
        xLabel="Check"
        yLabel="Hz"
        wholeX
        series={[
          { label: 'stick', points: checks.map((check, i) => ({ x: i + 1, y: check.frequencyHz.value })) },
          ...lines,
        ]}
      />
    </section>
  );
}
