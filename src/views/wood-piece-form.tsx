// What a piece is: kind, species, sizes and mass with their doubt, air, notes, photo, and whom it belongs to.
import type { DeedName } from '../app/deeds.ts';
import { withField } from '../record/edit.ts';
import type { Piece } from '../record/record.ts';
import { changePiece, removePiece } from '../record/wood-edit.ts';
import { pieceKinds } from '../record/wood-part.ts';
import { ClimateFields } from './climate-fields.tsx';
import { ChoiceField, TextField } from './fields.tsx';
import { MeasuredField, type Tool } from './measured-field.tsx';
import { Photo } from './photo.tsx';
import { pieceKindWords, speciesNames, speciesTyped, speciesWord } from './wood-words.ts';
import { useWorkshop } from './workshop-context.ts';

/** Edits one piece of the open record. */
export function useChangePiece(pieceId: string): (deed: DeedName, change: (piece: Piece) => Piece) => void {
  const { shelf } = useWorkshop();
  return (deed, change) => shelf.edit(deed, (record) => changePiece(record, pieceId, change));
}

type Sized = 'lengthMm' | 'widthMm' | 'thicknessMm' | 'massG';

/** Bounds of what goes through the workshop's door: a slip of the finger stops here, a doubtful entry in the reading. */
const sizes: readonly (readonly [Sized, string, 'mm' | 'g', Tool, number, number])[] = [
  ['lengthMm', 'Length along the grain', 'mm', 'rulerMm', 20, 2500],
  ['widthMm', 'Width', 'mm', 'rulerMm', 3, 800],
  ['thicknessMm', 'Thickness', 'mm', 'caliperMm', 0.5, 80],
  ['massG', 'Mass', 'g', 'scaleG', 0.5, 20_000],
];

export function PieceForm(props: { readonly piece: Piece }) {
  const { piece } = props;
  const change = useChangePiece(piece.id);
  return (
    <div class="piece-form">
      <div class="fields">
        <TextField
          label="Name of the piece"
          value={piece.name}
          onChange={(name) => name !== '' && change('name', (p) => ({ ...p, name }))}
        />
        <ChoiceField
          label="What it is"
          value={piece.kind}
          options={pieceKinds.map((kind) => [kind, pieceKindWords[kind]] as const)}
          onChange={(kind) => change('piece-kind', (p) => ({ ...p, kind }))}
        />
        <TextField
          label="Species"
          value={speciesWord(piece.species)}
          list={speciesNames}
          placeholder="From the list, or your own words"
          onChange={(text) => change('species', (p) => ({ ...p, species: speciesTyped(text) }))}
        />
      </div>
      <div class="fields wide">
        {sizes.map(([key, label, measure, tool, least, most]) => (
          <MeasuredField
            key={key}
            label={label}
            measure={measure}
            tool={tool}
            least={least}
            most={most}
            value={piece[key]}
            onChange={(value) => change('piece-size', (p) => withField(p, key, value))}
          />
        ))}
      </div>
      <p class="hint">± is how far off the entry may well be: the 95 % interval of your ruler, caliper or scale.</p>
      <details>
        <summary>Air, notes, photo, belonging</summary>
        <div class="fields">
          <ClimateFields
            climate={piece.climate}
            onChange={(deed, climate) => change(deed, (p) => ({ ...p, climate }))}
          />
        </div>
        <TextField
          label="Notes"
          lines={2}
          value={piece.notes}
          placeholder="Supplier, split or sawn, runout, rings …"
          onChange={(notes) => change('notes', (p) => ({ ...p, notes }))}
        />
        <Photo
          alt="The piece or its offcut"
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
  const record = shelf.record.value;
  const others = shelf.summaries.value.filter(
    (summary) =>
      summary.id !== record?.id && !summary.deleted && (summary.kind === 'instrument' || summary.kind === 'stock'),
  );
  return (
    <div class="actions">
      {others.length > 0 && (
        <ChoiceField
          label={`Belongs to ${record?.name ?? ''}; move it to`}
          value=""
          options={[['', 'Choose …'], ...others.map((summary) => [summary.id, summary.name] as const)]}
          onChange={(id) => id !== '' && void stock.move(props.piece, id)}
        />
      )}
      <button
        type="button"
        class="quiet"
        onClick={() => shelf.edit('delete-piece', (current) => removePiece(current, props.piece.id))}
      >
        Delete this piece
      </button>
    </div>
  );
}
