// @vitest-environment happy-dom
// The list of a job on the page: each line leads to where it is entered, ticks are dated, and it says when it may be opened.
import { signal } from '@preact/signals';
import { act } from 'preact/test-utils';
import { expect, test } from 'vitest';
import { jobLines } from '../../src/compare/old-guitar-job.ts';
import { begun } from '../../src/record/edit.ts';
import { tickLine } from '../../src/record/job-edit.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { type InstrumentRecord, newRecord } from '../../src/record/record.ts';
import { OldGuitarJob } from '../../src/views/box/job.tsx';
import { show } from './shown.tsx';

const atIso = '2026-11-25T08:00:00.000Z';
const fresh = begun(
  newRecord({ id: 'r', createdAtIso: atIso, name: 'Old one', begunWith: 'old-guitar', planned: 'new-top' }),
  's',
);

function page(record: InstrumentRecord) {
  const current = signal(record);
  const shown = show(
    <OldGuitarJob record={record} step={undefined} reading={undefined} />,
    {},
    {
      nowIso: () => '2026-12-01T09:30:00.000Z',
      shelf: {
        record: current,
        edit: (_id: string, _name: string, change: (r: InstrumentRecord) => InstrumentRecord) => {
          current.value = change(current.value);
        },
      },
    },
  );
  return { shown, current };
}
const lineOf = (shown: HTMLElement, said: string) =>
  [...shown.querySelectorAll('.job-line')].find(({ textContent }) => textContent!.includes(said))!;

test('every line says what to do, and all but the cautions lead to where it is entered', () => {
  const { shown } = page(fresh);
  expect(shown.querySelectorAll('.job-line')).toHaveLength(jobLines(fresh).length);
  expect(lineOf(shown, 'Photograph it').querySelector('a')!.getAttribute('href')).toBe('#/steps');
  expect(lineOf(shown, 'Tap the box in its rounds: ').querySelector('a')!.getAttribute('href')).toBe('#/box/rounds');
  expect(lineOf(shown, 'Dust').querySelector('a')).toBeNull();
  expect(shown.textContent).toContain(`${jobLines(fresh).length} of ${jobLines(fresh).length} still to do`);
});

test('a tick is dated, and can be taken back', () => {
  const { shown, current } = page(fresh);
  const box = lineOf(shown, 'Save a copy').querySelector('input')!;
  act(() => box.click());
  expect(current.value.job!.ticked).toEqual([{ line: 'copy', atIso: '2026-12-01T09:30:00.000Z' }]);
  const again = page(current.value);
  act(() => lineOf(again.shown, 'Save a copy').querySelector('input')!.click());
  expect(again.current.value.job!.ticked).toEqual([]);
});

test('it says not to open it until all that can be read was read', () => {
  expect(page(fresh).shown.querySelector('.stop')!.textContent).toContain('Nothing comes apart');
  const all = jobLines(fresh).reduce(
    (record, { name, part }) => (part === 'before' ? tickLine(record, name, atIso) : record),
    fresh,
  );
  const { shown } = page(all);
  expect(shown.querySelector('.stop')).toBeNull();
  expect(shown.textContent).toContain('Now open it.');
});

test('what is in the record is ticked by itself and cannot be unticked; the drawing is kept as the old top', () => {
  const { shown, current } = page({ ...fresh, plan: startPlan('right') });
  const keep = lineOf(shown, 'Keep the drawing').querySelector('button')!;
  act(() => keep.click());
  expect(current.value.box!.repair!.oldPlan).toEqual(startPlan('right'));
  const known = lineOf(page(current.value).shown, 'Draw it with its braces');
  expect(known.querySelector('input')!.disabled).toBe(true);
  expect(known.textContent).toContain('in the record');
});
