import { expect, test } from 'vitest';
import { expectAfterStage } from '../../src/box/stage-jump.ts';
import { estimate } from '../../src/quantity/estimate.ts';
import { studentHalfWidth95 } from '../../src/quantity/quantile.ts';
import { normal, seeded } from './synthetic.ts';

test('Student’s t is that of the tables', () => {
  // Abramowitz & Stegun 1964, table 26.10, three decimals
  const table = { 1: 12.706, 2: 4.303, 3: 3.182, 4: 2.776, 5: 2.571, 10: 2.228, 30: 2.042, 120: 1.98 };
  for (const [n, t] of Object.entries(table)) expect(studentHalfWidth95(Number(n))).toBeCloseTo(t, 3);
  expect(() => studentHalfWidth95(0)).toThrow('0 degrees of freedom');
});

test('two instruments and more give the usual jump, one gives none', () => {
  const one = [{ fromHz: 180, toHz: 198 }];
  expect(expectAfterStage(one, estimate(182, 0.5))).toEqual({ kind: 'too-few', have: 1, need: 2 });
  const forecast = expectAfterStage([...one, { fromHz: 170, toHz: 187 }], estimate(200, 0));
  expect(forecast).toMatchObject({ kind: 'expected', instruments: 2 });
  if (forecast.kind !== 'expected') return;
  expect(forecast.frequencyHz).toBeCloseTo(220, 9); // both rose by a tenth
  expect(forecast.high95Hz - forecast.low95Hz).toBeCloseTo(0, 9);
});

test.each([2, 3, 6])('of the next instruments after %i earlier ones, 95 in 100 lie inside the interval', (n) => {
  const random = seeded(n);
  const trials = 2000;
  let inside = 0;
  for (let i = 0; i < trials; i++) {
    const jump = () => 1.08 * Math.exp(0.025 * normal(random)); // a few per cent from instrument to instrument
    const earlier = Array.from({ length: n }, () => ({ fromHz: 180, toHz: 180 * jump() }));
    const read = estimate(180 + 0.5 * normal(random), 0.5);
    const forecast = expectAfterStage(earlier, read);
    const truth = 180 * jump();
    if (forecast.kind === 'expected' && truth > forecast.low95Hz && truth < forecast.high95Hz) inside++;
  }
  expect(inside / trials).toBeGreaterThan(0.935); // 3 sigma of 2000 trials are 1.5 %
  expect(inside / trials).toBeLessThan(0.965);
});

test('a frequency of nothing is the caller’s mistake', () => {
  expect(() => expectAfterStage([{ fromHz: 0, toHz: 10 }], estimate(180, 1))).toThrow('0 Hz, need > 0');
});
