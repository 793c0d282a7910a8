// @vitest-environment happy-dom
// Counts and sizes on the shelf, floors in both systems, and the doubts of the maker's own instruments.
import { signal } from '@preact/signals';
import { act } from 'preact/test-utils';
import { describe, expect, test } from 'vitest';
import { type InstrumentRecord, summarise } from '../../src/record/record.ts';
import { defaultSettings, type Settings } from '../../src/storage/settings.ts';
import { Details } from '../../src/views/record/details.tsx';
import { RecordKeeping } from '../../src/views/record/keeping.tsx';
import { Instruments } from '../../src/views/record/list.tsx';
import { SettingsView } from '../../src/views/settings/settings-view.tsx';
import { story } from '../compare/story.ts';
import { expectPlain, inField, partNamed, show, unitSystems } from './shown.tsx';

describe('kept safe', () => {
  const page = (usedBytes: number) =>
    partNamed(
      show(
        <RecordKeeping />,
        {},
        {
          keeping: {
            copies: signal({ changes: 7, atIso: '2026-11-25T08:00:00.000Z' }),
            folder: signal(undefined),
            roundCopy: signal({ kind: 'none' }),
            persisted: signal(true),
            usedBytes: signal(usedBytes),
          },
          checkup: {
            state: signal({
              kind: 'checked',
              records: 12,
              taps: 345,
              findings: [],
              orphans: { taps: ['a', 'b', 'c'], photos: ['d', 'e'] },
            }),
          },
        },
      ),
      'Kept safe',
    ).textContent!;

  test('things since the copy, records and taps looked through, what is in no record', () => {
    const said = page(1e6);
    expect(said).toContain('; 7 things done since');
    expect(said).toContain('12 records with 345 taps');
    expect(said).toContain('the sound of 3 taps and 2 photographs');
  });

  // SI prefixes: a megabyte is 10^6 bytes, a gigabyte 10^9.
  test.each([
    [873_400_000, 873.4, 'MB'],
    [4_268_000_000, 4.268, 'GB'],
  ] as const)('%i bytes on this machine', (bytes, value, unit) => {
    expectPlain(/They take (.*B) on/.exec(page(bytes))![1]!, value, unit);
  });
});

test('the list of records: how many steps each has', () => {
  const records = [1, 3].map((steps) => ({
    ...story(Array.from({ length: steps }, () => ({ modesHz: [180] }))),
    id: `i${steps}`,
    name: `Of ${steps}`,
  }));
  const summaries = records.map((record) => summarise(record, record.createdAtIso));
  const page = show(<Instruments />, {}, { shelf: { summaries: signal(summaries), record: signal(undefined) } });
  const rows = [...page.querySelectorAll('.instrument')].map(({ textContent }) => textContent!);
  expect(rows.find((row) => row.startsWith('Of 1'))).toContain('1 step ·');
  expect(rows.find((row) => row.startsWith('Of 3'))).toContain('3 steps ·');
});

test.each(unitSystems)('a floor that is named in words, read and typed in $length.unit', ({ settings, length }) => {
  const record: InstrumentRecord = {
    ...story([{ modesHz: [180] }]),
    floors: [{ id: 'f', brace: 'X', heightMm: 9.3 }],
  };
  let floors: InstrumentRecord['floors'] = [];
  const edit = (_id: string, _editName: string, change: (known: InstrumentRecord) => InstrumentRecord) => {
    floors = change(record).floors;
  };
  const page = show(<Details record={record} />, settings, {
    shelf: { record: signal(record), edit },
    newId: () => 'n',
  });
  const part = page.querySelector<HTMLElement>('fieldset')!;
  expectPlain(inField(part, 'Lowest height'), 9.3 * length.perMm, length.unit);
  const input = part.querySelectorAll('input')[1]!;
  act(() => {
    input.value = (11.43 * length.perMm).toFixed(2);
    input.dispatchEvent(new Event('change', { bubbles: true }));
  });
  // 11.43 mm are 0.45 in.
  expect(floors[0]!.heightMm).toBeCloseTo(11.43, 9);
});

describe('settings', () => {
  const chosen: Partial<Settings> = {
    tapsPerHold: 9,
    holdsPerRound: 4,
    holdPauseS: 11,
    a4Hz: 441,
    loudEnoughDb: 13,
    loudestDb: -2,
    hygrometerOffsetPercent: -3,
    hygrometerSigmaPercent: 2.3,
    rulerMm: 0.7,
    caliperMm: 0.06,
    scaleG: 0.9,
    sandingMm: 0.21,
  };
  let changed: Partial<Settings> = {};
  const page = (settings: Partial<Settings> = {}) =>
    show(
      <SettingsView />,
      {},
      {
        preferences: {
          settings: signal({ ...defaultSettings, ...chosen, ...settings }),
          change: (part: Partial<Settings>) => {
            changed = part;
          },
        },
        microphones: { list: signal([]), follow: () => undefined },
      },
    );

  test('each number stands in its own field', () => {
    const shown = page();
    for (const [label, text] of [
      ['Taps a hold', '9'],
      ['Holds a round', '4'],
      ['Pause between holds', '11 s'],
      ['Pitch of A4', '441 Hz'],
      ['A tap must be above the room by', '13 dB'],
      ['Refuse taps louder than', '-2 dB'],
      ['Add to its reading', '-3 %'],
    ] as const)
      expect(inField(shown, label), label).toBe(text);
  });

  test('the doubt of the hygrometer is a half width, kept as a sigma', () => {
    const shown = page();
    expectPlain(inField(shown, 'Still in doubt by ±'), 1.959964 * 2.3, '%');
    const input = [...shown.querySelectorAll('input')].find(
      ({ labels }) => labels?.[0]?.textContent === 'Still in doubt by ±',
    )!;
    act(() => {
      input.value = '6';
      input.dispatchEvent(new Event('change', { bubbles: true }));
    });
    expect(changed.hygrometerSigmaPercent).toBeCloseTo(6 / 1.959964, 5);
  });

  test.each(unitSystems)(
    'what ruler, caliper and scale may be off by, in $length.unit and $mass.unit',
    ({ settings, length, mass }) => {
      const shown = page(settings);
      for (const [label, mm] of [
        ['Ruler ±', 0.7],
        ['Caliper ±', 0.06],
        ['Left for sanding and finish', 0.21],
      ] as const)
        expectPlain(inField(shown, label), mm * length.perMm, length.unit);
      expectPlain(inField(shown, 'Scale ±'), 0.9 * mass.perG, mass.unit);
    },
  );
});
