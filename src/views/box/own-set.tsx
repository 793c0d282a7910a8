// A set of the maker's own: gauges, or the weight per metre from a table or the scale.
import { tuningNamed } from '../../compare/string-load.ts';
import type { BoxStrings } from '../../record/box-edit.ts';
import { withField } from '../../record/edit.ts';
import { ChoiceField, choices } from '../parts/choice-field.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { boxWords, noteName } from './words.ts';

type OwnString = NonNullable<BoxStrings['ownSet']>[number];

const builds = {
  'plain steel': { kind: 'plain', material: undefined },
  'wound steel': { kind: 'wound', material: undefined },
  'plain nylon': { kind: 'plain', material: 'nylon' },
  'wound nylon': { kind: 'wound', material: 'nylon' },
  weighed: { kind: 'weighed', material: undefined },
} as const;

export function OwnSet(props: {
  readonly strings: BoxStrings;
  readonly onChange: (set: readonly OwnString[]) => void;
}) {
  const t = boxWords().ownSet;
  const notes = tuningNamed(props.strings.tuning).openNotes;
  const set: readonly OwnString[] = notes.map(
    (_, i) => props.strings.ownSet?.[i] ?? { kind: i < notes.length / 3 ? 'plain' : 'wound' },
  );
  const change = (at: number, string: OwnString) => props.onChange(set.with(at, string));
  return (
    <fieldset>
      <legend>{t.title}</legend>
      {set.map((string, at) => {
        const name = t.string(at + 1, noteName(notes[at]!));
        const size = (key: 'diameterMm' | 'coreMm') => (
          <NumberField
            of={key === 'coreMm' ? 'coreDiameter' : 'stringDiameter'}
            value={string[key]}
            onChange={(value) => change(at, withField(string, key, value))}
          />
        );
        return (
          <fieldset class="fields plain" key={at} aria-label={name}>
            <ChoiceField
              label={name}
              value={string.kind === 'weighed' ? 'weighed' : `${string.kind} ${string.material ?? 'steel'}`}
              options={choices(t.builds)}
              onChange={(value) => {
                const { kind, material } = builds[value];
                change(at, { ...withField(string, 'material', material), kind });
              }}
            />
            {string.kind !== 'weighed' && size('diameterMm')}
            {string.kind === 'wound' && size('coreMm')}
            {string.kind === 'weighed' && (
              <NumberField
                of="unitMass"
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
