// Where the modes of the box fall between the notes of its strings, and which come too near to one.

import { type NotePlace, placeBetweenNotes } from '../../box/between-notes.ts';
import { tuningNamed } from '../../compare/string-load.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import type { BoxPart } from '../../record/record.ts';
import { TUNINGS } from '../../strings/tuning.ts';
import { Card } from '../parts/card.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { number, signed } from '../parts/figures.ts';
import { NumberField } from '../parts/number-field.tsx';
import { Table } from '../parts/table.tsx';
import { useWorkshop } from '../workshop-context.ts';
import { useBoxEdit } from './part.ts';
import { boxWords, noteName, stringsNamed } from './words.ts';

/** Distance within which a mode is warned of. Common practice, no source. */
const usualWarningCents = 20;
const usualFrets = 20;

export function Notes(props: { readonly box: BoxPart; readonly modes: readonly Estimate[] }) {
  const { preferences } = useWorkshop();
  const edit = useBoxEdit();
  const { box, modes } = props;
  const { whatIf: t, codes } = boxWords();
  const tuning = tuningNamed(box.tuning ?? box.strings?.tuning);
  const warningCents = box.warningCents ?? usualWarningCents;
  const frets = box.frets ?? usualFrets;
  const rows = modes.map((hz) => placeBetweenNotes(hz, preferences.settings.value.a4Hz, tuning, frets, warningCents));
  const near = rows.flatMap((row, i) => (row.some(({ warning }) => warning === 'near') ? [codes.modes[i]!] : []));
  return (
    <Card title={t.notes} label={t.notes}>
      <div class="fields">
        <ChoiceField
          label={t.tuning}
          value={tuning.name}
          options={TUNINGS.map(({ name }) => [name, stringsNamed(name)] as const)}
          onChange={(name) => edit('tuning', (known) => ({ ...known, tuning: name }))}
        />
        <NumberField
          of="warningCents"
          value={warningCents}
          onSet={(value) => edit('warning', (known) => ({ ...known, warningCents: value }))}
        />
        <NumberField
          of="fretsLookedAt"
          value={frets}
          onSet={(value) => edit('frets', (known) => ({ ...known, frets: Math.round(value) }))}
        />
      </div>
      <p class={near.length > 0 ? 'note' : 'hint'}>{near.length > 0 ? t.onNote(near) : t.offNotes}</p>
      <Table
        label={t.notesLabel}
        class="notes"
        isMatrix
        head={[t.mode, ...tuning.openNotes.map((note, i) => `${i + 1}. ${noteName(note)}`)]}
        rows={rows.map((row, i) => [
          t.modeAt(codes.modes[i]!, number(modes[i]!.value, 0)),
          ...row.map((place) => <NoteCell place={place} />),
        ])}
      />
    </Card>
  );
}

function NoteCell({ place }: { readonly place: NotePlace }) {
  const t = boxWords().whatIf;
  if (Math.abs(place.cents.value) > 60) return <span class="hint">{place.fret === 0 ? t.belowIt : t.aboveIt}</span>;
  const where = place.fret === 0 ? t.open : t.fret(place.fret);
  return (
    <>
      <span class={place.warning === 'near' ? 'tag' : undefined}>
        {t.centsFrom(signed(place.cents, ''), noteName(place.note))}
      </span>{' '}
      <span class="hint">{place.warning === 'perhaps' ? t.perhapsNear(where) : where}</span>
    </>
  );
}
