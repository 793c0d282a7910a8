// Intervals in a room that answers, over enough rounds to count.
import { expect, test } from 'vitest';
import { CONDITIONS, outcomeOf } from '../bench/robustness.ts';

const under = (name: string, rounds = 1) => outcomeOf(CONDITIONS.find((one) => one.name.startsWith(name))!, rounds);

test('a room that answers under the noise widens the intervals as much as it pulls', () => {
  // 96 intervals of each: one that held 95 % would show fewer than 83 once in a hundred times; without the answer's pull 76 %
  // hold, that is 73.
  const { coverage, qCoverage } = under('living room, tap of 30 dB', 16);
  expect(96 * coverage).toBeGreaterThan(83);
  expect(96 * qCoverage).toBeGreaterThan(83);
});
