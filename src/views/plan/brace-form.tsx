// One brace by numbers. Heights are those it was glued with; what was shaved since is in the steps.

import type { DeedName } from '../../app/deeds.ts';
import { belowFloors } from '../../brace/floor.ts';
import { heightAtMm, type ProfileShape, shapedProfile } from '../../brace/profile.ts';
import { type BraceReading, readingOf } from '../../record/cut-place.ts';
import { cutsMade } from '../../record/cuts.ts';
import { planBraceLengthMm } from '../../record/plan-brace.ts';
import { type BraceEnd, changeBrace, changePlan, moveBraceEnd } from '../../record/plan-edit.ts';
import type { InstrumentRecord, Plan, PlanBrace } from '../../record/record.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { CheckField, ChoiceField, choices } from '../parts/choice-field.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { useLength } from '../parts/own-units.ts';
import { TextField } from '../parts/text-field.tsx';
import { useEditRecord } from '../workshop-context.ts';
import { ProfileDrawing } from './profile.tsx';
import { lowPlaceWords, planWords, shownMm } from './words.ts';

export function BraceForm(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly brace: PlanBrace;
  readonly standing: PlanBrace;
}) {
  const editRecord = useEditRecord();
  const { record, brace, standing } = props;
  const t = planWords().braceForm;
  const say = useLength();
  const change = (deed: DeedName, edit: (brace: PlanBrace) => PlanBrace) =>
    editRecord(deed, (current) => changeBrace(current, brace.id, edit));
  const lastCut = cutsMade(record)
    .flatMap(({ on }) => on)
    .findLast((made) => made.brace.id === brace.id);
  const reading = readingOf(standing, record.hand);
  const low = belowFloors(standing.floors, standing.profile);
  const move = (end: BraceEnd, axis: 'xMm' | 'yMm', value: number | undefined) =>
    value !== undefined && change('brace-place', (b) => moveBraceEnd(b, end, { ...b[end], [axis]: value }));
  return (
    <Card title={brace.name} class="brace-form">
      <ProfileDrawing brace={standing} reading={reading} before={lastCut?.brace.profile} />
      {low.map((place) => (
        <p key={place.fromMm} class="stop" role="alert">
          {t.belowFloor(...lowPlaceWords(reading, place, say))}
        </p>
      ))}
      {brace.structural && <p class="caution">{t.structural}</p>}
      <div class="fields">
        {(['from', 'to'] as const).flatMap((end) =>
          (['xMm', 'yMm'] as const).map((axis) => (
            <NumberField
              key={end + axis}
              label={(end === 'from' ? t.firstEnd : t.secondEnd)[axis]}
              of="placeOnTop"
              value={brace[end][axis]}
              onChange={(value) => move(end, axis, value)}
            />
          )),
        )}
        <NumberField
          label={t.width}
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
        <NumberField
          label={t.grain}
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

/** Parts of a brace in the order in which they are read, each with its place in the record. */
const asRead = <T,>(
  parts: readonly T[],
  readMm: (part: T) => number,
): readonly { readonly one: T; readonly i: number }[] =>
  parts.map((one, i) => ({ one, i })).toSorted((a, b) => readMm(a.one) - readMm(b.one));

function Heights(props: {
  readonly brace: PlanBrace;
  readonly reading: BraceReading;
  readonly isShaved: boolean;
  readonly onChange: (edit: (brace: PlanBrace) => PlanBrace) => void;
}) {
  const { brace, reading, onChange } = props;
  const t = planWords().braceForm;
  const length = planBraceLengthMm(brace);
  const highest = Math.max(0, ...brace.profile.map((point) => point.heightMm));
  const lowest = Math.min(highest, ...brace.profile.map((point) => point.heightMm));
  const lay = (shape: ProfileShape) =>
    onChange((b) => ({ ...b, profile: [...shapedProfile(shape, length, highest, lowest)] }));
  return (
    <details>
      <summary>{t.heights}</summary>
      {props.isShaved && <p class="hint">{t.shavedSince}</p>}
      <p class="hint">{t.countedFrom(reading.end)}</p>
      <Actions>
        {choices(t.shapes).map(([shape, name]) => (
          <Button key={shape} text={name} onPress={() => lay(shape)} />
        ))}
      </Actions>
      {asRead(brace.profile, ({ atMm }) => reading.turned(atMm)).map(({ one: point, i }, row) => (
        <div class="fields pair" key={i}>
          <NumberField
            label={t.place(row + 1)}
            of="placeAlongBrace"
            value={shownMm(reading.turned(point.atMm))}
            onChange={(readMm) =>
              onChange((b) => ({
                ...b,
                profile:
                  readMm === undefined
                    ? b.profile.filter((_, k) => k !== i)
                    : b.profile
                        .map((p, k) => (k === i ? { ...p, atMm: reading.turned(readMm) } : p))
                        .toSorted((p, q) => p.atMm - q.atMm),
              }))
            }
          />
          <NumberField
            label={t.height(row + 1)}
            of="braceHeight"
            value={point.heightMm}
            onSet={(heightMm) =>
              onChange((b) => ({ ...b, profile: b.profile.map((p, k) => (k === i ? { ...p, heightMm } : p)) }))
            }
          />
        </div>
      ))}
      <p class="hint">{t.emptyRemoves}</p>
      <Button
        kind="quiet"
        text={t.addPlace}
        onPress={() =>
          // In the middle, as high as the brace is there: it stays as it is until the place is moved.
          onChange((b) => ({
            ...b,
            profile: [
              ...b.profile,
              { atMm: length / 2, heightMm: b.profile.length === 0 ? 8 : heightAtMm(b.profile, length / 2) },
            ].toSorted((p, q) => p.atMm - q.atMm),
          }))
        }
      />
    </details>
  );
}

function Floors(props: {
  readonly brace: PlanBrace;
  readonly reading: BraceReading;
  readonly onChange: (floors: PlanBrace['floors']) => void;
}) {
  const { brace, reading, onChange } = props;
  const t = planWords().braceForm;
  const put = (at: number, part: Partial<PlanBrace['floors'][number]>) =>
    onChange(brace.floors.map((floor, i) => (i === at ? { ...floor, ...part } : floor)));
  /** The stretch of a floor as it is read, with one of its ends put elsewhere. */
  const move = (at: number, which: 0 | 1, readMm: number | undefined) => {
    const floor = brace.floors[at];
    if (readMm === undefined || floor === undefined) return;
    const read = reading.stretch(floor.fromMm, floor.toMm);
    const [from, to] = which === 0 ? [readMm, read[1]] : [read[0], readMm];
    const [fromMm, toMm] = reading.stretch(from, to);
    put(at, { fromMm, toMm });
  };
  return (
    <details>
      <summary>{t.floors}</summary>
      <p class="hint">{t.countedFrom(reading.end)}</p>
      {asRead(brace.floors, ({ fromMm, toMm }) => reading.stretch(fromMm, toMm)[0]).map(({ one: floor, i }) => (
        <div class="fields" key={i}>
          {([0, 1] as const).map((which) => (
            <NumberField
              key={which}
              label={which === 0 ? t.from : t.to}
              of="placeAlongBrace"
              value={shownMm(reading.stretch(floor.fromMm, floor.toMm)[which])}
              onChange={(value) => move(i, which, value)}
            />
          ))}
          <NumberField
            label={t.floor}
            of="braceHeight"
            value={floor.heightMm}
            onSet={(heightMm) => put(i, { heightMm })}
          />
          <Button kind="quiet" text={t.remove} onPress={() => onChange(brace.floors.filter((_, k) => k !== i))} />
        </div>
      ))}
      <Button
        kind="quiet"
        text={t.addFloor}
        onPress={() =>
          onChange([
            ...brace.floors,
            {
              fromMm: 0,
              toMm: Math.round(planBraceLengthMm(brace)),
              heightMm: Math.max(2, Math.min(...brace.profile.map((p) => p.heightMm))),
            },
          ])
        }
      />
    </details>
  );
}
