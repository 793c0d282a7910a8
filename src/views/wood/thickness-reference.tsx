// What a plate is to equal: a former top of the records, a plate of handbook wood, or the maker's own figures.
import type { PieceAt } from '../../app/stock.ts';
import { plateWoodOf, startOf } from '../../compare/piece-reading.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import type { Piece } from '../../record/record.ts';
import type { MeasuredWood } from '../../wood/thickness.ts';
import { ChoiceField } from '../parts/choice-field.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { speciesWord, woodWords } from './words.ts';

export type ReferenceNote = NonNullable<Piece['thicknessing']>['reference'];

export interface Reference {
  readonly wood: MeasuredWood;
  readonly thicknessMm: Estimate;
}

const exact = (value: number): Estimate => ({ value, sigma: 0 });
const gpa = ({ value }: Estimate): Estimate => exact(value / 1e9);

/** The plate a note names, or undefined where that piece is gone or was not read. */
export function referenceOf(note: ReferenceNote, piece: Piece, all: readonly PieceAt[]): Reference | undefined {
  const start = startOf(piece);
  switch (note.from) {
    case 'handbook':
      return {
        wood: {
          eLongGpa: gpa(start.eLongPa),
          eCrossGpa: gpa(start.eCrossPa),
          gGpa: gpa(start.gPa),
          densityKgM3: exact(start.densityKgM3.value),
          nuLR: start.nuLR.value,
        },
        thicknessMm: exact(note.thicknessMm),
      };
    case 'own':
      return {
        wood: {
          eLongGpa: exact(note.eLongGpa),
          eCrossGpa: exact(note.eCrossGpa),
          gGpa: exact(note.gGpa),
          densityKgM3: exact(note.densityKgM3),
          nuLR: start.nuLR.value,
        },
        thicknessMm: exact(note.thicknessMm),
      };
    case 'piece': {
      const found = all.find((at) => at.piece.id === note.pieceId)?.piece;
      const wood = found === undefined ? undefined : plateWoodOf(found);
      const thicknessMm = found?.finishedMm ?? found?.thicknessMm;
      return wood === undefined || thicknessMm === undefined ? undefined : { wood, thicknessMm };
    }
  }
}

/** Figures a maker's own target begins with: an invented spruce plate. */
const ownBegin = { thicknessMm: 2.8, eLongGpa: 12, eCrossGpa: 0.9, gGpa: 0.8, densityKgM3: 420 };

/** @param note undefined until something is chosen */
export function ChooseReference(props: {
  readonly piece: Piece;
  readonly all: readonly PieceAt[];
  readonly note: ReferenceNote | undefined;
  readonly onChange: (note: ReferenceNote | undefined) => void;
}) {
  const { note, onChange } = props;
  const { thickness: t, choose: chooseOne } = woodWords();
  const former = props.all.filter(
    ({ piece }) =>
      piece.id !== props.piece.id &&
      plateWoodOf(piece) !== undefined &&
      (piece.finishedMm ?? piece.thicknessMm) !== undefined,
  );
  const chosen = note === undefined ? '' : note.from === 'piece' ? note.pieceId : note.from;
  const thicknessMm = note === undefined || note.from === 'piece' ? ownBegin.thicknessMm : note.thicknessMm;
  const choose = (wanted: string) => {
    if (wanted === '') onChange(undefined);
    else if (wanted === 'handbook') onChange({ from: 'handbook', thicknessMm });
    else if (wanted === 'own') onChange({ from: 'own', ...ownBegin, thicknessMm });
    else onChange({ from: 'piece', pieceId: wanted });
  };
  return (
    <>
      <ChoiceField
        label={t.shouldEqual}
        value={chosen}
        options={[
          ['', chooseOne],
          ...former.map(
            ({ piece, recordName }) =>
              [
                piece.id,
                (piece.finishedMm === undefined ? t.asMeasured : t.asFinished)(piece.name, recordName),
              ] as const,
          ),
          ['handbook', t.handbookPlate(speciesWord(props.piece.species))],
          ['own', t.ownTarget],
        ]}
        onChange={choose}
      />
      {note?.from === 'piece' && !former.some(({ piece }) => piece.id === note.pieceId) && (
        <p class="note">{t.pieceGone}</p>
      )}
      {note !== undefined && note.from !== 'piece' && <Figures note={note} onChange={onChange} />}
    </>
  );
}

const ownFigures = [
  ['eLongGpa', 'modulusAlong'],
  ['eCrossGpa', 'modulusAcross'],
  ['gGpa', 'shearModulus'],
  ['densityKgM3', 'density'],
] as const;

function Figures(props: {
  readonly note: Exclude<ReferenceNote, { from: 'piece' }>;
  readonly onChange: (note: ReferenceNote) => void;
}) {
  const { note, onChange } = props;
  const t = woodWords().thickness;
  return (
    <div class="fields">
      <NumberField
        label={t.referenceThickness}
        of="plateThickness"
        value={note.thicknessMm}
        onSet={(value) => onChange({ ...note, thicknessMm: value })}
      />
      {note.from === 'own' &&
        ownFigures.map(([key, of]) => (
          <NumberField key={key} of={of} value={note[key]} onSet={(value) => onChange({ ...note, [key]: value })} />
        ))}
    </div>
  );
}
