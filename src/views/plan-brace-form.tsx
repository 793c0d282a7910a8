// One brace by numbers. Heights are those it was glued with; what was shaved since is in the steps.
import type { DeedName } from '../app/deeds.ts';
import { cutOfStep } from '../record/plan-course.ts';
import { type BraceEnd, changeBrace, changePlan, moveBraceEnd } from '../record/plan-edit.ts';
import { belowFloors, type ProfileShape, planBraceLengthMm, shapedProfile } from '../record/plan-profile.ts';
import type { InstrumentRecord, Plan, PlanBrace } from '../record/record.ts';
import { CheckField, ChoiceField, NumberField, TextField } from './fields.tsx';
import { number } from './figures.ts';
import { ProfileDrawing } from './plan-profile.tsx';
import { sectionWords, shapeWords } from './plan-words.ts';
import { useWorkshop } from './workshop-context.ts';

export function BraceForm(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly brace: PlanBrace;
  readonly standing: PlanBrace;
}) {
  const { shelf } = useWorkshop();
  const { record, brace, standing } = props;
  const change = (deed: DeedName, edit: (brace: PlanBrace) => PlanBrace) =>
    shelf.edit(deed, (current) => changeBrace(current, brace.id, edit));
  const lastCut = record.steps
    .map((step) => cutOfStep(record, props.plan, step, brace.id))
    .findLast((cut) => cut !== undefined);
  const low = belowFloors(standing.floors, standing.profile);
  const move = (end: BraceEnd, axis: 'xMm' | 'yMm', value: number | undefined) =>
    value !== undefined && change('brace-place', (b) => moveBraceEnd(b, end, { ...b[end], [axis]: value }));
  return (
    <section class="card brace-form">
      <h2>{brace.name}</h2>
      <ProfileDrawing brace={standing} before={lastCut?.before} />
      {low.map((place) => (
        <p key={place.fromMm} class="stop" role="alert">
          {number(place.heightMm, 1)} mm between {number(place.fromMm, 0)} and {number(place.toMm, 0)} mm, below its
          floor of {number(place.floorMm, 1)} mm. Take no more off here.
        </p>
      ))}
      {brace.structural && <p class="caution">This one carries the strings. Shave it last, and little.</p>}
      <div class="fields">
        {(['from', 'to'] as const).flatMap((end) =>
          (
            [
              ['xMm', 'from tail'],
              ['yMm', 'off centre'],
            ] as const
          ).map(([axis, words]) => (
            <NumberField
              key={end + axis}
              label={`${end === 'from' ? 'First' : 'Second'} end, ${words}`}
              measure="mm"
              value={brace[end][axis]}
              least={-1000}
              most={1000}
              onChange={(value) => move(end, axis, value)}
            />
          )),
        )}
        <NumberField
          label="Width"
          measure="mm"
          value={brace.widthMm}
          least={0}
          most={60}
          onChange={(widthMm) => widthMm !== undefined && change('brace-width', (b) => ({ ...b, widthMm }))}
        />
        <ChoiceField
          label="Cross-section"
          value={brace.section}
          options={Object.entries(sectionWords) as [PlanBrace['section'], string][]}
          onChange={(section) => change('brace-section', (b) => ({ ...b, section }))}
        />
        <NumberField
          label="Grain off its length (degrees)"
          measure="plain"
          value={brace.grainDeg}
          least={-45}
          most={45}
          onChange={(grainDeg) => change('brace-grain', (b) => ({ ...b, grainDeg: grainDeg ?? 0 }))}
        />
      </div>
      <CheckField
        label="Carries the string load"
        value={brace.structural}
        onChange={(structural) => change('brace-load', (b) => ({ ...b, structural }))}
      />
      <Heights brace={brace} isShaved={lastCut !== undefined} onChange={(edit) => change('brace-heights', edit)} />
      <Floors brace={brace} onChange={(floors) => change('floors', (b) => ({ ...b, floors }))} />
      <TextField label="Name" value={brace.name} onChange={(name) => change('brace-name', (b) => ({ ...b, name }))} />
      <button
        type="button"
        class="quiet"
        onClick={() =>
          shelf.edit('brace-removed', (current) =>
            changePlan(current, (plan) => ({ ...plan, braces: plan.braces.filter((b) => b.id !== brace.id) })),
          )
        }
      >
        Remove this brace
      </button>
    </section>
  );
}

