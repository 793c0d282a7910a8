// How many digits an uncertainty deserves. Expected: the examples and the rule of the Particle Data Group, Review of
// Particle Physics, introduction, section 5.3 ("rounding"): 0.827 +- 0.119 becomes 0.83 +- 0.12, 0.827 +- 0.367 becomes
// 0.8 +- 0.4 (from memory).
import { describe, expect, test } from 'vitest';
import { HALF_WIDTH_95 } from '../../src/quantity/estimate.ts';
import { withHalfWidth } from '../../src/views/parts/figures.ts';
import { qText } from '../../src/views/parts/own-units.ts';

const shown = (value: number, half: number) =>
  withHalfWidth({ value, sigma: half / HALF_WIDTH_95 }, 'Hz').replaceAll('\u00a0', ' ');

describe('digits of an interval', () => {
  test.each([
    [0.827, 0.119, '0.83 ± 0.12 Hz'],
    [0.827, 0.367, '0.8 ± 0.4 Hz'],
    [-1.4, 1.29, '−1.4 ± 1.3 Hz'],
    [182.54, 3.4, '182.5 ± 3.4 Hz'],
    [182.54, 3.6, '183 ± 4 Hz'],
    [182.54, 12, '183 ± 12 Hz'],
  ])('%d with half width %d', (value, half, text) => {
    expect(shown(value, half)).toBe(text);
  });

  test('what is shown is never narrower than what was found', () => {
    for (let half = 0.0011; half < 90; half *= 1.013) {
      const text = shown(500, half);
      expect(Number(text.slice(text.indexOf('±') + 1, -3)), text).toBeGreaterThanOrEqual(half * (1 - 1e-9));
    }
  });
});

test('a Q whose interval reaches down to zero is said to be not measurable, never shown', () => {
  expect(qText({ value: 50, sigma: 5 })).toBe('Q 50\u00a0±\u00a010');
  expect(qText({ value: 5, sigma: 5 })).toBe('Q not measurable here');
});
