// Figures of the shapes: likeness of all with all, and the movement spot by spot.
import type { ShapeOfDrawing, TapShapes } from '../../forecast/tap-shapes.ts';
import { Card, FoldedCard } from '../parts/card.tsx';
import { number, signed, withHalfWidth } from '../parts/figures.ts';
import { Table } from '../parts/table.tsx';
import { shapesWords } from './words.ts';

/** Two shapes are alike from here on: their cell stands out. */
const ALIKE = 0.6;

export function LikenessTable({ answer }: { readonly answer: TapShapes }) {
  const t = shapesWords();
  if (answer.computed.length === 0) return null;
  const shown = answer.computed.slice(0, answer.shapes.length + 2);
  return (
    <Card title={t.table}>
      <Table
        label={t.table}
        isMatrix
        head={[t.tapped, ...shown.map(headOf)]}
        rows={answer.shapes.map(({ frequencyHz }, k) => [
          withHalfWidth(frequencyHz, 'Hz'),
          ...shown.map((_, j) => {
            const likeness = answer.likeness[k]![j]!;
            return likeness >= ALIKE ? <strong>{number(likeness, 2)}</strong> : number(likeness, 2);
          }),
        ])}
      />
      <p class="hint">{t.tableHint}</p>
    </Card>
  );
}

/** A longer name would make the heads taller than the table. */
const LONGEST_NAME = 20;

function headOf({ name, frequencyHz }: ShapeOfDrawing): string {
  const hz = `${number(frequencyHz.value, 0)} Hz`;
  return name.length > LONGEST_NAME ? hz : `${name}, ${hz}`;
}

/** A sign less sure than this stands in brackets. */
const SURE_ODDS = 0.95;

export function SpotsTable({ answer }: { readonly answer: TapShapes }) {
  const t = shapesWords();
  const spots = answer.shapes[0]?.atSpots.length ?? 0;
  return (
    <FoldedCard title={t.spotsTable} isOpen={answer.computed.length === 0}>
      <Table
        label={t.spotsTable}
        isMatrix
        head={[t.spotHead, ...answer.shapes.map(({ frequencyHz }) => `${number(frequencyHz.value, 0)} Hz`)]}
        rows={Array.from({ length: spots }, (_, s) => [
          s + 1,
          ...answer.shapes.map(({ atSpots, signOdds }) => {
            const moved = atSpots[s];
            if (moved === undefined) return '–';
            const said = signed(moved, '');
            return (signOdds[s] ?? 0) >= SURE_ODDS ? said : `(${said})`;
          }),
        ])}
      />
      <p class="hint">{t.signHint}</p>
    </FoldedCard>
  );
}
