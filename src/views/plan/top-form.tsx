// The top by numbers: outline, soundhole, scale, bridge, thickness, woods, and how the rim is held.

import { useState } from 'preact/hooks';
import { BODY_STATIONS } from '../../plate/body-outline.ts';
import { changePlan } from '../../record/plan-edit.ts';
import { bodyFrom } from '../../record/plan-outline.ts';
import { handbookWood, measuredPieces, woodOfPiece } from '../../record/plan-wood.ts';
import type { InstrumentRecord, Plan, PlanSlab, PlanWood } from '../../record/record.ts';
import { SPECIES } from '../../wood/species.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { FoldedCard } from '../parts/card.tsx';
import { ChoiceField, choices } from '../parts/choice-field.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { speciesWord } from '../wood/words.ts';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { planWords, woodSourceWords } from './words.ts';

type Edit = (change: (plan: Plan) => Plan) => void;

export function TopForm(props: { readonly record: InstrumentRecord; readonly plan: Plan }) {
  const editRecord = useEditRecord();
  const { plan } = props;
  const t = planWords().top;
  const edit: Edit = (change) => editRecord('top', (record) => changePlan(record, change));
  const set =
    <K extends keyof Plan>(key: K) =>
    (value: Plan[K] | undefined) =>
      value !== undefined && edit((current) => ({ ...current, [key]: value }));
  return (
    <FoldedCard title={t.title}>
      <Outline plan={plan} edit={edit} />
      <fieldset>
        <legend>{t.soundhole}</legend>
        <div class="fields">
          <NumberField
            label={t.holeAt}
            of="placeOnTop"
            value={plan.soundhole?.xMm}
            onChange={(xMm) => edit((p) => withHole(p, { xMm }))}
          />
          <NumberField
            label={t.holeRadius}
            of="drawnHoleRadius"
            value={plan.soundhole?.radiusMm}
            onChange={(radiusMm) => edit((p) => withHole(p, { radiusMm }))}
          />
        </div>
      </fieldset>
      <fieldset>
        <legend>{t.scaleAndSaddle}</legend>
        <div class="fields">
          <NumberField label={t.scale} of="scale" value={plan.scaleMm} onChange={set('scaleMm')} />
          <NumberField
            label={t.frets}
            of="fretsToBody"
            value={plan.fretsToBody}
            onSet={(n) => set('fretsToBody')(Math.round(n))}
          />
          <NumberField
            label={t.setbackTreble}
            of="setback"
            value={plan.setbackTrebleMm}
            onChange={set('setbackTrebleMm')}
          />
          <NumberField label={t.setbackBass} of="setback" value={plan.setbackBassMm} onChange={set('setbackBassMm')} />
          <NumberField
            label={t.stringSpread}
            of="stringSpread"
            value={plan.stringSpreadMm}
            onChange={set('stringSpreadMm')}
          />
        </div>
      </fieldset>
      <Slab title={t.bridge} slab={plan.bridge} onChange={set('bridge')} />
      <Slab title={t.bridgePlate} slab={plan.bridgePlate} onChange={set('bridgePlate')} />
      <fieldset>
        <legend>{t.plateAndRim}</legend>
        <div class="fields">
          <NumberField label={t.thickness} of="plateThickness" value={plan.thicknessMm} onChange={set('thicknessMm')} />
          <NumberField label={t.lining} of="liningWidth" value={plan.liningMm} onChange={set('liningMm')} />
          <NumberField
            label={t.rim}
            of="rimStiffness"
            hint={t.rimHint}
            value={plan.rimStiffnessN.value}
            onSet={(value) => set('rimStiffnessN')({ ...plan.rimStiffnessN, value })}
          />
        </div>
      </fieldset>
      <Wood title={t.plateWood} record={props.record} kind="top" wood={plan.wood} onChange={set('wood')} />
      <Wood
        title={t.braceWood}
        record={props.record}
        kind="brace-stock"
        wood={plan.braceWood}
        onChange={set('braceWood')}
      />
    </FoldedCard>
  );
}

