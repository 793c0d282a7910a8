// The fields of one cut: the brace, where and how deep, and what was measured of it afterwards.

import { belowFloors } from '../../brace/floor.ts';
import { type BraceReading, readingOf, readStretch } from '../../record/cut-place.ts';
import { type CutMade, workedOut } from '../../record/cuts.ts';
import { withField } from '../../record/edit.ts';
import type { Cut, InstrumentRecord } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { braceKey, bracesToChoose, inWords } from '../parts/brace-choice.ts';
import { ChoiceField } from '../parts/choice-field.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { useLength, useMassEstimate } from '../parts/own-units.ts';
import { TextField } from '../parts/text-field.tsx';
import { planWords, useLowPlaceWords } from '../plan/words.ts';
import { words } from '../words/language.ts';

type Stretch = ReturnType<typeof readStretch>;

type CutProps = {
  readonly record: InstrumentRecord;
  readonly made: CutMade;
  readonly onChange: (cut: Cut) => void;
};

export function CutFields(props: CutProps & { readonly number: number; readonly onRemove: () => void }) {
  const { record, made } = props;
  const { cut } = made;
  const t = words.steps;
  const lowPlace = useLowPlaceWords();
  const floor = record.floors.find((each) => each.brace === cut.brace);
  const isAtFloor = floor !== undefined && cut.heightLeftMm !== undefined && cut.heightLeftMm <= floor.heightMm;
  return (
    <fieldset class="shaving">
      <legend>{t.shaving(props.number)}</legend>
      <CutBrace {...props} />
      {isDrawn(cut) && <p class="hint">{t.cutByHeights}</p>}
      <div class="fields">
        {isDrawn(cut) ? <CutHeights {...props} /> : <CutStretch {...props} />}
        <LeftOver {...props} />
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

const isDrawn = (cut: Cut): boolean => cut.drawn !== undefined || cut.heights !== undefined;

/** How the brace of a cut is read, which stretch that makes of it, and the cut with another one. */
function useStretch({ record, made, onChange }: CutProps) {
  const [first] = made.on;
  const reading = first === undefined ? undefined : readingOf(first.brace, record.hand);
  const read = readStretch(reading, made.cut.fromMm, made.cut.toMm);
  const put = (changed: Cut, at: BraceReading | undefined, stretch: Stretch) => {
    const [fromMm, toMm] = readStretch(at, ...stretch);
    onChange(withField(withField(changed, 'fromMm', fromMm), 'toMm', toMm));
  };
  return { reading, read, put };
}

/** Which brace was cut: one of the plan, or in words. */
function CutBrace(props: CutProps) {
  const { record, made, onChange } = props;
  const { cut } = made;
  const t = words.steps;
  const { read, put } = useStretch(props);
  const known = bracesToChoose(record);
  /** Ties the cut to other braces: its stretch stays as the maker reads it, whichever end they are read from. */
  const choose = (key: string) => {
    const chosen = known.find(({ ids }) => braceKey(ids) === key);
    const brace = record.plan?.braces.find(({ id }) => id === chosen?.ids[0]);
    const changed = { ...cut, braceIds: [...(chosen?.ids ?? [])], brace: chosen?.name ?? cut.brace };
    put(changed, brace && readingOf(brace, record.hand), read);
  };
  const options = known.map(({ ids, name }) => [braceKey(ids), name] as const);
  const own = braceKey(cut.braceIds);
  return (
    <>
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
    </>
  );
}

/** An even cut: from where to where, and how deep. */
function CutStretch(props: CutProps) {
  const { onChange } = props;
  const { cut } = props.made;
  const { reading, read, put } = useStretch(props);
  const hint = reading && planWords().countedFrom(reading.end);
  return (
    <>
      <NumberField
        of="stretchFrom"
        hint={hint}
        value={read[0]}
        onChange={(value) => put(cut, reading, [value, read[1]])}
      />
      <NumberField
        of="stretchTo"
        hint={hint}
        value={read[1]}
        onChange={(value) => put(cut, reading, [read[0], value])}
      />
      <NumberField of="cutDepth" value={cut.offMm} onChange={(value) => onChange(withField(cut, 'offMm', value))} />
    </>
  );
}

/** A cut drawn on the plan: its new heights. */
function CutHeights(props: CutProps) {
  const { cut } = props.made;
  const place = useLength();
  const { reading } = useStretch(props);
  return cut.heights?.map((one, i) => (
    <NumberField
      key={one.atMm}
      label={words.steps.heightAt(place(reading?.turned(one.atMm) ?? one.atMm))}
      of="braceHeight"
      value={one.heightMm}
      onSet={(heightMm) =>
        props.onChange({ ...cut, heights: cut.heights!.map((each, k) => (k === i ? { ...each, heightMm } : each)) })
      }
    />
  ));
}

/** What the shavings weigh and what is left of the height, as measured, with what is worked out beside. */
function LeftOver({ record, made, onChange }: CutProps) {
  const { cut } = made;
  const t = words.steps;
  const height = useLength(3);
  const mass = useMassEstimate();
  const floor = record.floors.find((each) => each.brace === cut.brace);
  return (
    <>
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
    </>
  );
}
