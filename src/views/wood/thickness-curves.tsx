// The free modes of a board against its thickness.
import { useState } from 'preact/hooks';
import { startOf } from '../../compare/piece-reading.ts';
import type { Piece } from '../../record/record.ts';
import type { MeasuredWood } from '../../wood/thickness.ts';
import { LazyChart } from '../parts/lazy-chart.tsx';
import { useOwnLength } from '../parts/own-units.ts';
import { useWorkshop } from '../workshop-context.ts';
import { woodWords } from './words.ts';

/** Thicknesses of the curve, mm. */
const curveMm = [2, 2.4, 2.8, 3.2, 3.6, 4, 4.5, 5];

/** Modes drawn: the lowest ones, each as its own curve. */
const curves = 5;

export function ModesAgainstThickness(props: { readonly piece: Piece; readonly wood: MeasuredWood }) {
  const [asked, setAsked] = useState(false);
  return (
    <details onToggle={(event) => event.currentTarget.open && setAsked(true)}>
      <summary>{woodWords().thickness.modesAgainst}</summary>
      {asked && <Curves {...props} />}
    </details>
  );
}

function Curves(props: { readonly piece: Piece; readonly wood: MeasuredWood }) {
  const { answers } = useWorkshop();
  const { unit, own } = useOwnLength();
  const { piece, wood } = props;
  const { thickness: t, codes } = woodWords();
  if (piece.lengthMm === undefined || piece.widthMm === undefined) return <p>{t.sizesFirst}</p>;
  const state = answers.of('modes-against-thickness', {
    plan: { lengthMm: piece.lengthMm.value, widthMm: piece.widthMm.value },
    wood,
    thicknessesMm: curveMm,
    shearRatios: startOf(piece).shearRatios,
  }).value;
  if (state.kind === 'working') return <p role="status">{t.solving(curveMm.length)}</p>;
  if (state.kind === 'failed') return <p class="stop">{t.failed(state.message)}</p>;
  const points = state.answer;
  const named = points[0]?.modes.slice(0, curves).map((mode) => mode.pattern) ?? [];
  return (
    <LazyChart
      title={t.chartTitle}
      xLabel={t.thicknessAxis(unit)}
      yLabel="Hz"
      series={named.map((pattern) => ({
        label: codes.pattern(pattern),
        points: points.flatMap(({ thicknessMm, modes }) => {
          const mode = modes.find((each) => each.pattern.m === pattern.m && each.pattern.n === pattern.n);
          return mode === undefined ? [] : [{ x: own({ value: thicknessMm, sigma: 0 }).value, y: mode.frequencyHz }];
        }),
      }))}
    />
  );
}
