// A set of the maker's own: gauges, or the weight per metre from a table or the scale.
import { tuningNamed } from '../compare/string-load.ts';
import type { BoxStrings } from '../record/box-edit.ts';
import { withField } from '../record/edit.ts';
import { noteName } from './box-words.ts';
import { ChoiceField, NumberField } from './fields.tsx';

type OwnString = NonNullable<BoxStrings['ownSet']>[number];

export function OwnSet(props: {
  readonly strings: BoxStrings;
  readonly onChange: (set: readonly OwnString[]) => void;
}) {
  const notes = tuningNamed(props.strings.tuning).openNotes;
  const set: readonly OwnString[] = notes.map(
    (_, i) => props.strings.ownSet?.[i] ?? { kind: i < notes.length / 3 ? 'plain' : 'wound' },
  );
  const change = (at: number, string: OwnString) => props.onChange(set.with(at, string));
  return (
    <fieldset>
      <legend>Own set, 1st string first</legend>
      {set.map((string, at) => {
        const name = `String ${at + 1}, ${noteName(notes[at]!)}`;
        const size = (key: 'diameterMm' | 'coreMm', label: string) => (
          <NumberField
            label={label}
            measure="mm"
            least={0.1}
            most={3}
            value={string[key]}
            onChange={(value) => change(at, withField(string, key, value))}
          />
        );
        return (
          <fieldset class="fields plain" key={at} aria-label={name}>
            <ChoiceField
              label={name}
              value={string.kind}
              options={[
                ['plain', 'Plain steel'],
                ['wound', 'Wound, phosphor bronze on steel'],
                ['weighed', 'Weight per metre known'],
              ]}
              onChange={(kind) => change(at, { ...string, kind })}
            />
            {string.kind !== 'weighed' && size('diameterMm', 'Gauge')}
            {string.kind === 'wound' && size('coreMm', 'Core')}
            {string.kind === 'weighed' && (
              <NumberField
                label="Weight (grams a metre)"
                measure="plain"
                least={0.05}
                most={40}
                value={string.unitMassGPerM}
                onChange={(value) => change(at, withField(string, 'unitMassGPerM', value))}
              />
            )}
          </fieldset>
        );
      })}
    </fieldset>
  );
}
