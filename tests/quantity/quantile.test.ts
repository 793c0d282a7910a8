import { describe, expect, test } from 'vitest';
import { studentHalfWidth95, upperChiSquare, upperNormal } from '../../src/quantity/quantile.ts';

describe('quantiles', () => {
  // scipy.stats.norm.isf, chi2.isf and t.ppf (SciPy 1.17).
  test.each([
    [0.025, 1.95996],
    [1e-4, 3.71902],
    [2.5e-8, 5.45131],
  ])('of the normal distribution at upper tail %f', (p, z) => {
    // Stated error of the approximation: 4.5e-4.
    expect(Math.abs(upperNormal(p) - z)).toBeLessThan(5e-4);
  });

  test.each([
    [0.02, 10, 21.1608],
    [1e-3, 48, 84.0371],
    [2.5e-8, 48, 121.7038],
  ])('of chi-square at upper tail %f with %i degrees', (p, degrees, x) => {
    // Wilson & Hilferty's cube is good to a few per cent in far tails.
    expect(upperChiSquare(p, degrees) / x).toBeCloseTo(1, 1);
  });

  test('of Student, from table and expansion, falls toward the normal', () => {
    expect(studentHalfWidth95(2)).toBeCloseTo(4.303, 3);
    expect(studentHalfWidth95(4)).toBeCloseTo(2.776, 3);
    expect(studentHalfWidth95(20)).toBeCloseTo(2.086, 1);
    expect(studentHalfWidth95(20)).toBeLessThan(studentHalfWidth95(10));
  });
});
