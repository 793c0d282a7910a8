// What a piece is: kind, species, sizes and mass with their doubt, air, notes, photo, and whom it belongs to.

import type { EditName } from '../../app/edits.ts';
import { withField } from '../../record/edit.ts';
import type { QuantityName } from '../../record/quantities.ts';
import type { Piece } from '../../record/record.ts';
import { changePiece, removePiece } from '../../record/wood-edit.ts';
import { pieceKinds } from '../../record/wood-part.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { ClimateFields } from '../parts/climate-fields.tsx';
import { MeasuredField, type Tool } from '../parts/measured-field.tsx';
import { Photo } from '../parts/photo.tsx';
import { TextField } from '../parts/text-field.tsx';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { pieceKindWords, speciesNames, speciesTyped, speciesWord, woodWords } from './words.ts';

/** Edits one piece of the open record. */
export function useChangePiece(pieceId: string): (editName: EditName, change: (piece: Piece) => Piece) => void {
  const editRecord = useEditRecord();
  return (editName, change) => editRecord(editName, (record) => changePiece(record, pieceId, change));
}

type Sized = 'lengthMm' | 'widthMm' | 'thicknessMm' | 'massG';

const sizes: readonly (readonly [Sized, QuantityName, Tool])[] = [
  ['lengthMm', 'boardLength', 'rulerMm'],
  ['widthMm', 'boardWidth', 'rulerMm'],
  ['thicknessMm', 'boardThickness', 'caliperMm'],
  ['massG', 'boardMass', 'scaleG'],
];

export function PieceForm(props: { readonly piece: Piece }) {
  const { piece } = props;
  const change = useChangePiece(piece.id);
  const t = woodWords().form;
  return (
    <div class="piece-form">
      <div class="fields">
        <TextField
          label={t.name}
          value={piece.name}
          onChange={(name) => name !== '' && change('name', (p) => ({ ...p, name }))}
        />
        <ChoiceField
          label={t.kind}
          value={piece.kind}
          options={pieceKinds.map((kind) => [kind, pieceKindWords[kind]] as const)}
          onChange={(kind) => change('piece-kind', (p) => ({ ...p, kind }))}
        />
        <TextField
          label={t.species}
          value={speciesWord(piece.species)}
          list={speciesNames()}
          placeholder={t.speciesPlaceholder}
          onChange={(text) => change('species', (p) => ({ ...p, species: speciesTyped(text) }))}
        />
      </div>
      <div class="fields wide">
        {sizes.map(([key, of, tool]) => (
          <MeasuredField
            key={key}
            of={of}
            tool={tool}
            value={piece[key]}
            onChange={(value) => change('piece-size', (p) => withField(p, key, value))}
          />
        ))}
      </div>
      <p class="hint">{t.plusMinus}</p>
      <details>
        <summary>{t.more}</summary>
        <div class="fields">
          <ClimateFields
            climate={piece.climate}
            onChange={(editName, climate) => change(editName, (p) => ({ ...p, climate }))}
          />
        </div>
        <TextField
          label={t.notes}
          lines={2}
          value={piece.notes}
          placeholder={t.notesPlaceholder}
          onChange={(notes) => change('notes', (p) => ({ ...p, notes }))}
        />
        <Photo
          alt={t.photoAlt}
          photoId={piece.photoId}
          onChange={(photoId) => change('photo', (p) => withField(p, 'photoId', photoId))}
        />
        <Belonging piece={piece} />
      </details>
    </div>
  );
}

function Belonging(props: { readonly piece: Piece }) {
  const { shelf, stock } = useWorkshop();
  const editRecord = useEditRecord();
  const t = woodWords();
  const record = shelf.record.value;
  const others = shelf.summaries.value.filter(
    (summary) =>
      summary.id !== record?.id && !summary.deleted && (summary.kind === 'instrument' || summary.kind === 'stock'),
  );
  return (
    <Actions>
      {others.length > 0 && (
        <ChoiceField
          label={t.form.belongs(record?.name ?? '')}
          value=""
          options={[['', t.choose], ...others.map((summary) => [summary.id, summary.name] as const)]}
          onChange={(id) => id !== '' && void stock.move(props.piece, id)}
        />
      )}
      <Button
        kind="quiet"
        text={t.form.remove}
        onPress={() => editRecord('delete-piece', (current) => removePiece(current, props.piece.id))}
      />
    </Actions>
  );
}
