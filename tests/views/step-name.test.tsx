// @vitest-environment happy-dom
import { expect, test } from 'vitest';
import { appendStep, freshStep } from '../../src/record/edit.ts';
import { startPlan, withPlan } from '../../src/record/plan-edit.ts';
import { type Cut, type InstrumentRecord, newRecord, type Step } from '../../src/record/record.ts';
import { useStepName } from '../../src/views/parts/step-name.ts';
import { show } from './shown.tsx';

const atIso = '2026-11-25T10:00:00.000Z';
const plan = startPlan('right');
const brace = plan.braces[0]!;
const lengthMm = Math.hypot(brace.to.xMm - brace.from.xMm, brace.to.yMm - brace.from.yMm);
const named = (part: Partial<Step>): readonly [InstrumentRecord, Step] => {
  const base = withPlan(newRecord({ id: 'r', createdAtIso: atIso, name: 'A top', kind: 'instrument' }), plan);
  const step = { ...freshStep('s', atIso, undefined), stage: 'braced' as const, ...part };
  return [appendStep(base, step), step];
};
const cut: Cut = { id: 'c', brace: brace.name, braceIds: [brace.id], fromMm: 40, toMm: 120, offMm: 0.4 };

function Name(props: { readonly of: readonly [InstrumentRecord, Step] }) {
  const stepName = useStepName();
  return <p>{stepName(...props.of)}</p>;
}
const nameOf = (part: Partial<Step>, settings = {}) =>
  show(<Name of={named(part)} />, settings).textContent!.replaceAll('\u00a0', ' ');

test('a step is called by the maker’s words, else by what was cut, else by its stage', () => {
  expect(nameOf({ done: 'X legs thinned', cuts: [cut] })).toBe('X legs thinned');
  expect(nameOf({})).toBe('Braced');
  // The brace is read from its tail or bass end: counted from there, or from the first end as it is kept.
  const ends = [`${Math.round(lengthMm - 120)} mm to ${Math.round(lengthMm - 40)} mm`, '40 mm to 120 mm'];
  const said = nameOf({ cuts: [cut] });
  expect(ends.map((stretch) => `${brace.name} 0.40 mm off, ${stretch}`)).toContain(said);
  expect(nameOf({ cuts: [{ id: 'c', brace: 'fan brace', braceIds: [], offMm: 1.27 }] }, { length: 'inch' })).toBe(
    'fan brace 0.050 in off',
  );
  expect(nameOf({ cuts: [{ id: 'c', brace: '', braceIds: [] }] })).toBe('Braced');
});

test('the same cut on both sides is one, and an unlike one is not', () => {
  const on = (side: string, offMm: number): Cut => ({
    id: side,
    brace: `X brace, lower end ${side}`,
    braceIds: [],
    fromMm: 40,
    toMm: 120,
    offMm,
  });
  expect(nameOf({ cuts: [on('bass', 0.4), on('treble', 0.4)] })).toBe(
    'X brace, lower end, both sides 0.40 mm off, 40 mm to 120 mm',
  );
  expect(nameOf({ cuts: [on('bass', 0.4), on('treble', 0.3)] })).toBe(
    'X brace, lower end bass 0.40 mm off, 40 mm to 120 mm; X brace, lower end treble 0.30 mm off, 40 mm to 120 mm',
  );
});
