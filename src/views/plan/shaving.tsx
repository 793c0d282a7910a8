// A shaving entered on the plan: a stretch and a depth, or new heights at places, put into the step it belongs to.

import { useState } from 'preact/hooks';
import { belowFloors } from '../../brace/floor.ts';
import { heightAtMm } from '../../brace/profile.ts';
import { openStep } from '../../record/cut-entry.ts';
import { type BraceReading, readingOf } from '../../record/cut-place.ts';
import { massBetweenG, profileAfter, workedOut } from '../../record/cuts.ts';
import { planBraceLengthMm } from '../../record/plan-brace.ts';
import type { Cut, InstrumentRecord, Plan, PlanBrace, StoredProfile } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { ChoiceField, choices } from '../parts/choice-field.tsx';
import { useEnterCuts } from '../parts/enter-cuts.ts';
import { EnterButton, EntryForm, useIsMarked } from '../parts/form.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { useLength, useMassEstimate } from '../parts/own-units.ts';
import { useWorkshop } from '../workshop-context.ts';
import { ProfileDrawing } from './profile.tsx';
import { planWords, useLowPlaceWords } from './words.ts';

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
  const { newId } = useWorkshop();
  const { brace, plan, record } = props;
  const t = planWords();
  const lowPlace = useLowPlaceWords();
  const mass = useMassEstimate();
  const length = planBraceLengthMm(brace);
  const reading = readingOf(brace, record.hand);
  const [how, setHow] = useState<'even' | 'places'>('even');
  const [stretch, setStretch] = useState<EvenStretch>({
    // As it is read.
    fromMm: Math.round(0.25 * length),
    toMm: Math.round(0.5 * length),
    offMm: 0.5,
  });
  const [heights, setHeights] = useState<ReadonlyMap<number, number>>(new Map());
  const [fromMm, toMm] = reading.stretch(stretch.fromMm, stretch.toMm);
  const cut: Cut = {
    // Named anew when it is entered.
    id: 'not-entered',
    brace: brace.name,
    braceIds: [brace.id],
    ...(how === 'even'
      ? { fromMm, toMm, offMm: stretch.offMm }
      : { heights: heightsAt(brace, heights).map((place) => ({ ...place })) }),
  };
  const after = profileAfter(brace, cut);
  const massOffG = Math.max(0, massBetweenG(plan, brace, after));
  const low = belowFloors(brace.floors, after);
  const takesOff = massOffG > 0;
  const isMarked = useIsMarked();
  const enterCuts = useEnterCuts();
  const isStepOpen = openStep(record) !== undefined;
  // A second press does not take the same wood off twice: what was entered last must be changed before it is entered again.
  const [entered, setEntered] = useState<string | undefined>(undefined);
  const asEntered = JSON.stringify(cut);
  const enter = () => {
    enterCuts(record, [{ ...cut, id: newId() }]);
    setHeights(new Map());
    setEntered(asEntered);
  };
  return (
    <Card title={t.shaving} class="shaving-entry">
      <ChoiceField label={t.enterBy} value={how} options={choices(t.ways)} onChange={setHow} />
      <p class="hint">{t.countedFrom(reading.end)}</p>
      {how === 'even' ? (
        <EvenCut lengthMm={length} stretch={stretch} onChange={setStretch} />
      ) : (
        <NewHeights brace={brace} reading={reading} heights={heights} onChange={setHeights} />
      )}
      <ProfileDrawing brace={brace} reading={reading} after={isMarked ? undefined : after} />
      {(isMarked ? [] : low).map((one) => (
        <p key={one.fromMm} class="stop" role="alert">
          {t.wouldLeave(...lowPlace(reading, one))}
        </p>
      ))}
      {!isMarked && (
        <p>
          {t.takesOff(mass(workedOut(massOffG)))} <span class="hint">{isStepOpen ? t.openStep : t.newStep}</span>
        </p>
      )}
      <EnterButton disabled={!takesOff || entered === asEntered} onEnter={enter}>
        {t.enter}
      </EnterButton>
      {entered === asEntered && (
        <p class="hint" role="status">
          {t.isEntered} <Button kind="quiet" text={t.enterAgain} onPress={() => setEntered(undefined)} />
        </p>
      )}
    </Card>
  );
}

type EvenStretch = { readonly fromMm: number; readonly toMm: number; readonly offMm: number };

/** From where to where, as it is read, and how deep. */
function EvenCut(props: {
  readonly lengthMm: number;
  readonly stretch: EvenStretch;
  readonly onChange: (stretch: EvenStretch) => void;
}) {
  const { stretch, onChange } = props;
  const t = planWords();
  return (
    <div class="fields">
      <NumberField
        label={t.shaveFrom}
        of="placeAlongBrace"
        most={Math.ceil(props.lengthMm)}
        isNeeded
        value={stretch.fromMm}
        onSet={(fromMm) => onChange({ ...stretch, fromMm })}
      />
      <NumberField
        label={t.shaveTo}
        of="placeAlongBrace"
        most={Math.ceil(props.lengthMm)}
        isNeeded
        value={stretch.toMm}
        onSet={(toMm) => onChange({ ...stretch, toMm })}
      />
      <NumberField of="cutDepth" isNeeded value={stretch.offMm} onSet={(offMm) => onChange({ ...stretch, offMm })} />
    </div>
  );
}

/** The height after the cut, place by place, in the order in which they are read. */
function NewHeights(props: {
  readonly brace: PlanBrace;
  readonly reading: BraceReading;
  readonly heights: ReadonlyMap<number, number>;
  readonly onChange: (heights: ReadonlyMap<number, number>) => void;
}) {
  const { brace, reading, heights } = props;
  const [place, height] = [useLength(), useLength(3)];
  return (
    <div class="fields">
      {placesOf(planBraceLengthMm(brace))
        .toSorted((a, b) => reading.turned(a) - reading.turned(b))
        .map((at) => (
          <NumberField
            key={at}
            label={planWords().heightAt(place(reading.turned(at)), height(heightAtMm(brace.profile, at)))}
            of="braceHeight"
            value={heights.get(at)}
            onChange={(height) => {
              const next = new Map(heights);
              if (height === undefined) next.delete(at);
              else next.set(at, height);
              props.onChange(next);
            }}
          />
        ))}
    </div>
  );
}

const placesOf = (lengthMm: number): readonly number[] =>
  Array.from({ length: PLACES }, (_, i) => Math.round((i * lengthMm) / (PLACES - 1)));

/** Heights after the cut at all places that are offered: where none was typed the brace stays as it is. */
const heightsAt = (brace: PlanBrace, typed: ReadonlyMap<number, number>): StoredProfile =>
  placesOf(planBraceLengthMm(brace)).map((atMm) => ({
    atMm,
    heightMm: typed.get(atMm) ?? heightAtMm(brace.profile, atMm),
  }));
