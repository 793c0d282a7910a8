import { describe, expect, test } from 'vitest';
import { whiten, whitenerFrom } from '../../../src/signal/filter/whiten.ts';

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
});
