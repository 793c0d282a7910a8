// A shaving entered on the plan: a stretch and a depth, or new heights at places, put into the step it belongs to.
import { useState } from 'preact/hooks';
import { belowFloors } from '../brace/floor.ts';
import { heightAtMm } from '../brace/profile.ts';
import { readingOf } from '../record/cut-place.ts';
import { appendStep, changeStep } from '../record/edit.ts';
import { planBraceLengthMm } from '../record/plan-brace.ts';
import { evenCut, shavingTo } from '../record/plan-cut.ts';
import type { InstrumentRecord, Plan, PlanBrace, Profile, Shaving } from '../record/record.ts';
import { EnterButton, EntryForm } from './entry.tsx';
import { ChoiceField, choices, NumberField } from './fields.tsx';
import { number } from './figures.ts';
import { ProfileDrawing } from './plan-profile.tsx';
import { stretchWords } from './plan-words.ts';
import { planWords } from './words/plan.ts';
import { useEditRecord, useWorkshop } from './workshop-context.ts';

/** How many places of the brace are offered for new heights. */
const PLACES = 7;

/** A shaving of one brace; nothing is entered while a field of it is wrong. */
export function ShavingEntry(props: Parameters<typeof ShavingFields>[0]) {
  return (
    <EntryForm>
      <ShavingFields {...props} />
    </EntryForm>
  );
}

function ShavingFields(props: { readonly record: InstrumentRecord; readonly plan: Plan; readonly brace: PlanBrace }) {
  const { beginStep } = useWorkshop();
  const editRecord = useEditRecord();
  const { brace, plan, record } = props;
  const t = planWords();
  const length = planBraceLengthMm(brace);
  const reading = readingOf(brace, record.hand);
  const [how, setHow] = useState<'even' | 'places'>('even');
  const [stretch, setStretch] = useState({
    // As it is read.
    fromMm: Math.round(0.25 * length),
    toMm: Math.round(0.5 * length),
    offMm: 0.5,
  });
  const [heights, setHeights] = useState<ReadonlyMap<number, number>>(new Map());
  const shaving =
    how === 'even'
      ? evenCut(plan, brace, ...reading.stretch(stretch.fromMm, stretch.toMm), stretch.offMm)
      : byPlaces(plan, brace, heights);
  const after = shaving.after?.[0]?.profile ?? brace.profile;
  const low = belowFloors(brace.floors, after);
  const takesOff = (shaving.massOffG ?? 0) > 0;
  const latest = record.steps.at(-1);
  // A step that has been measured is closed to further cuts: what was tapped must stay what was cut.
  const open = latest !== undefined && latest.rounds.length === 0 ? latest : undefined;
  const enter = () => {
    const step = open === undefined ? beginStep() : undefined;
    const stepId = step?.id ?? open?.id;
    if (stepId === undefined) return;
    editRecord('plan-shaving', (current) =>
      changeStep(step === undefined ? current : appendStep(current, step), stepId, (known) => ({
        ...known,
        stage: known.stage === 'thicknessed' ? 'braced' : known.stage,
        shavings: [...known.shavings, shaving],
      })),
    );
    setHeights(new Map());
  };
  return (
    <section class="card shaving-entry">
      <h2>{t.shaving}</h2>
      <ChoiceField label={t.enterBy} value={how} options={choices(t.ways)} onChange={setHow} />
      <p class="hint">{t.countedFrom(reading.end)}</p>
      {how === 'even' ? (
        <div class="fields">
          <NumberField
            label={t.shaveFrom}
            measure="mm"
            least={0}
            most={Math.ceil(length)}
            isNeeded
            value={stretch.fromMm}
            onChange={(fromMm) => fromMm !== undefined && setStretch({ ...stretch, fromMm })}
          />
          <NumberField
            label={t.shaveTo}
            measure="mm"
            least={0}
            most={Math.ceil(length)}
            isNeeded
            value={stretch.toMm}
            onChange={(toMm) => toMm !== undefined && setStretch({ ...stretch, toMm })}
          />
          <NumberField
            label={t.off}
            measure="mm"
            least={0}
            most={20}
            isNeeded
            value={stretch.offMm}
            onChange={(offMm) => offMm !== undefined && setStretch({ ...stretch, offMm })}
          />
        </div>
      ) : (
        <div class="fields">
          {placesOf(length)
            .toSorted((a, b) => reading.turned(a) - reading.turned(b))
            .map((at) => (
              <NumberField
                key={at}
                label={t.heightAt(number(reading.turned(at), 0), number(heightAtMm(brace.profile, at), 1))}
                measure="mm"
                least={0}
                most={60}
                value={heights.get(at)}
                onChange={(height) => {
                  const next = new Map(heights);
                  if (height === undefined) next.delete(at);
                  else next.set(at, height);
                  setHeights(next);
                }}
              />
            ))}
        </div>
      )}
      <ProfileDrawing brace={brace} reading={reading} after={after} />
      {low.map((place) => (
        <p key={place.fromMm} class="stop" role="alert">
          {t.wouldLeave(number(place.heightMm, 1), ...stretchWords(reading, place), number(place.floorMm, 1))}
        </p>
      ))}
      <p>
        {t.takesOff(number(shaving.massOffG ?? 0, 2))}{' '}
        <span class="hint">{open === undefined ? t.newStep : t.openStep}</span>
      </p>
      <EnterButton disabled={!takesOff} onEnter={enter}>
        {t.enter}
      </EnterButton>
    </section>
  );
}

const placesOf = (lengthMm: number): readonly number[] =>
  Array.from({ length: PLACES }, (_, i) => Math.round((i * lengthMm) / (PLACES - 1)));

/** New heights at some places; between them the cut is straight, and no place grows. */
function byPlaces(plan: Plan, brace: PlanBrace, heights: ReadonlyMap<number, number>): Shaving {
  const places = placesOf(planBraceLengthMm(brace));
  const offAt = (at: number): number =>
    Math.max(0, heightAtMm(brace.profile, at) - (heights.get(at) ?? Number.POSITIVE_INFINITY));
  const cut: Profile = places.map((at) => ({ atMm: at, heightMm: offAt(at) }));
  const all = [...new Set([...places, ...brace.profile.map((point) => point.atMm)])].toSorted((a, b) => a - b);
  return shavingTo(
    plan,
    brace,
    all.map((atMm) => ({
      atMm,
      heightMm: Math.round(100 * Math.max(0, heightAtMm(brace.profile, atMm) - heightAtMm(cut, atMm))) / 100,
    })),
  );
}
