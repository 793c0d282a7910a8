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
import { ChoiceField, choices, NumberField } from '../parts/fields.tsx';
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
            measure="mm"
            value={plan.soundhole?.xMm}
            onChange={(xMm) => edit((p) => withHole(p, { xMm }))}
          />
          <NumberField
            label={t.holeRadius}
            measure="mm"
            least={0}
            most={120}
            value={plan.soundhole?.radiusMm}
            onChange={(radiusMm) => edit((p) => withHole(p, { radiusMm }))}
          />
        </div>
      </fieldset>
      <fieldset>
        <legend>{t.scaleAndSaddle}</legend>
        <div class="fields">
          <NumberField
            label={t.scale}
            measure="mm"
            least={300}
            most={1000}
            value={plan.scaleMm}
            onChange={set('scaleMm')}
          />
          <NumberField
            label={t.frets}
            measure="plain"
            least={8}
            most={20}
            value={plan.fretsToBody}
            onChange={(n) => n !== undefined && set('fretsToBody')(Math.round(n))}
          />
          <NumberField
            label={t.setbackTreble}
            measure="mm"
            least={0}
            most={15}
            value={plan.setbackTrebleMm}
            onChange={set('setbackTrebleMm')}
          />
          <NumberField
            label={t.setbackBass}
            measure="mm"
            least={0}
            most={15}
            value={plan.setbackBassMm}
            onChange={set('setbackBassMm')}
          />
          <NumberField
            label={t.stringSpread}
            measure="mm"
            least={20}
            most={120}
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
          <NumberField
            label={t.thickness}
            measure="mm"
            least={0}
            most={12}
            value={plan.thicknessMm}
            onChange={set('thicknessMm')}
          />
          <NumberField
            label={t.lining}
            measure="mm"
            least={0}
            most={30}
            value={plan.liningMm}
            onChange={set('liningMm')}
          />
          <NumberField
            label={t.rim}
            hint={t.rimHint}
            measure="plain"
            least={0}
            most={20000}
            value={plan.rimStiffnessN.value}
            onChange={(value) => value !== undefined && set('rimStiffnessN')({ ...plan.rimStiffnessN, value })}
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
              measure="mm"
              least={10}
              most={1000}
              value={outline[key]}
              onChange={(value) =>
                value !== undefined && edit((plan) => ({ ...plan, outline: { ...outline, [key]: value } }))
              }
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
          measure="mm"
          least={0}
          most={120}
          value={slab.alongMm}
          onChange={(v) => v !== undefined && onChange({ ...slab, alongMm: v })}
        />
        <NumberField
          label={t.across}
          measure="mm"
          least={0}
          most={300}
          value={slab.acrossMm}
          onChange={(v) => v !== undefined && onChange({ ...slab, acrossMm: v })}
        />
        <NumberField
          label={t.thick}
          measure="mm"
          least={0}
          most={20}
          value={slab.thicknessMm}
          onChange={(v) => v !== undefined && onChange({ ...slab, thicknessMm: v })}
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
            measure="plain"
            least={0}
            most={5000}
            value={wood[key].value}
            onChange={(value) => value !== undefined && typed({ [key]: { ...wood[key], value } })}
          />
          <NumberField
            label={t.spread}
            measure="plain"
            least={0}
            most={5000}
            value={wood[key].sigma}
            onChange={(sigma) => sigma !== undefined && typed({ [key]: { ...wood[key], sigma } })}
          />
        </div>
      ))}
      <p class="hint">{woodSourceWords(record, wood)}</p>
    </fieldset>
  );
}
