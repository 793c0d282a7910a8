// @vitest-environment happy-dom
// A target for a mode that was tapped: one entry names the mode and says where it is to come to.
import { signal } from '@preact/signals';
import { act } from 'preact/test-utils';
import { describe, expect, test } from 'vitest';
import { tracks } from '../../src/compare/tracks.ts';
import type { InstrumentRecord } from '../../src/record/record.ts';
import { Targets } from '../../src/views/steps/targets.tsx';
import { inMould, story } from '../compare/story.ts';
import { show } from './shown.tsx';

const conditions = { stage: 'braced', support: inMould } as const;

/** The view of a record, and the record as it is after what was entered. */
function shownOf(record: InstrumentRecord) {
  let now = record;
  let made = 0;
  const page = show(
    <Targets record={record} conditions={conditions} />,
    {},
    {
      newId: () => `new-${made++}`,
      shelf: {
        record: signal(record),
        summaries: signal([]),
        edit: (_id: string, _name: string, change: (current: InstrumentRecord) => InstrumentRecord) => {
          now = change(now);
        },
      },
      forecasts: { modes: { current: signal({ kind: 'idle' }), ask: () => undefined } },
      peek: async () => undefined,
    },
  );
  const field = (label: string) => {
    const found = [...page.querySelectorAll('label')].find(({ textContent }) => textContent === label);
    return page.querySelector<HTMLInputElement & HTMLSelectElement>(`#${CSS.escape(found!.htmlFor)}`)!;
  };
  const type = (label: string, text: string) =>
    act(() => {
      const input = field(label);
      input.value = text;
      input.dispatchEvent(new Event('input', { bubbles: true }));
      input.dispatchEvent(new Event('change', { bubbles: true }));
    });
  const enter = () =>
    act(() =>
      [...page.querySelectorAll('button')].find(({ textContent }) => textContent === 'Set this target')!.click(),
    );
  return { page, field, type, enter, now: () => now };
}

const twoModes = story([{ modesHz: [148.13, 321.4] }]);
const unnamed: InstrumentRecord = { ...twoModes, pins: [], targets: [] };

describe('a new target', () => {
  test('begins with where the chosen mode stands and a tolerance of 1 %, and names the mode as it is entered', () => {
    const { page, field, type, enter, now } = shownOf(unnamed);
    const { options } = field('For the mode');
    expect([...options].map(({ text }) => text)).toEqual([
      'now 148.1 Hz, no name yet',
      'now 321.4 Hz, no name yet',
      'one not tapped yet',
    ]);
    expect(field('Wanted').value).toBe('148.1');
    expect(field('Tolerance ±').value).toBe('1.5');
    type('Wanted', '142');
    enter();
    expect(now().targets).toMatchObject([
      { mode: 'monopole', frequencyHz: 142, toleranceHz: 1.5, stage: 'braced', origin: 'typed' },
    ]);
    const followed = tracks(now(), 'braced', inMould);
    expect(followed.map(({ name }) => name)).toEqual(['monopole', undefined]);
    expect(page.querySelectorAll('.stop')).toHaveLength(0);
  });

  test('for another mode under a name that is taken nothing can be entered', () => {
    const { page, type, enter, now } = shownOf({
      ...unnamed,
      pins: [{ id: 'p', stepId: unnamed.steps[0]!.id, mode: 'monopole', frequencyHz: 148.13 }],
      targets: [{ id: 't', stage: 'braced', mode: 'monopole', frequencyHz: 142, toleranceHz: 1, origin: 'typed' }],
    });
    type('For the mode', page.querySelector('option')!.value);
    // The first field "Mode" is that of the target there is; the new one's is the second.
    const mode = [...page.querySelectorAll('label')].filter(({ textContent }) => textContent === 'Mode')[1]!;
    const input = page.querySelector<HTMLInputElement>(`#${CSS.escape(mode.htmlFor)}`)!;
    act(() => {
      input.value = 'monopole';
      input.dispatchEvent(new Event('change', { bubbles: true }));
    });
    expect(page.querySelector('.stop')!.textContent).toContain('Another mode is called monopole already');
    const before = now();
    enter();
    expect(now()).toBe(before);
  });

  test('one that was not tapped yet has to be typed whole', () => {
    const { field, type, enter, now } = shownOf(unnamed);
    type('For the mode', 'not-tapped');
    expect(field('Wanted').value).toBe('');
    enter();
    expect(now().targets).toEqual([]);
    type('Mode', 'air');
    type('Wanted', '98');
    type('Tolerance ±', '2');
    enter();
    expect(now().targets).toMatchObject([{ mode: 'air', frequencyHz: 98, toleranceHz: 2 }]);
    expect(now().pins).toEqual([]);
  });
});
