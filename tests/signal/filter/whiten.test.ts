import { describe, expect, test } from 'vitest';
import {
  addAutocovariance,
  powerGain,
  UNIT_WHITENER,
  whiten,
  whitenerFrom,
} from '../../../src/signal/filter/whiten.ts';

describe('whitening', () => {
  test('whitened covariance is the identity from the first row on', () => {
    // AR(1), r_k = 0.8^k / (1 - 0.64): Brockwell & Davis, example 3.1.2.
    const r = (lag: number): number => 0.8 ** Math.abs(lag) / 0.36;
    const whitener = whitenerFrom(Float64Array.of(r(0), r(1), r(2)));
    const n = 6;
    // Row i of the whitening matrix is the response to the unit vectors.
    const rows = Array.from({ length: n }, (_, i) =>
      Array.from({ length: n }, (_, j) => {
        const unit = new Float64Array(n);
        unit[j] = 1;
        return whiten(whitener, unit, 0, n, 1)[i]!;
      }),
    );
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        let sum = 0;
        for (let a = 0; a < n; a++) for (let b = 0; b < n; b++) sum += rows[i]![a]! * r(a - b) * rows[j]![b]!;
        expect(sum).toBeCloseTo(i === j ? 1 : 0, 12);
      }
    }
  });

  test('a second lag that the first does not tell needs an order of its own', () => {
    // AR(2) with x_n = 0.5 x_{n-1} - 0.6 x_{n-2} + e: r1 = 0.5 / 1.6, r2 = 0.5 r1 - 0.6, of r0 = 1; the last row is the model's.
    const r1 = 0.5 / 1.6;
    const r2 = 0.5 * r1 - 0.6;
    const spread = Math.sqrt(1 - 0.5 * r1 + 0.6 * r2);
    const { order, filters } = whitenerFrom(Float64Array.of(1, r1, r2));
    expect(order).toBe(2);
    [1, -0.5, 0.6].forEach((a, j) => {
      expect(filters[6 + j]! * spread).toBeCloseTo(a, 12);
    });
    // Row 1 predicts from one sample alone: x_n - r1 x_{n-1}, of spread sqrt(1 - r1^2).
    expect(filters[3]! * Math.sqrt(1 - r1 * r1)).toBeCloseTo(1, 12);
    expect(filters[4]! * Math.sqrt(1 - r1 * r1)).toBeCloseTo(-r1, 12);
  });

  test('its gain is one over the power of the noise that it was made from', () => {
    // AR(1) of 0.8 and unit innovations: 1 / |1 - 0.8 e^{-iw}|^2 (Brockwell & Davis, example 4.4.2).
    const gain = powerGain(whitenerFrom(Float64Array.of(1 / 0.36, 0.8 / 0.36)), 8000);
    for (const hz of [0, 500, 1234, 4000]) {
      const angle = (2 * Math.PI * hz) / 8000;
      expect(gain(hz)).toBeCloseTo((1 - 0.8 * Math.cos(angle)) ** 2 + (0.8 * Math.sin(angle)) ** 2, 12);
    }
    expect(powerGain(UNIT_WHITENER, 8000)(777)).toBe(1);
  });

  test('a stretch is whitened from where it begins, as loud as is asked', () => {
    const samples = Float64Array.from({ length: 9 }, (_, n) => n * n);
    const whitener = whitenerFrom(Float64Array.of(1, 0.5));
    const whole = whiten(whitener, samples.subarray(4), 0, 4, 1);
    expect(whiten(whitener, samples, 4, 4, 3)).toEqual(whole.map((value) => 3 * value));
    expect([...whiten(UNIT_WHITENER, samples, 2, 3, 2)]).toEqual([8, 18, 32]);
  });

  test('sums of lags are those of the stretch alone, added to what was there', () => {
    const sums = Float64Array.of(100, 200, 300);
    // 2, 3, 5 of 1, 2, 3, 5, 7: 4 + 9 + 25, 6 + 15, 10.
    expect(addAutocovariance(sums, Float64Array.of(1, 2, 3, 5, 7), 1, 4)).toBe(3);
    expect([...sums]).toEqual([100 + 38, 200 + 21, 300 + 10]);
  });
});
