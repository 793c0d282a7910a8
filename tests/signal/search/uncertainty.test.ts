// The variance that Fisher information leaves, where it can be reckoned by hand and where it nearly cannot.
import { expect, test } from 'vitest';
import { inverseInformation } from '../../../src/signal/search/uncertainty.ts';

test('is the inverse of the matrix', () => {
  // [[4, 2], [2, 3]]: determinant 8.
  const inverse = inverseInformation(Float64Array.of(4, 2, 2, 3), 2);
  [3 / 8, -2 / 8, -2 / 8, 4 / 8].forEach((wanted, i) => {
    expect(inverse[i]).toBeCloseTo(wanted, 9);
  });
});

test('where two poles are one it is huge and finite along what cannot be told, and right along what can', () => {
  const inverse = inverseInformation(Float64Array.of(1, 1, 1, 1), 2);
  for (const value of inverse) expect(Number.isFinite(value)).toBe(true);
  // Their difference is unknown; of their sum the information is 1: var((x + y) / 1) = sum of all elements.
  expect(inverse[0]! - inverse[1]! - inverse[2]! + inverse[3]!).toBeGreaterThan(1e9);
  expect(inverse[0]! + inverse[1]! + inverse[2]! + inverse[3]!).toBeLessThan(2);
});

test('a parameter of which nothing is known has a variance, not a hole', () => {
  for (const value of inverseInformation(Float64Array.of(0, 0, 0, 2), 2)) expect(Number.isNaN(value)).toBe(false);
});
