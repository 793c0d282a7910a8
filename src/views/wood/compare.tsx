// Boards beside one another: a table to sort, density against stiffness, the spread of the maker's own shelf, pairs.

import { useState } from 'preact/hooks';
import type { PieceAt } from '../../app/stock.ts';
import { atReference, shelfBoardOf, shelfStickOf } from '../../compare/piece-reading.ts';
import { type Estimate, propagated } from '../../quantity/estimate.ts';
import type { Piece } from '../../record/record.ts';
import { pieceKinds } from '../../record/wood-part.ts';
import { type BoardOrder, rankBoards, type ShelfBoard } from '../../wood/matching.ts';
import { modulusAtRadiationRatioPa, radiationRatio } from '../../wood/radiation.ts';
import { rankSticks } from '../../wood/stick.ts';
import { Card } from '../parts/card.tsx';
import { CheckField, ChoiceField, choices } from '../parts/choice-field.tsx';
import { withHalfWidth } from '../parts/figures.ts';
import { LazyChart } from '../parts/lazy-chart.tsx';
import { Table } from '../parts/table.tsx';
import { useWorkshop } from '../workshop-context.ts';
import { useAllPieces } from './all-pieces.ts';
import { Pairs, Spreads } from './compare-pieces.tsx';
import { isStick } from './guides.ts';
import { pieceKindWords, speciesWord, woodWords } from './words.ts';

export function CompareWood() {
  const t = woodWords().compare;
  const { hygrometerSigmaPercent } = useWorkshop().preferences.settings.value;
  const all = useAllPieces();
  const [kind, setKind] = useState<Piece['kind'] | 'all'>('all');
  const [toReference, setToReference] = useState(false);
  const shown = all
    .filter(({ piece }) => kind === 'all' || piece.kind === kind)
    .map((at) => (toReference ? { ...at, piece: atReference(at.piece, hygrometerSigmaPercent) ?? at.piece } : at));
  const uncorrected = toReference
    ? all.filter(({ piece }) => piece.reading !== undefined && atReference(piece) === undefined)
    : [];
  return (
    <>
      <Card>
        <div class="fields">
          <ChoiceField
            label={t.which}
            value={kind}
            options={[['all', t.all], ...pieceKinds.map((known) => [known, pieceKindWords[known]] as const)]}
            onChange={setKind}
          />
          <CheckField label={t.toReference} hint={t.toReferenceHint} value={toReference} onChange={setToReference} />
        </div>
        {uncorrected.length > 0 && <p class="note">{t.uncorrected(uncorrected.map(({ piece }) => piece.name))}</p>}
        <Boards all={shown.filter(({ piece }) => !isStick(piece))} />
      </Card>
      <Sticks all={shown.filter(({ piece }) => isStick(piece))} />
      <Spreads all={shown} />
      <Pairs
        all={shown.filter(({ piece }) => piece.kind === 'top' || piece.kind === 'back' || piece.kind === 'side')}
      />
    </>
  );
}

function Boards(props: { readonly all: readonly PieceAt[] }) {
  const t = woodWords().compare;
  const [by, setBy] = useState<BoardOrder>('radiationRatio');
  const boardOrders = Object.keys(t.columns) as BoardOrder[];
  const boards = props.all.flatMap((at) => {
    const board = shelfBoardOf(at.piece);
    return board === undefined ? [] : [{ ...at, ...board }];
  });
  if (boards.length === 0) return <p>{t.none}</p>;
  return (
    <>
      <Table
        label={t.boards}
        head={[
          t.board,
          ...boardOrders.map((order) => (
            <button key={order} type="button" class="quiet sort" onClick={() => setBy(order)}>
              {t.columns[order] + (order === by ? ' ↓' : '')}
            </button>
          )),
        ]}
        sortedBy={1 + boardOrders.indexOf(by)}
        rows={rankBoards(boards, by).map((board) => [
          <>
            {board.piece.name}
            <span class="hint block">
              {speciesWord(board.piece.species)} · {board.recordName}
            </span>
          </>,
          withHalfWidth(board.densityKgM3, ''),
          withHalfWidth(board.eLongGpa, ''),
          withHalfWidth(board.eCrossGpa, ''),
          withHalfWidth(board.gGpa, ''),
          withHalfWidth(ratioOf(board), ''),
        ])}
      />
      <DensityPlot boards={boards} />
    </>
  );
}

/** Radiation ratio of a board. Its thickness and mass are in both figures; taken as independent, their doubt is on the safe side. */
const ratioOf = ({ eLongGpa, densityKgM3 }: ShelfBoard): Estimate =>
  propagated(([e, density]) => radiationRatio(e! * 1e9, density!), [eLongGpa, densityKgM3]).result;

/** Radiation ratios drawn as lines, m^4/(kg s): heavy backs to light tops. */
const ratios = [6, 9, 12, 15];

function DensityPlot(props: {
  readonly boards: readonly { readonly piece: Piece; readonly densityKgM3: Estimate; readonly eLongGpa: Estimate }[];
}) {
  const t = woodWords().compare;
  const densities = props.boards.map((board) => board.densityKgM3.value);
  const moduli = props.boards.map((board) => board.eLongGpa.value);
  const xRange = [
    50 * Math.floor(Math.min(...densities) / 50 - 0.4),
    50 * Math.ceil(Math.max(...densities) / 50 + 0.4),
  ] as const;
  const yRange = [Math.floor(0.8 * Math.min(...moduli)), Math.ceil(1.2 * Math.max(...moduli))] as const;
  const steps = Array.from({ length: 61 }, (_, k) => xRange[0] + ((xRange[1] - xRange[0]) * k) / 60);
  const species = [...new Set(props.boards.map((board) => board.piece.species))];
  const lines = ratios
    .map((ratio) => ({
      label: `${t.columns.radiationRatio} ${ratio}`,
      guide: true,
      points: steps
        .map((x) => ({ x, y: modulusAtRadiationRatioPa(ratio, x) / 1e9 }))
        .filter(({ y }) => y >= yRange[0] && y <= yRange[1]),
    }))
    .filter(({ points }) => points.length > 1);
  return (
    <LazyChart
      title={t.plotTitle}
      xLabel={t.columns.densityKgM3}
      yLabel={t.columns.eLongGpa}
      xRange={xRange}
      yRange={yRange}
      series={[
        ...species.map((name) => ({
          label: speciesWord(name) || t.notNamed,
          scattered: true,
          points: props.boards
            .filter((board) => board.piece.species === name)
            .map((board) => ({ x: board.densityKgM3.value, y: board.eLongGpa.value })),
        })),
        ...lines,
      ]}
    />
  );
}

function Sticks(props: { readonly all: readonly PieceAt[] }) {
  const t = woodWords().compare;
  const [exponent, setExponent] = useState<'same-section' | 'free-height'>('free-height');
  const sticks = props.all.flatMap((at) => {
    const stick = shelfStickOf(at.piece);
    return stick === undefined ? [] : [{ ...at, ...stick }];
  });
  if (sticks.length === 0) return null;
  return (
    <Card title={t.sticks}>
      <ChoiceField label={t.whatCounts} value={exponent} options={choices(t.orders)} onChange={setExponent} />
      <ol>
        {rankSticks(sticks, exponent === 'same-section' ? 1 : 'free-height').map((stick) => (
          <li key={stick.id}>
            <strong>{stick.piece.name}</strong>:{' '}
            {t.stickFacts(withHalfWidth(stick.eGpa, 'GPa'), withHalfWidth(stick.densityKgM3, 'kg/m³'))}
          </li>
        ))}
      </ol>
    </Card>
  );
}
