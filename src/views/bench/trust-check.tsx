// The reference stick against its own history.

import { checksOf, trustOf } from '../../compare/trust.ts';
import { localDay } from '../../quantity/day.ts';
import type { InstrumentRecord } from '../../record/record.ts';
import { Card } from '../parts/card.tsx';
import { day, withHalfWidth } from '../parts/figures.ts';
import { LazyChart } from '../parts/lazy-chart.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

export function TrustCheck(props: { readonly record: InstrumentRecord }) {
  const { nowIso } = useWorkshop();
  const checks = checksOf(props.record);
  const latest = checks.at(-1);
  if (latest === undefined)
    return (
      <Card title={words.bench.trust}>
        <p>{words.bench.trustLead}</p>
      </Card>
    );
  const chart = trustOf(props.record);
  const limits = chart.sigmaHz === 0 ? [0] : [-3, -2, 0, 2, 3];
  const lines = limits.map((k) => ({
    label: k === 0 ? words.bench.trustMean : words.bench.trustSigma(`${k > 0 ? '+' : '−'}${Math.abs(k)}`),
    guide: true,
    points: [
      { x: 0.5, y: chart.usualHz + k * chart.sigmaHz },
      { x: checks.length + 0.5, y: chart.usualHz + k * chart.sigmaHz },
    ],
  }));
  return (
    <Card title={words.bench.trust}>
      <p class={`verdict ${chart.verdict}`} role="status">
        {chart.verdict === 'go' && words.bench.trustGo}
        {chart.verdict === 'look-again' && words.bench.trustLook}
        {chart.verdict === 'too-few' && words.bench.trustFew(chart.goodDays + 1)}
        {chart.verdict === 'not-read' && words.bench.trustNotRead}
      </p>
      <p class="hint">
        {chart.goodDays === 0
          ? words.bench.trustFirst(withHalfWidth(latest.frequencyHz, 'Hz'), day(latest.step.atIso))
          : words.bench.trustToday(
              withHalfWidth(latest.frequencyHz, 'Hz'),
              day(latest.step.atIso),
              withHalfWidth({ value: chart.usualHz, sigma: chart.sigmaHz }, 'Hz'),
            )}
      </p>
      {localDay(latest.step.atIso) !== localDay(nowIso()) && (
        <p class="note">{words.bench.trustOld(day(latest.step.atIso))}</p>
      )}
      <LazyChart
        title={words.bench.trustChart}
        xLabel={words.bench.trustAxis}
        yLabel="Hz"
        wholeX
        series={[
          {
            label: words.bench.trustStick,
            points: checks.map((check, i) => ({ x: i + 1, y: check.frequencyHz.value })),
          },
          ...lines,
        ]}
      />
    </Card>
  );
}
