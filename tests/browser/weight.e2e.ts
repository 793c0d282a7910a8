// The size budget, held against the page that the other browser tests use; no browser is needed.
import { expect, inject, test } from 'vitest';
import { pageWeight } from '../bench/page-weight.ts';

test('the page weighs at most 150 kB before it shows anything and 600 kB in all, after gzip', () => {
  const { firstKb, allKb } = pageWeight(inject('builtFolder'));
  // a build without its code would pass any budget
  expect(firstKb).toBeGreaterThan(50);
  expect(allKb).toBeGreaterThan(200);
  // the budget of the design
  expect(firstKb).toBeLessThanOrEqual(150);
  expect(allKb).toBeLessThanOrEqual(600);
});
