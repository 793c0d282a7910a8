// Fit, advice and forecast over several invented tops.
import { expect, test, vi } from 'vitest';
import { seeded, trial } from './trial.ts';

// Every fit and every advice solves the plate several times; correctness is tested, not speed.
vi.setConfig({ testTimeout: 240_000 });

// 200 of them run in `npm run bench -- plate`.
test('in 8 invented tops targets are reached within the stated spread and no height falls below its floor', () => {
  const random = seeded(11);
  const results = Array.from({ length: 8 }, () => trial(random));
  expect(results.every(({ aboveFloors }) => aboveFloors)).toBe(true);
  // 95 % of 8 is 7.6.
  expect(results.filter(({ reached }) => reached).length).toBeGreaterThanOrEqual(7);
  const within = (list: readonly number[]) => list.filter((s) => Math.abs(s) < 2).length / list.length;
  // Two sigma hold 95 %; the 8 % share for model error, absent here, makes the stated spread of moves generous.
  expect(within(results.flatMap(({ sigmas }) => sigmas))).toBeGreaterThan(0.9);
  expect(within(results.flatMap(({ parameterSigmas }) => parameterSigmas))).toBeGreaterThan(0.87);
});
