// One brace by numbers. Heights are those it was glued with; what was shaved since is in the steps.

import type { EditName } from '../../app/edits.ts';
import { belowFloors } from '../../brace/floor.ts';
import { readingOf } from '../../record/cut-place.ts';
import { cutsMade } from '../../record/cuts.ts';
import { withField } from '../../record/edit.ts';
import { type BraceEnd, changeBrace, changePlan, moveBraceEnd } from '../../record/plan-edit.ts';
import { measuredPieces, planWoodOf } from '../../record/plan-wood.ts';
import type { InstrumentRecord, Plan, PlanBrace } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { CheckField, ChoiceField, choices } from '../parts/choice-field.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { TextField } from '../parts/text-field.tsx';
import { useEditRecord } from '../workshop-context.ts';
import { Floors } from './brace-floors.tsx';
import { Heights } from './brace-heights.tsx';
import { ProfileDrawing } from './profile.tsx';
import { planWords, useLowPlaceWords } from './words.ts';

/** What the places of its ends are called. */
const placesOf = {
  from: { xMm: 'firstEndFromTail', yMm: 'firstEndOffCentre' },
  to: { xMm: 'secondEndFromTail', yMm: 'secondEndOffCentre' },
} as const;

export function BraceForm(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly brace: PlanBrace;
  readonly standing: PlanBrace;
}) {
  const editRecord = useEditRecord();
  const { record, brace, standing } = props;
  const t = planWords().braceForm;
  const lowPlace = useLowPlaceWords();
  const change = (editName: EditName, edit: (brace: PlanBrace) => PlanBrace) =>
    editRecord(editName, (current) => changeBrace(current, brace.id, edit));
  const lastCut = cutsMade(record)
    .flatMap(({ on }) => on)
    .findLast((made) => made.brace.id === brace.id);
  const reading = readingOf(standing, record.hand);
  const sticks = measuredPieces(record, 'brace-stock');
  const low = belowFloors(standing.floors, standing.profile);
  const move = (end: BraceEnd, axis: 'xMm' | 'yMm', value: number | undefined) =>
    value !== undefined && change('brace-place', (b) => moveBraceEnd(b, end, { ...b[end], [axis]: value }));
  return (
    <Card title={brace.name} class="brace-form">
      <ProfileDrawing brace={standing} reading={reading} before={lastCut?.brace.profile} />
      {low.map((place) => (
        <p key={place.fromMm} class="stop" role="alert">
          {t.belowFloor(...lowPlace(reading, place))}
        </p>
      ))}
      {brace.structural && <p class="caution">{t.structural}</p>}
      <div class="fields">
        {(['from', 'to'] as const).flatMap((end) =>
          (['xMm', 'yMm'] as const).map((axis) => (
            <NumberField
              key={end + axis}
              of={placesOf[end][axis]}
              value={brace[end][axis]}
              onChange={(value) => move(end, axis, value)}
            />
          )),
        )}
        <NumberField
          of="braceWidth"
          value={brace.widthMm}
          onSet={(widthMm) => change('brace-width', (b) => ({ ...b, widthMm }))}
        />
        <ChoiceField
          label={t.section}
          value={brace.section}
          options={choices(t.sections)}
          onChange={(section) => change('brace-section', (b) => ({ ...b, section }))}
        />
        {sticks.length > 0 && (
          <ChoiceField
            label={t.ownStick}
            hint={t.ownStickHint}
            value={brace.wood?.pieceId ?? ''}
            options={[['', t.asAllBraces] as const, ...sticks.map(({ id, name }) => [id, name] as const)]}
            onChange={(id) => {
              const stick = sticks.find((known) => known.id === id);
              change('brace-stick', (b) => withField(b, 'wood', stick && planWoodOf(stick)));
            }}
          />
        )}
        <NumberField
          of="grainAngle"
          value={brace.grainDeg}
          onChange={(grainDeg) => change('brace-grain', (b) => ({ ...b, grainDeg: grainDeg ?? 0 }))}
        />
      </div>
      <CheckField
        label={t.carriesLoad}
        value={brace.structural}
        onChange={(structural) => change('brace-load', (b) => ({ ...b, structural }))}
      />
      <Heights
        brace={brace}
        reading={reading}
        isShaved={lastCut !== undefined}
        onChange={(edit) => change('brace-heights', edit)}
      />
      <Floors brace={brace} reading={reading} onChange={(floors) => change('floors', (b) => ({ ...b, floors }))} />
      <TextField label={t.name} value={brace.name} onChange={(name) => change('brace-name', (b) => ({ ...b, name }))} />
      <Button
        kind="quiet"
        text={t.removeBrace}
        onPress={() =>
          editRecord('brace-removed', (current) =>
            changePlan(current, (plan) => ({ ...plan, braces: plan.braces.filter((b) => b.id !== brace.id) })),
          )
        }
      />
    </Card>
  );
}
