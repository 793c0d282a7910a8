// @vitest-environment happy-dom
import { act } from 'preact/test-utils';
import { expect, test } from 'vitest';
import { appendStep, freshStep } from '../../src/record/edit.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { type Cut, type InstrumentRecord, newRecord } from '../../src/record/record.ts';
import { StepCuts } from '../../src/views/steps/cuts.tsx';
import { show } from './shown.tsx';

const atIso = '2026-11-25T08:00:00.000Z';
const drawn = startPlan('right');
const [first] = drawn.braces;
// One is drawn from its other end.
const plan = {
  ...drawn,
  braces: [...drawn.braces, { ...first!, id: 'turned', name: 'Turned', from: first!.to, to: first!.from }],
};
const lengthMm = (id: string) => {
  const { from, to } = plan.braces.find((brace) => brace.id === id)!;
  return Math.hypot(to.xMm - from.xMm, to.yMm - from.yMm);
};

/** What the fields of a cut show and what is left in the record after the cut was tied to a brace. */
function tied(cut: Cut, braceId: string): { readonly shown: readonly string[]; readonly cut: Cut } {
  const step = { ...freshStep('s', atIso, undefined), cuts: [cut] };
  const record = (cuts: readonly Cut[]): InstrumentRecord =>
    appendStep({ ...newRecord({ id: 'a', createdAtIso: atIso, name: 'A' }), plan }, { ...step, cuts: [...cuts] });
  let after: readonly Cut[] = step.cuts;
  const view = (now: InstrumentRecord) => (
    <StepCuts record={now} step={now.steps[0]!} onChange={(cuts) => (after = cuts)} />
  );
  const choice = show(view(record(step.cuts)), {}, { newId: () => 'n' }).querySelector('select')!;
  act(() => {
    choice.value = braceId;
    choice.dispatchEvent(new Event('change', { bubbles: true }));
  });
  const fields = [...show(view(record(after)), {}, { newId: () => 'n' }).querySelectorAll('input')];
  return { shown: fields.slice(0, 2).map(({ value }) => value), cut: after[0]! };
}

test('a stretch that was told in words stays as it is read when it is tied to a brace, from whichever end that is read', () => {
  const told: Cut = { id: 'c', brace: 'the long one', braceIds: [], fromMm: 20, toMm: 60, offMm: 1 };
  const kept = plan.braces.map(({ id }) => ({ id, ...tied(told, id) }));
  for (const { id, shown, cut } of kept) {
    expect(shown, id).toEqual(['20', '60']);
    const fromFirst = cut.fromMm === 20 && cut.toMm === 60;
    const fromSecond = cut.fromMm === lengthMm(id) - 60 && cut.toMm === lengthMm(id) - 20;
    expect(fromFirst || fromSecond, id).toBe(true);
  }
  // Braces of either direction are among them, or the test would say nothing.
  expect(new Set(kept.map(({ cut }) => cut.fromMm === 20)).size).toBe(2);
});
