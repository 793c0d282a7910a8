// The top by numbers: outline, soundhole, scale, bridge, thickness, woods, and how the rim is held.

import { changePlan } from '../../record/plan-edit.ts';
import { changedUnderBraces } from '../../record/plan-layout.ts';
import type { InstrumentRecord, Plan } from '../../record/record.ts';
import { FoldedCard } from '../parts/card.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { useEditRecord } from '../workshop-context.ts';
import { type Edit, Outline } from './outline-form.tsx';
import { Slab, WoodForm } from './wood-form.tsx';
import { planWords } from './words.ts';

export function TopForm(props: { readonly record: InstrumentRecord; readonly plan: Plan }) {
  const editRecord = useEditRecord();
  const { plan } = props;
  const t = planWords().top;
  const edit: Edit = (change) =>
    editRecord('top', (record) => changePlan(record, (known) => changedUnderBraces(known, change)));
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
            of="holeFromTail"
            value={plan.soundhole?.xMm}
            onChange={(xMm) => edit((p) => withHole(p, { xMm }))}
          />
          <NumberField
            of="drawnHoleRadius"
            value={plan.soundhole?.radiusMm}
            onChange={(radiusMm) => edit((p) => withHole(p, { radiusMm }))}
          />
        </div>
      </fieldset>
      <fieldset>
        <legend>{t.scaleAndSaddle}</legend>
        <div class="fields">
          <NumberField of="scale" value={plan.scaleMm} onChange={set('scaleMm')} />
          <NumberField of="fretsToBody" value={plan.fretsToBody} onSet={(n) => set('fretsToBody')(Math.round(n))} />
          <NumberField of="setbackTreble" value={plan.setbackTrebleMm} onChange={set('setbackTrebleMm')} />
          <NumberField of="setbackBass" value={plan.setbackBassMm} onChange={set('setbackBassMm')} />
          <NumberField of="stringSpread" value={plan.stringSpreadMm} onChange={set('stringSpreadMm')} />
        </div>
      </fieldset>
      <Slab title={t.bridge} slab={plan.bridge} onChange={set('bridge')} />
      <Slab title={t.bridgePlate} slab={plan.bridgePlate} onChange={set('bridgePlate')} />
      <fieldset>
        <legend>{t.plateAndRim}</legend>
        <div class="fields">
          <NumberField of="plateThickness" value={plan.thicknessMm} onChange={set('thicknessMm')} />
          <NumberField of="liningWidth" value={plan.liningMm} onChange={set('liningMm')} />
          <NumberField
            of="rimStiffness"
            hint={t.rimHint}
            value={plan.rimStiffnessN.value}
            onSet={(value) => set('rimStiffnessN')({ ...plan.rimStiffnessN, value })}
          />
        </div>
      </fieldset>
      <WoodForm title={t.plateWood} record={props.record} kind="top" wood={plan.wood} onChange={set('wood')} />
      <WoodForm
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
