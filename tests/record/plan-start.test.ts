// A plan as it is begun, and every pattern on it: whole, readable, and nothing of it drawn before it is asked for.
import * as v from 'valibot';
import { expect, test } from 'vitest';
import { startPlan } from '../../src/record/plan-edit.ts';
import { planSchema } from '../../src/record/plan-part.ts';
import { patternBraces, patterns } from '../../src/record/plan-patterns.ts';

test('a plan of either hand is one that the record can keep, and the one is the other mirrored', () => {
  const [right, left] = [startPlan('right'), startPlan('left')];
  for (const plan of [right, left]) expect(v.safeParse(planSchema, plan).success).toBe(true);
  const sides = (plan: typeof right) => plan.braces.map(({ from, to }) => [from.xMm, from.yMm, to.xMm, to.yMm]);
  // Minus nought is nought here.
  expect(sides(left)).toEqual(sides(right).map(([x0, y0, x1, y1]) => [x0, 0 - y0!, x1, 0 - y1!]));
});

test('every pattern has braces that the record can keep', () => {
  const plan = startPlan('right');
  for (const pattern of patterns) {
    const braces = [...patternBraces(pattern, plan)];
    expect(braces.length).toBeGreaterThan(4);
    expect(v.safeParse(planSchema, { ...plan, braces }).success).toBe(true);
  }
});

test('a brace that would lie beyond the outline is a short one across its place, to be drawn anew', () => {
  const plan = startPlan('right');
  const astray = { ...plan, soundhole: { xMm: 3000, yMm: 0, radiusMm: 50 } };
  const transverse = patternBraces('ladder', astray).find(({ id }) => id === 'transverse')!;
  expect([transverse.from.yMm, transverse.to.yMm]).toEqual([50, -50]);
  expect(transverse.from.xMm).toBe(transverse.to.xMm);
});