function withHole(
  plan: Plan,
  change: { readonly xMm?: number | undefined; readonly radiusMm?: number | undefined },
): Plan {
  const { soundhole, ...rest } = plan;
  if ('radiusMm' in change && change.radiusMm === undefined) return rest;
  const hole = soundhole ?? { xMm: 330, yMm: 0, radiusMm: 48 };
  return { ...rest, soundhole: { ...hole, xMm: change.xMm ?? hole.xMm, radiusMm: change.radiusMm ?? hole.radiusMm } };
}

function Outline(props: { readonly plan: Plan; readonly edit: Edit }) {
  const { edit } = props;
  const { outline } = props.plan;
  const { imports } = useWorkshop();
  const t = planWords().top;
  const [refused, setRefused] = useState<string | undefined>(undefined);
  const take = async (file: File | undefined) => {
    if (file === undefined) return;
    const read = await imports.outline(file);
    if (read.kind === 'refused') setRefused(t.refused[read.because]);
    else {
      setRefused(undefined);
      edit((plan) => ({ ...plan, outline: { kind: 'points', source: file.name, points: [...read.points] } }));
    }
  };
  return (
    <fieldset>
      <legend>{t.outline}</legend>
      <Actions>
        {choices(t.bodies).map(([body, name]) => (
          <Button
            key={body}
            text={name}
            onPress={() => edit((plan) => ({ ...plan, outline: bodyFrom(BODY_STATIONS[body]) }))}
          />
        ))}
        <label class="button file">
          {t.fromFile}
          <input
            class="visually-hidden"
            id="outline-file"
            type="file"
            accept=".svg,.dxf"
            onChange={(event) => void take(event.currentTarget.files?.[0])}
          />
        </label>
      </Actions>
      {refused !== undefined && (
        <p class="stop" role="alert">
          {refused}
        </p>
      )}
      {outline.kind === 'body' ? (
        <div class="fields">
          {choices(t.measures).map(([key, name]) => (
            <NumberField
              key={key}
              label={name}
              of="outlineSize"
              value={outline[key]}
              onSet={(value) => edit((plan) => ({ ...plan, outline: { ...outline, [key]: value } }))}
            />
          ))}
        </div>
      ) : (
        <p>{t.fromSource(outline.source, outline.points.length)}</p>
      )}
      <p class="hint">{t.fileHint}</p>
    </fieldset>
  );
}

function Slab(props: { readonly title: string; readonly slab: PlanSlab; readonly onChange: (slab: PlanSlab) => void }) {
  const { slab, onChange } = props;
  const t = planWords().top;
  return (
    <fieldset>
      <legend>{props.title}</legend>
      <div class="fields">
        <NumberField
          label={t.along}
          of="slabAlong"
          value={slab.alongMm}
          onSet={(v) => onChange({ ...slab, alongMm: v })}
        />
        <NumberField
          label={t.across}
          of="slabAcross"
          value={slab.acrossMm}
          onSet={(v) => onChange({ ...slab, acrossMm: v })}
        />
        <NumberField
          label={t.thick}
          of="slabThickness"
          value={slab.thicknessMm}
          onSet={(v) => onChange({ ...slab, thicknessMm: v })}
        />
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

function Wood(props: {
  readonly title: string;
  readonly record: InstrumentRecord;
  readonly kind: 'top' | 'brace-stock';
  readonly wood: PlanWood;
  readonly onChange: (wood: PlanWood) => void;
}) {
  const { record, wood, onChange } = props;
  const t = planWords().top;
  const pieces = measuredPieces(record, props.kind);
  // A figure typed by hand is no longer the piece's.
  const typed = (change: Partial<PlanWood>) => {
    const { pieceId: _piece, ...rest } = wood;
    onChange({ ...rest, ...change });
  };
  return (
    <fieldset>
      <legend>{props.title}</legend>
      {pieces.length > 0 && (
        <ChoiceField
          label={t.measuredPiece}
          value={wood.pieceId ?? ''}
          options={[['', t.noPiece] as const, ...pieces.map(({ id, name }) => [id, name] as const)]}
          onChange={(id) => {
            const piece = pieces.find((known) => known.id === id);
            onChange(piece === undefined ? handbookWood(wood.speciesId) : woodOfPiece(piece));
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
            label={t.spread}
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
