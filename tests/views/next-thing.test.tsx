// @vitest-environment happy-dom
import { expect, test } from 'vitest';
import { begun } from '../../src/record/edit.ts';
import { newRecord } from '../../src/record/record.ts';
import { NextThingLine } from '../../src/views/next-thing.tsx';
import { show } from './shown.tsx';

const record = begun(
  newRecord({ id: 'r', createdAtIso: '2026-11-25T08:00:00.000Z', name: 'n', begunWith: 'closed-guitar' }),
  's',
);
const on = (view: string, of: object | undefined = record) =>
  show(
    <NextThingLine />,
    {},
    { shelf: { record: { value: of } }, place: { view: { value: view }, part: { value: '' } } },
  );

test('every view but the settings says the next thing, and leads to where it is done', () => {
  const page = on('bench');
  expect(page.textContent).toContain('Measure the box inside');
  expect(page.querySelector('a')!.getAttribute('href')).toBe('#/box');
});

test('on the view itself there is nowhere to lead to', () => {
  const page = on('box');
  expect(page.textContent).toContain('Measure the box inside');
  expect(page.querySelector('a')).toBeNull();
});

test('in the settings, and of a record that nobody was asked about, nothing is said', () => {
  expect(on('settings').textContent).toBe('');
});

test('of a record begun before that was asked nothing is said', () => {
  expect(on('bench', newRecord({ id: 'r', createdAtIso: record.createdAtIso, name: 'n' })).textContent).toBe('');
});
