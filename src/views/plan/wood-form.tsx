// The woods of the plan, and the bridge and its plate.
import { handbookWood, measuredPieces, planWoodOf, planWoodOfHalves } from '../../record/plan-wood.ts';
import type { InstrumentRecord, PlanSlab, PlanWood } from '../../record/record.ts';
import { SPECIES } from '../../wood/species.ts';
import { ChoiceField, choices } from '../parts/choice-field.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { speciesWord } from '../wood/words.ts';
import { planWords, woodSourceWords } from './words.ts';

export function Slab(props: {
  readonly title: string;
  readonly slab: PlanSlab;
  readonly onChange: (slab: PlanSlab) => void;
}) {
  const { slab, onChange } = props;
  return (
    <fieldset>
      <legend>{props.title}</legend>
      <div class="fields">
        <NumberField of="slabAlong" value={slab.alongMm} onSet={(v) => onChange({ ...slab, alongMm: v })} />
        <NumberField of="slabAcross" value={slab.acrossMm} onSet={(v) => onChange({ ...slab, acrossMm: v })} />
        <NumberField of="slabThickness" value={slab.thicknessMm} onSet={(v) => onChange({ ...slab, thicknessMm: v })} />
        <Species wood={slab.wood} onChange={(wood) => onChange({ ...slab, wood })} />
      </div>
    </fieldset>
  );
}

function Species(props: { readonly wood: PlanWood; readonly onChange: (wood: PlanWood) => void }) {
  const known = SPECIES.some(({ id }) => id === props.wood.speciesId);
  return (
    <ChoiceField
      label={planWords().top.wood}
      value={known ? props.wood.speciesId : ''}
      options={[
        ...(known ? [] : [['', props.wood.name] as const]),
        ...SPECIES.map(({ id }) => [id, speciesWord(id)] as const),
      ]}
      onChange={(id) => id !== '' && props.onChange(handbookWood(id))}
    />
  );
}

const pairKey = (one: string, other: string): string => `${one} ${other}`;

export function WoodForm(props: {
  readonly title: string;
  readonly record: InstrumentRecord;
  readonly kind: 'top' | 'brace-stock';
  readonly wood: PlanWood;
  readonly onChange: (wood: PlanWood) => void;
}) {
  const { record, wood, onChange } = props;
  const t = planWords().top;
  const pieces = measuredPieces(record, props.kind);
  const halves =
    props.kind === 'top' ? pieces.flatMap((one, i) => pieces.slice(i + 1).map((other) => [one, other] as const)) : [];
  // A figure typed by hand is no longer the piece's.
  const typed = (change: Partial<PlanWood>) => {
    const { pieceId: _piece, otherPieceId: _other, ...rest } = wood;
    onChange({ ...rest, ...change });
  };
  return (
    <fieldset>
      <legend>{props.title}</legend>
      {pieces.length > 0 && (
        <ChoiceField
          label={t.measuredPiece}
          value={wood.otherPieceId === undefined ? (wood.pieceId ?? '') : pairKey(wood.pieceId!, wood.otherPieceId)}
          options={[
            ['', t.noPiece] as const,
            ...pieces.map(({ id, name }) => [id, name] as const),
            ...halves.map(([one, other]) => [pairKey(one.id, other.id), t.bothHalves(one.name, other.name)] as const),
          ]}
          onChange={(id) => {
            const pair = halves.find(([one, other]) => pairKey(one.id, other.id) === id);
            const piece = pieces.find((known) => known.id === id);
            if (pair !== undefined) onChange(planWoodOfHalves(...pair));
            else onChange(piece === undefined ? handbookWood(wood.speciesId) : planWoodOf(piece));
          }}
        />
      )}
      <Species wood={wood} onChange={onChange} />
      {choices(t.constants).map(([key, name]) => (
        <div class="fields pair" key={key}>
          <NumberField
            label={name}
            of="woodConstant"
            value={wood[key].value}
            onSet={(value) => typed({ [key]: { ...wood[key], value } })}
          />
          <NumberField
            of="woodConstant"
            value={wood[key].sigma}
            onSet={(sigma) => typed({ [key]: { ...wood[key], sigma } })}
          />
        </div>
      ))}
      <p class="hint">{woodSourceWords(record, wood)}</p>
    </fieldset>
  );
}
