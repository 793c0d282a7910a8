// Wood: what this board is, how thick it should be, what the weather will do to it, and how boards compare.

import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { WoodPage } from '../../app/stock.ts';
import type { Piece } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { PromiseLine } from '../parts/cautions.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { number } from '../parts/figures.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { BraceOf } from './brace.tsx';
import { CompareWood } from './compare.tsx';
import { Gluing } from './gluing.tsx';
import { isStick } from './guides.ts';
import { MeasurePiece } from './measure.tsx';
import { PieceForm } from './piece-form.tsx';
import { BoardReadingOf } from './reading.tsx';
import { SecondOpinion, ThicknessMapOf } from './second-opinion.tsx';
import { StickReadingOf } from './stick.tsx';
import { BoardThickness } from './thickness.tsx';
import { PieceWeather } from './weather.tsx';
import { pieceKindWords, speciesWord, woodWords } from './words.ts';
import './wood.css';
import { NewPiece, TableInOut } from './new-piece.tsx';

export function WoodView() {
  const { stock } = useWorkshop();
  const page = stock.page.value;
  const t = woodWords();
  return (
    <div class="wood">
      <h1>{t.title}</h1>
      <nav class="parts" aria-label={t.partsLabel}>
        {(Object.keys(t.pages) as WoodPage[]).map((known) => (
          <Button
            key={known}
            text={t.pages[known]}
            isChosen={known === page}
            onPress={() => {
              stock.page.value = known;
            }}
          />
        ))}
      </nav>
      {page === 'pieces' && <Pieces />}
      {page === 'compare' && <CompareWood />}
      {page === 'gluing' && <Gluing />}
      <PromiseLine />
    </div>
  );
}

function Pieces() {
  const { shelf, stock } = useWorkshop();
  const t = woodWords();
  const record = shelf.record.value;
  const pieces = record?.pieces ?? [];
  const piece = pieces.find((known) => known.id === stock.chosenId.value) ?? pieces.at(-1);
  const instruments = shelf.summaries.value.filter(
    (summary) => summary.kind === 'instrument' && !summary.deleted && !summary.archived,
  );
  return (
    <div class="bench">
      <aside class="setup" aria-label={t.piecesLabel}>
        <ChoiceField
          label={t.woodOf}
          value={record === undefined ? '' : record.kind === 'stock' ? 'stock' : record.id}
          options={[
            ...(record === undefined ? [['', t.choose] as const] : []),
            ['stock', t.stockShelf] as const,
            ...(record?.kind === 'reference-stick' ? [[record.id, record.name] as const] : []),
            ...instruments.map((summary) => [summary.id, summary.name] as const),
          ]}
          onChange={(id) => id !== '' && void (id === 'stock' ? stock.open(words.record.kinds.stock) : shelf.open(id))}
        />
        <ul class="instruments">
          {pieces.map((known) => (
            <li key={known.id}>
              <div class={known.id === piece?.id ? 'instrument open' : 'instrument'}>
                <button
                  type="button"
                  class="instrument-name"
                  aria-pressed={known.id === piece?.id}
                  onClick={() => {
                    stock.chosenId.value = known.id;
                  }}
                >
                  <strong>{known.name}</strong>
                  <span class="hint">{factsOf(known)}</span>
                </button>
              </div>
            </li>
          ))}
        </ul>
        {record !== undefined && <NewPiece record={record} />}
        {record !== undefined && <TableInOut />}
      </aside>
      <section aria-label={t.pieceLabel}>
        {record === undefined ? (
          <Empty />
        ) : piece === undefined ? (
          <p class="lead">{t.noPieces(record.name)}</p>
        ) : (
          <PieceView key={piece.id} piece={piece} />
        )}
      </section>
    </div>
  );
}

function factsOf(piece: Piece): string {
  const e = piece.reading?.eLongGpa;
  return [
    pieceKindWords[piece.kind],
    speciesWord(piece.species),
    e === undefined ? woodWords().notRead : woodWords().eAlongIs(number(e.value, 1)),
  ]
    .filter((fact) => fact !== '')
    .join(' · ');
}

function Empty() {
  const { stock } = useWorkshop();
  return (
    <div class="empty">
      <p>{woodWords().whereWoodLies}</p>
      <Button
        kind="primary"
        isBig
        text={woodWords().putUpShelf}
        onPress={() => void stock.open(words.record.kinds.stock)}
      />
    </div>
  );
}

function PieceView(props: { readonly piece: Piece }) {
  const { piece } = props;
  const stick = isStick(piece);
  const t = woodWords();
  return (
    <>
      <Card title={piece.name}>
        <PieceForm piece={piece} />
      </Card>
      <Card title={t.tapIt}>
        <MeasurePiece piece={piece} />
      </Card>
      <Card title={t.whatItIs} label={t.whatItIs}>
        {stick ? <StickReadingOf piece={piece} /> : <BoardReadingOf piece={piece} />}
      </Card>
      {stick ? (
        <Fold title={t.asBrace}>
          <BraceOf piece={piece} />
        </Fold>
      ) : (
        <Fold title={t.howThick}>
          <BoardThickness piece={piece} />
        </Fold>
      )}
      <Fold title={t.whatWeather}>
        <PieceWeather piece={piece} />
      </Fold>
      <Fold title={t.secondOpinion}>
        <SecondOpinion piece={piece} />
      </Fold>
      {!stick && (
        <Fold title={t.thicknessMap}>
          <ThicknessMapOf piece={piece} />
        </Fold>
      )}
    </>
  );
}

/** A part that opens when it is asked for, and computes nothing before. */
function Fold(props: { readonly title: string; readonly children: ComponentChildren }) {
  const [open, setOpen] = useState(false);
  return (
    <details class="card" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{props.title}</summary>
      {open && props.children}
    </details>
  );
}
