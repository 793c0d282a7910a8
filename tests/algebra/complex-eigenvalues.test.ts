import { describe, expect, test } from 'vitest';
import { complexEigenvalues } from '../../src/algebra/complex-eigenvalues.ts';
import { normal, seeded } from '../bench/tap-signals.ts';

describe('eigenvalues of a small complex matrix', () => {
  test('a random matrix has the eigenvalues that NumPy finds', () => {
    const matrix = {
      n: 3,
      re: Float64Array.of(1, 2, 0.5, 0, 0, 1, 0.3, 0.2, -1),
      im: Float64Array.of(0, 1, 0.2, 0.3, 2, 0, 1, 0, 1),
    };
    // numpy.linalg.eigvals (NumPy 2.4), to the eight decimals it prints.
    const expected = [
      [-1.24383087, 1.43005085],
      [0.2068425, -0.37429854],
      [1.03698836, 1.94424769],
    ];
    const found = complexEigenvalues(matrix).sort((a, b) => a.re - b.re);
    found.forEach(({ re, im }, i) => {
      expect(re).toBeCloseTo(expected[i]![0]!, 8);
      expect(im).toBeCloseTo(expected[i]![1]!, 8);
    });
  });

  test('the roots of unity come back from their companion matrix, for every size a band can have', () => {
    for (let n = 1; n <= 14; n++) {
      const re = new Float64Array(n * n);
      for (let i = 0; i + 1 < n; i++) re[(i + 1) * n + i] = 1;
      re[n - 1] = 1;
      const roots = complexEigenvalues({ n, re, im: new Float64Array(n * n) });
      expect(roots).toHaveLength(n);
      // z^n = 1: the angles are the multiples of 2 pi / n.
      for (let k = 0; k < n; k++) {
        const [c, s] = [Math.cos((2 * Math.PI * k) / n), Math.sin((2 * Math.PI * k) / n)];
        expect(Math.min(...roots.map(({ re: x, im: y }) => Math.hypot(x - c, y - s)))).toBeLessThan(1e-10);
      }
    }
  });

  test('sum and sum of squares of the eigenvalues are the traces of the matrix and its square', () => {
    const random = seeded(11);
    const n = 9;
    const re = Float64Array.from({ length: n * n }, () => normal(random));
    const im = Float64Array.from({ length: n * n }, () => normal(random));
    const values = complexEigenvalues({ n, re, im });
    const trace = [0, 0];
    const square = [0, 0];
    for (let i = 0; i < n; i++) {
      trace[0]! += re[i * n + i]!;
      trace[1]! += im[i * n + i]!;
      for (let j = 0; j < n; j++) {
        square[0]! += re[i * n + j]! * re[j * n + i]! - im[i * n + j]! * im[j * n + i]!;
        square[1]! += re[i * n + j]! * im[j * n + i]! + im[i * n + j]! * re[j * n + i]!;
      }
    }
    const sum = (f: (v: { re: number; im: number }) => number): number => values.reduce((a, v) => a + f(v), 0);
    expect(sum((v) => v.re)).toBeCloseTo(trace[0]!, 9);
    expect(sum((v) => v.im)).toBeCloseTo(trace[1]!, 9);
    expect(sum((v) => v.re * v.re - v.im * v.im)).toBeCloseTo(square[0]!, 8);
    expect(sum((v) => 2 * v.re * v.im)).toBeCloseTo(square[1]!, 8);
  });
});
