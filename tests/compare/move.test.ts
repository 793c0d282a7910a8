import { describe, expect, test } from 'vitest';
import { moveBetween } from '../../src/compare/move.ts';

describe('the move of a mode', () => {
  test('its uncertainty is that of both measurements together (GUM eq. 10)', () => {
    const move = moveBetween({ value: 200, sigma: 0.3 }, { value: 190, sigma: 0.4 });
    expect(move.hz).toEqual({ value: -10, sigma: 0.5 });
    expect(move.percent.value).toBeCloseTo(-5, 12);
    expect(move.percent.sigma).toBeCloseTo(95 * Math.hypot(0.3 / 200, 0.4 / 190), 12);
  });

  test('an octave is 1200 cents, and cents have the uncertainty of the ratio', () => {
    const move = moveBetween({ value: 110, sigma: 0 }, { value: 220, sigma: 0.22 });
    expect(move.cents.value).toBe(1200);
    // d cents / d ln f = 1200 / ln 2; 0.1 % is 1.7312 cents.
    expect(move.cents.sigma).toBeCloseTo(1.7312, 4);
  });

  test('a move inside its 95 % interval cannot be trusted, one outside can', () => {
    const before = { value: 180, sigma: 0.1 };
    expect(moveBetween(before, { value: 179.75, sigma: 0.1 }).trusted).toBe(false);
    expect(moveBetween(before, { value: 179.7, sigma: 0.1 }).trusted).toBe(true);
    // 1.96 times sqrt(2) times 0.1.
    expect(moveBetween(before, before).smallestHz).toBeCloseTo(0.2772, 4);
  });

  test('a frequency of zero is a mistake of the caller', () => {
    expect(() => moveBetween({ value: 0, sigma: 1 }, { value: 1, sigma: 1 })).toThrow('moveBetween: 0 and 1 Hz');
    expect(() => moveBetween({ value: 1, sigma: 1 }, { value: 0, sigma: 1 })).toThrow('moveBetween: 1 and 0 Hz');
    expect(() => moveBetween({ value: 1, sigma: 1 }, { value: -1, sigma: 1 })).toThrow('need frequencies above 0');
  });
});
