// Wood: what this board is, how thick it should be, what the weather will do to it, and how boards compare.
import type { ComponentChildren } from 'preact';
import { useRef, useState } from 'preact/hooks';
import type { WoodPage } from '../app/stock.ts';
import type { InstrumentRecord, Piece } from '../record/record.ts';
import { freshPiece, putPiece } from '../record/wood-edit.ts';
import { pieceKinds } from '../record/wood-part.ts';
import { PromiseLine } from './cautions.tsx';
import { ChoiceField, TextField } from './fields.tsx';
import { number } from './figures.ts';
import { BraceOf } from './wood-brace.tsx';
import { CompareWood } from './wood-compare.tsx';
import { Gluing } from './wood-gluing.tsx';
import { isStick, Measure } from './wood-measure.tsx';
import { PieceForm } from './wood-piece-form.tsx';
import { BoardReadingOf } from './wood-reading.tsx';
import { SecondOpinion, ThicknessMapOf } from './wood-second-opinion.tsx';
import { StickReadingOf } from './wood-stick.tsx';
import { Thickness } from './wood-thickness.tsx';
import { PieceWeather } from './wood-weather.tsx';
import { pieceKindWords, speciesWord } from './wood-words.ts';
import { words } from './words/language.ts';
import { useWorkshop } from './workshop-context.ts';

const pages: readonly (readonly [WoodPage, string])[] = [
  ['pieces', 'Pieces'],
  ['compare', 'Compare and pair'],
  ['gluing', 'Gluing and weather'],
];

export function WoodView() {
  const { stock } = useWorkshop();
  const page = stock.page.value;
  return (
    <div class="wood">
      <h1>Wood</h1>
      <nav class="parts" aria-label="Parts of Wood">
        {pages.map(([known, text]) => (
          <button
            key={known}
            type="button"
            aria-pressed={known === page}
            onClick={() => {
              stock.page.value = known;
            }}
          >
            {text}
          </button>
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
  const record = shelf.record.value;
  const pieces = record?.pieces ?? [];
  const piece = pieces.find((known) => known.id === stock.chosenId.value) ?? pieces.at(-1);
  const instruments = shelf.summaries.value.filter(
    (summary) => summary.kind === 'instrument' && !summary.deleted && !summary.archived,
  );
  return (
    <div class="bench">
      <aside class="setup" aria-label="Pieces of wood">
        <ChoiceField
          label="Wood of"
          value={record === undefined ? '' : record.kind === 'stock' ? 'stock' : record.id}
          options={[
            ...(record === undefined ? [['', 'Choose …'] as const] : []),
            ['stock', 'The stock shelf'] as const,
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
      <section aria-label="The piece">
        {record === undefined ? (
          <Empty />
        ) : piece === undefined ? (
          <p class="lead">
            No wood belongs to {record.name} yet. Add a piece: give it a name, then its sizes and mass; the page shows
            where to hold and where to tap it.
          </p>
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
    e === undefined ? 'not read yet' : `E along ${number(e.value, 1)} GPa`,
  ]
    .filter((fact) => fact !== '')
    .join(' · ');
}

function Empty() {
  const { stock } = useWorkshop();
  return (
    <div class="empty">
      <p>Wood lies on the stock shelf or belongs to an instrument.</p>
      <button type="button" class="primary big" onClick={() => void stock.open(words.record.kinds.stock)}>
        Put up the stock shelf
      </button>
    </div>
  );
}

function NewPiece(props: { readonly record: InstrumentRecord }) {
  const { shelf, stock, newId } = useWorkshop();
  const [name, setName] = useState('');
  const [kind, setKind] = useState<Piece['kind']>('top');
  return (
    <form
      class="new-record"
      onSubmit={(event) => {
        event.preventDefault();
        if (name === '') return;
        const last = props.record.pieces?.findLast((piece) => piece.kind === kind);
        const piece = freshPiece(newId(), kind, name, last?.species ?? '');
        shelf.edit('new-piece', (record) => putPiece(record, piece));
        stock.chosenId.value = piece.id;
        setName('');
      }}
    >
      <h2>Add a piece</h2>
      <TextField label="Its name" value={name} onChange={setName} placeholder="What is written on it" />
      <ChoiceField
        label="Kind"
        value={kind}
        options={pieceKinds.map((known) => [known, pieceKindWords[known]] as const)}
        onChange={setKind}
      />
      <button type="submit" class="primary">
        Add it
      </button>
    </form>
  );
}

function TableInOut() {
  const { stock } = useWorkshop();
  const file = useRef<HTMLInputElement>(null);
  return (
    <div class="actions">
      <button type="button" class="quiet" onClick={() => stock.writeTable()}>
        Save as a table (CSV)
      </button>
      <button type="button" class="quiet" onClick={() => file.current?.click()}>
        Take a table …
      </button>
      <input
        ref={file}
        id="shelf-table"
        class="visually-hidden"
        type="file"
        accept=".csv,text/csv"
        aria-label="Table of wood"
        onChange={(event) => {
          const chosen = event.currentTarget.files?.[0];
          if (chosen !== undefined) void stock.takeTable(chosen);
          event.currentTarget.value = '';
        }}
      />
    </div>
  );
}

function PieceView(props: { readonly piece: Piece }) {
  const { piece } = props;
  const stick = isStick(piece);
  return (
    <>
      <section class="card">
        <h2>{piece.name}</h2>
        <PieceForm piece={piece} />
      </section>
      <section class="card">
        <h2>Tap it</h2>
        <Measure piece={piece} />
      </section>
      <section class="card" aria-label="What it is">
        <h2>What it is</h2>
        {stick ? <StickReadingOf piece={piece} /> : <BoardReadingOf piece={piece} />}
      </section>
      {stick ? (
        <Fold title="As a brace, and what could stand in for it">
          <BraceOf piece={piece} />
        </Fold>
      ) : (
        <Fold title="How thick it should be">
          <Thickness piece={piece} />
        </Fold>
      )}
      <Fold title="What the weather does to it">
        <PieceWeather piece={piece} />
      </Fold>
      <Fold title="Second opinion: deflection under a weight">
        <SecondOpinion piece={piece} />
      </Fold>
      {!stick && (
        <Fold title="Thickness map">
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
