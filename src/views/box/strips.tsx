// The old top's wood from two strips of it.
import type { EditName } from '../../app/edits.ts';
import { withMoistures, withStrip } from '../../compare/old-signature.ts';
import type { BoxRepair } from '../../record/box-edit.ts';
import { withField } from '../../record/edit.ts';
import { ChoiceField } from '../parts/choice-field.tsx';
import { useAllPieces } from '../wood/all-pieces.ts';
import { boxWords } from './words.ts';

export type RepairChange = (editName: EditName, make: (known: BoxRepair) => BoxRepair) => void;

/** A strip cut along the old top's grain and one across, each read along its own length. */
export function Strips({ wood, change }: { readonly wood: BoxRepair['oldWood']; readonly change: RepairChange }) {
  const t = boxWords().newTop;
  const all = useAllPieces();
  const strips = all.filter(({ piece }) => piece.kind === 'brace-stock' && piece.reading?.eLongGpa !== undefined);
  if (strips.length === 0) return <p class="hint">{t.stripsHint}</p>;
  const choice = (way: 'along' | 'across', chosen: string | undefined) => (
    <ChoiceField
      label={t.strip(way)}
      value={strips.some(({ piece }) => piece.id === chosen) ? (chosen ?? '') : ''}
      options={[
        ['', t.typed],
        ...strips.map(({ piece, recordName }) => [piece.id, t.piece(piece.name, recordName)] as const),
      ]}
      onChange={(id) => {
        const strip = strips.find(({ piece }) => piece.id === id);
        const key = way === 'along' ? 'alongPieceId' : 'acrossPieceId';
        change('wood-of-piece', (known) =>
          withMoistures(
            {
              ...known,
              oldWood: strip ? withStrip(known.oldWood, way, strip.piece) : withField(known.oldWood, key, undefined),
            },
            all.map(({ piece }) => piece),
          ),
        );
      }}
    />
  );
  return (
    <>
      {choice('along', wood.alongPieceId)}
      {choice('across', wood.acrossPieceId)}
    </>
  );
}
