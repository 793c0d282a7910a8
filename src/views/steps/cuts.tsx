// What was cut at a step. On a brace of the plan the cut is what the plan, the forecast and the course go by; in words only
// it is kept as it was written, until it is tied to a brace.

import { belowFloors } from '../../brace/floor.ts';
import { type BraceReading, readingOf, readStretch } from '../../record/cut-place.ts';
import { type CutMade, cutsMade, workedOut } from '../../record/cuts.ts';
import { withField } from '../../record/edit.ts';
import type { Cut, InstrumentRecord, Step } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { braceKey, bracesToChoose, inWords } from '../parts/brace-choice.ts';
import { ChoiceField } from '../parts/choice-field.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { useLength, useMassEstimate } from '../parts/own-units.ts';
import { TextField } from '../parts/text-field.tsx';
import { planWords, useLowPlaceWords } from '../plan/words.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

export function StepCuts(props: {
  readonly record: InstrumentRecord;
  readonly step: Step;
  readonly onChange: (cuts: readonly Cut[]) => void;
}) {
  const { newId } = useWorkshop();
  const { record, step, onChange } = props;
  const made = cutsMade(record).filter((each) => each.step.id === step.id);
  return (
    <div class="shavings">
      {made.map((each, at) => (
        <CutFields
          key={each.cut.id}
          record={record}
          made={each}
          number={at + 1}
          onChange={(cut) => onChange(step.cuts.map((known) => (known.id === cut.id ? cut : known)))}
          onRemove={() => onChange(step.cuts.filter((known) => known.id !== each.cut.id))}
        />
      ))}
      <Button
        kind="quiet"
        text={words.steps.addShaving}
        onPress={() => onChange([...step.cuts, { id: newId(), brace: '', braceIds: [] }])}
      />
    </div>
  );
}

type Stretch = ReturnType<typeof readStretch>;

function CutFields(props: {
  readonly record: InstrumentRecord;
  readonly made: CutMade;
  readonly number: number;
  readonly onChange: (cut: Cut) => void;
  readonly onRemove: () => void;
}) {
  const { record, made, onChange } = props;
  const { cut } = made;
  const t = words.steps;
  const [place, height, lowPlace] = [useLength(), useLength(3), useLowPlaceWords()];
  const mass = useMassEstimate();
  const known = bracesToChoose(record);
  const [first] = made.on;
  const reading = first === undefined ? undefined : readingOf(first.brace, record.hand);
  const read = readStretch(reading, cut.fromMm, cut.toMm);
  const put = (changed: Cut, at: BraceReading | undefined, stretch: Stretch) => {
    const [fromMm, toMm] = readStretch(at, ...stretch);
    onChange(withField(withField(changed, 'fromMm', fromMm), 'toMm', toMm));
  };
  /** One end of the stretch as it is read, put elsewhere. */
  const move = (which: 0 | 1, value: number | undefined) =>
    put(cut, reading, which === 0 ? [value, read[1]] : [read[0], value]);
  /** Ties the cut to other braces: its stretch stays as the maker reads it, whichever end they are read from. */
  const choose = (key: string) => {
    const chosen = known.find(({ ids }) => braceKey(ids) === key);
    const brace = record.plan?.braces.find(({ id }) => id === chosen?.ids[0]);
    const changed = { ...cut, braceIds: [...(chosen?.ids ?? [])], brace: chosen?.name ?? cut.brace };
    put(changed, brace && readingOf(brace, record.hand), read);
  };
  const isDrawn = cut.drawn !== undefined || cut.heights !== undefined;
  const options = known.map(({ ids, name }) => [braceKey(ids), name] as const);
  const own = braceKey(cut.braceIds);
  const floor = record.floors.find((each) => each.brace === cut.brace);
  const isAtFloor = floor !== undefined && cut.heightLeftMm !== undefined && cut.heightLeftMm <= floor.heightMm;
  return (
    <fieldset class="shaving">
      <legend>{t.shaving(props.number)}</legend>
      {known.length > 0 && (
        <ChoiceField
          label={t.onThePlan}
          value={own}
          options={[
            [inWords, t.inWordsOnly],
            ...options,
            // Of a plan whose braces were others.
            ...(own === inWords || options.some(([key]) => key === own) ? [] : [[own, cut.brace] as const]),
          ]}
          onChange={choose}
        />
      )}
      {cut.braceIds.length === 0 && (
        <TextField label={t.brace} value={cut.brace} onChange={(brace) => onChange({ ...cut, brace })} />
      )}
      {isDrawn && <p class="hint">{t.cutByHeights}</p>}
      <div class="fields">
        {!isDrawn &&
          ([0, 1] as const).map((which) => (
            <NumberField
              key={which}
              of={which === 0 ? 'stretchFrom' : 'stretchTo'}
              hint={reading === undefined ? undefined : planWords().countedFrom(reading.end)}
              value={read[which]}
              onChange={(value) => move(which, value)}
            />
          ))}
        {!isDrawn && (
          <NumberField of="cutDepth" value={cut.offMm} onChange={(value) => onChange(withField(cut, 'offMm', value))} />
        )}
        {cut.heights?.map((one, i) => (
          <NumberField
            key={one.atMm}
            label={t.heightAt(place(reading?.turned(one.atMm) ?? one.atMm))}
            of="braceHeight"
            value={one.heightMm}
            onSet={(heightMm) =>
              onChange({ ...cut, heights: cut.heights!.map((each, k) => (k === i ? { ...each, heightMm } : each)) })
            }
          />
        ))}
        <NumberField
          of="shavings"
          hint={
            made.isWeighed || made.massOffG === undefined ? undefined : t.workedOutMass(mass(workedOut(made.massOffG)))
          }
          value={cut.weighedG}
          onChange={(value) => onChange(withField(cut, 'weighedG', value))}
        />
        <NumberField
          of="heightLeft"
          hint={
            cut.heightLeftMm !== undefined || made.heightLeftMm === undefined
              ? floor && t.floor(height(floor.heightMm))
              : t.workedOutHeight(height(made.heightLeftMm))
          }
          value={cut.heightLeftMm}
          onChange={(value) => onChange(withField(cut, 'heightLeftMm', value))}
        />
      </div>
      {isAtFloor && (
        <p class="stop" role="alert">
          {t.atFloor}
        </p>
      )}
      {made.on.flatMap(({ brace, after }) =>
        belowFloors(brace.floors, after).map((low) => (
          <p key={`${brace.id} ${low.fromMm}`} class="stop" role="alert">
            {planWords().braceForm.belowFloor(...lowPlace(readingOf(brace, record.hand), low))}
          </p>
        )),
      )}
      <Button kind="quiet" text={t.remove} onPress={props.onRemove} />
    </fieldset>
  );
}
