// A set of the maker's own: gauges, or the weight per metre from a table or the scale.
import { tuningNamed } from '../compare/string-load.ts';
import type { BoxStrings } from '../record/box-edit.ts';
import { withField } from '../record/edit.ts';
import { noteName } from './box-words.ts';
import { ChoiceField, NumberField } from './fields.tsx';

type OwnString = NonNullable<BoxStrings['ownSet']>[number];

const builds = [
  { name: 'plain steel', words: 'Plain steel', kind: 'plain', material: undefined },
  { name: 'wound steel', words: 'Wound, phosphor bronze on steel', kind: 'wound', material: undefined },
  { name: 'plain nylon', words: 'Plain nylon', kind: 'plain', material: 'nylon' },
  { name: 'wound nylon', words: 'Wound, silvered copper on nylon', kind: 'wound', material: 'nylon' },
  { name: 'weighed', words: 'Weight per metre known', kind: 'weighed', material: undefined },
] as const;

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
              value={string.kind === 'weighed' ? 'weighed' : `${string.kind} ${string.material ?? 'steel'}`}
              options={builds.map(({ name: value, words }) => [value, words] as const)}
              onChange={(value) => {
                const { kind, material } = builds.find((build) => build.name === value) ?? builds[0];
                change(at, { ...withField(string, 'material', material), kind });
              }}
            />
            {string.kind !== 'weighed' && size('diameterMm', 'Gauge')}
            {string.kind === 'wound' && size('coreMm', 'Core')}
            {string.kind === 'weighed' && (
              <NumberField
                label="Weight"
                measure="plain"
                unit="g/m"
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
