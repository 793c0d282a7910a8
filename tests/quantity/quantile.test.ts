import { describe, expect, test } from 'vitest';
import {
  chanceBelow,
  normalCdf,
  studentHalfWidth95,
  twoSidedNormal,
  upperChiSquare,
  upperNormal,
  upperTail,
} from '../../src/quantity/quantile.ts';

describe('the normal distribution', () => {
  // Abramowitz & Stegun 1964, tables 26.1 and 26.2 (from memory; the same as NIST/SEMATECH e-Handbook, 1.3.6.7.1, to its digits).
  test.each([
    [0, 0.5],
    [0.5, 0.308537538725987],
    [1, 0.158655253931457],
    [2, 0.022750131948179],
    [3, 0.00134989803163],
    [4, 3.167124183312e-5],
    [5, 2.866515718792e-7],
    [6, 9.86587645038e-10],
    [10, 7.61985302416e-24],
  ])('above %f lies what the tables say', (z, above) => {
    expect(upperTail(z) / above).toBeCloseTo(1, 10);
    expect(twoSidedNormal(z)).toBeCloseTo(2 * above, 12);
    expect(normalCdf(z)).toBeCloseTo(1 - above, 12);
    expect(normalCdf(-z)).toBeCloseTo(above, 12);
  });

  test('the chance below an edge; without a spread it lies below or it does not, and the edge itself is not below', () => {
    // 0.8413 below one sigma above (any table).
    expect(chanceBelow({ value: 10, sigma: 2 }, 12)).toBeCloseTo(0.8413447, 7);
    expect([9.9, 10, 10.1].map((edge) => chanceBelow({ value: 10, sigma: 0 }, edge))).toEqual([0, 0, 1]);
  });

  test('has no step where the series gives way to the fraction', () => {
    const [below, above] = [upperTail(3 - 1e-9), upperTail(3 + 1e-9)];
    // the density at 3 is 0.00443: over 2e-9 the tail falls by 8.9e-12, a part of 6.6e-9
    expect((below - above) / below).toBeCloseTo(6.6e-9, 10);
  });

  // NIST/SEMATECH e-Handbook, 1.3.6.7.1, and scipy.stats.norm.isf (SciPy 1.17) for the far tails.
  test.each([
    [0.025, 1.959963985],
    [0.005, 2.575829304],
    [0.5, 0],
    [1e-4, 3.719016485],
    [2.5e-8, 5.4513104],
  ])('has its quantile of upper tail %f', (p, z) => {
    expect(upperNormal(p)).toBeCloseTo(z, 6);
  });
});

describe('chi-square', () => {
  // scipy.stats.chi2.isf (SciPy 1.17).
  test.each([
    [0.02, 10, 21.1608],
    [1e-3, 48, 84.0371],
    [2.5e-8, 48, 121.7038],
  ])('at upper tail %f with %i degrees', (p, degrees, x) => {
    // Wilson & Hilferty's cube is good to a few per cent in far tails.
    expect(upperChiSquare(p, degrees) / x).toBeCloseTo(1, 1);
  });
});

describe('Student’s t', () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, upper critical values at 0.975 (the same as A&S table 26.10).
  test.each([
    [1, 12.706],
    [2, 4.303],
    [3, 3.182],
    [4, 2.776],
    [5, 2.571],
    [10, 2.228],
    [11, 2.201],
    [12, 2.179],
    [15, 2.131],
    [20, 2.086],
    [30, 2.042],
    [60, 2],
    [100, 1.984],
  ])('with %i degrees of freedom is as in the table', (degrees, t) => {
    expect(Math.abs(studentHalfWidth95(degrees) - t)).toBeLessThanOrEqual(0.0005001);
  });

  test('of no degrees, or of a part of one, is a mistake', () => {
    for (const degrees of [0, -1, 2.5, Number.NaN])
      expect(() => studentHalfWidth95(degrees)).toThrow(`${degrees} degrees of freedom`);
  });
});
