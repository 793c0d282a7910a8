import { expect, test } from 'vitest';
import { oldAndNewQuestions } from '../../src/forecast/old-and-new-top.ts';
import { BODY_STATIONS } from '../../src/plate/body-outline.ts';
import type { BoxRepair } from '../../src/record/box-edit.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { newRecord } from '../../src/record/record.ts';

const plan = startPlan('right', BODY_STATIONS.concert);
const record = { ...newRecord({ id: 'r', createdAtIso: '2026-11-25T08:00:00.000Z', name: 'r' }), plan };
const measured = (value: number) => ({ value, sigma: 0.02 * value });
const repair: BoxRepair = {
  recordId: 'r',
  stepId: 's',
  topDamage: [],
  oldPlan: plan,
  oldWood: { densityKgM3: measured(431), eLongGpa: measured(11.5) },
  oldThicknessMm: { value: 2.7, sigma: 0.03 },
  newWood: { densityKgM3: measured(395), eLongGpa: measured(9.4), eCrossGpa: measured(0.83), gGpa: measured(0.71) },
  matchBy: 'both',
};

test('each top is asked for in its own wood and thickness, free at the braced stage and held by its rim after it', () => {
  const { old, fresh } = oldAndNewQuestions(record, repair, 2.95, 'braced');
  expect(old!.plate).toMatchObject({ thicknessMm: 2.7, edge: 'free', material: { densityKgM3: 431, eL: 11500 } });
  expect(fresh!.plate).toMatchObject({
    thicknessMm: 2.95,
    edge: 'free',
    material: { densityKgM3: 395, eL: 9400, eR: 830, gLR: 710 },
  });
  const rims = oldAndNewQuestions(record, repair, 2.95, 'rims');
  expect(rims.old!.plate.edge).toMatchObject({ kind: 'hinged' });
});

test('what was not read of the old wood is its species’, as surely as a species tells it', () => {
  const { old } = oldAndNewQuestions(record, repair, 2.95, 'braced');
  expect(old!.plate.material.eR).toBeCloseTo(1000 * plan.wood.eCrossGpa.value, 6);
  const spread = old!.parameters.find(({ property }) => property === 'plate eR')!.relativeSigma;
  expect(spread).toBeCloseTo(plan.wood.eCrossGpa.sigma / plan.wood.eCrossGpa.value, 9);
});

test('until the old top is kept apart, the drawing is taken for neither', () => {
  const { oldPlan: _, ...undrawn } = repair;
  expect(oldAndNewQuestions(record, undrawn, 2.95, 'braced')).toEqual({ old: undefined, fresh: undefined });
});
