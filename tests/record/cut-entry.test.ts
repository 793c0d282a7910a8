import { expect, test } from 'vitest';
import { cutsOfAdvice, openStep, withCuts } from '../../src/record/cut-entry.ts';
import { freshStep } from '../../src/record/edit.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import type { Cut } from '../../src/record/record.ts';
import { story } from '../compare/story.ts';

const cut: Cut = { id: 'c', brace: 'X', braceIds: [], offMm: 0.4 };
const atIso = '2026-11-25T10:00:00.000Z';

test('a step that was measured is closed to further cuts', () => {
  const measured = story([{ modesHz: [200] }]);
  expect(openStep(measured)).toBeUndefined();
  const step = { ...freshStep('new', atIso, measured.steps[0]), stage: 'thicknessed' as const };
  const record = withCuts(measured, step, [cut]);
  expect(record.steps.map(({ id }) => id)).toEqual(['s0', 'new']);
  // Whoever cuts a brace has a braced plate before them.
  expect(record.steps[1]).toMatchObject({ stage: 'braced', cuts: [cut] });
  const open = openStep(record)!;
  expect(open.id).toBe('new');
  const again = withCuts(record, open, [{ ...cut, id: 'd' }]);
  expect(again.steps.map(({ id, cuts }) => [id, cuts.map((known) => known.id)])).toEqual([
    ['s0', []],
    ['new', ['c', 'd']],
  ]);
  expect(openStep({ ...measured, steps: [] })).toBeUndefined();
});

test('advice is entered as it stood, brace by brace; a brace that is not drawn is left out', () => {
  const plan = startPlan('left');
  const [first, second] = plan.braces;
  const ids = ['one', 'two'];
  const advised = [
    { braceId: first!.id, fromMm: 40, toMm: 120, offMm: 0.4 },
    { braceId: 'gone', fromMm: 0, toMm: 10, offMm: 1 },
    { braceId: second!.id, fromMm: 40, toMm: 100, offMm: 0.3 },
  ];
  expect(cutsOfAdvice(plan, advised, () => ids.shift()!)).toEqual([
    { id: 'one', brace: first!.name, braceIds: [first!.id], fromMm: 40, toMm: 120, offMm: 0.4 },
    { id: 'two', brace: second!.name, braceIds: [second!.id], fromMm: 40, toMm: 100, offMm: 0.3 },
  ]);
});