function Heights(props: {
  readonly brace: PlanBrace;
  readonly isShaved: boolean;
  readonly onChange: (edit: (brace: PlanBrace) => PlanBrace) => void;
}) {
  const { brace, onChange } = props;
  const length = planBraceLengthMm(brace);
  const highest = Math.max(0, ...brace.profile.map((point) => point.heightMm));
  const lowest = Math.min(highest, ...brace.profile.map((point) => point.heightMm));
  const lay = (shape: ProfileShape) =>
    onChange((b) => ({ ...b, profile: [...shapedProfile(shape, length, highest, lowest)] }));
  return (
    <details>
      <summary>Heights as glued</summary>
      {props.isShaved && (
        <p class="hint">It has been shaved since: heights after a shaving are in the steps and win over these.</p>
      )}
      <div class="actions">
        {(Object.entries(shapeWords) as [ProfileShape, string][]).map(([shape, words]) => (
          <button type="button" key={shape} onClick={() => lay(shape)}>
            {words}
          </button>
        ))}
      </div>
      {brace.profile.map((point, i) => (
        <div class="fields pair" key={i}>
          <NumberField
            label={`Place ${i + 1}`}
            measure="mm"
            value={point.atMm}
            least={0}
            most={2000}
            onChange={(atMm) =>
              onChange((b) => ({
                ...b,
                profile:
                  atMm === undefined
                    ? b.profile.filter((_, k) => k !== i)
                    : b.profile.map((p, k) => (k === i ? { ...p, atMm } : p)).toSorted((p, q) => p.atMm - q.atMm),
              }))
            }
          />
          <NumberField
            label={`Height ${i + 1}`}
            measure="mm"
            value={point.heightMm}
            onChange={(heightMm) =>
              heightMm !== undefined &&
              onChange((b) => ({ ...b, profile: b.profile.map((p, k) => (k === i ? { ...p, heightMm } : p)) }))
            }
          />
        </div>
      ))}
      <p class="hint">Empty a place to remove it.</p>
      <button
        type="button"
        class="quiet"
        onClick={() =>
          onChange((b) => {
            const last = b.profile.at(-1);
            return { ...b, profile: [...b.profile, { atMm: (last?.atMm ?? 0) + 10, heightMm: last?.heightMm ?? 8 }] };
          })
        }
      >
        Add a place
      </button>
    </details>
  );
}

function Floors(props: { readonly brace: PlanBrace; readonly onChange: (floors: PlanBrace['floors']) => void }) {
  const { brace, onChange } = props;
  const set = (at: number, field: 'fromMm' | 'toMm' | 'heightMm', value: number | undefined) =>
    value !== undefined && onChange(brace.floors.map((floor, i) => (i === at ? { ...floor, [field]: value } : floor)));
  return (
    <details>
      <summary>Floors: how low each stretch may become</summary>
      {brace.floors.map((floor, i) => (
        <div class="fields" key={i}>
          <NumberField label="From" measure="mm" value={floor.fromMm} onChange={(v) => set(i, 'fromMm', v)} />
          <NumberField label="To" measure="mm" value={floor.toMm} onChange={(v) => set(i, 'toMm', v)} />
          <NumberField
            label="Floor"
            measure="mm"
            least={0}
            most={60}
            value={floor.heightMm}
            onChange={(v) => set(i, 'heightMm', v)}
          />
          <button type="button" class="quiet" onClick={() => onChange(brace.floors.filter((_, k) => k !== i))}>
            Remove
          </button>
        </div>
      ))}
      <button
        type="button"
        class="quiet"
        onClick={() =>
          onChange([
            ...brace.floors,
            {
              fromMm: 0,
              toMm: Math.round(planBraceLengthMm(brace)),
              heightMm: Math.max(2, Math.min(...brace.profile.map((p) => p.heightMm))),
            },
          ])
        }
      >
        Add a floor
      </button>
    </details>
  );
}
