// New pieces for the shelf: one by one, or from a table.
import { useRef, useState } from 'preact/hooks';
import type { InstrumentRecord, Piece } from '../../record/record.ts';
import { freshPiece, putPiece } from '../../record/wood-edit.ts';
import { pieceKinds } from '../../record/wood-part.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { TextField } from '../parts/text-field.tsx';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { pieceKindWords, woodWords } from './words.ts';

export function NewPiece(props: { readonly record: InstrumentRecord }) {
  const { stock, newId } = useWorkshop();
  const editRecord = useEditRecord();
  const t = woodWords();
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
        editRecord('new-piece', (record) => putPiece(record, piece));
        stock.chosenId.value = piece.id;
        setName('');
      }}
    >
      <h2>{t.addPiece}</h2>
      <TextField label={t.itsName} value={name} onChange={setName} placeholder={t.namePlaceholder} />
      <ChoiceField
        label={t.kind}
        value={kind}
        options={pieceKinds.map((known) => [known, pieceKindWords[known]] as const)}
        onChange={setKind}
      />
      <button type="submit" class="primary">
        {t.add}
      </button>
    </form>
  );
}

export function TableInOut() {
  const { stock } = useWorkshop();
  const t = woodWords();
  const file = useRef<HTMLInputElement>(null);
  return (
    <Actions>
      <Button kind="quiet" text={t.saveTable} onPress={() => stock.writeTable()} />
      <Button kind="quiet" text={t.takeTable} onPress={() => file.current?.click()} />
      <input
        ref={file}
        id="shelf-table"
        class="visually-hidden"
        type="file"
        accept=".csv,text/csv"
        aria-label={t.tableLabel}
        onChange={(event) => {
          const chosen = event.currentTarget.files?.[0];
          if (chosen !== undefined) void stock.takeTable(chosen);
          event.currentTarget.value = '';
        }}
      />
    </Actions>
  );
}
