import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import { factorInPlace, inverseOfFactored, solveFactored } from '../../src/algebra/dense-cholesky.ts';
import { tridiagonalFromHermitian } from '../../src/algebra/hermitian-tridiagonal.ts';
import { normal, seeded } from '../bench/tap-signals.ts';

describe('small dense matrices', () => {
  test('a factored Hilbert matrix gives the known inverse, whole numbers', () => {
    // Inverse of the 4 x 4 Hilbert matrix: Choi, Amer. Math. Monthly 90 (1983) 301.
    const n = 4;
    const hilbert = Float64Array.from({ length: 16 }, (_, k) => 1 / ((k >> 2) + (k & 3) + 1));
    expect(factorInPlace(hilbert, n, 1e-12)).toBe(-1);
    const inverse = inverseOfFactored(hilbert, n);
    const expected = [16, -120, 240, -140, -120, 1200, -2700, 1680, 240, -2700, 6480, -4200, -140, 1680, -4200, 2800];
    // Condition number 1.6e4: nine digits are left of sixteen, with room.
    expected.forEach((value, i) => {
      expect(inverse[i]! / value).toBeCloseTo(1, 8);
    });
    const x = Float64Array.of(1, 0, 0, 0);
    solveFactored(hilbert, n, x);
    expect(x[3]).toBeCloseTo(-140, 6);
  });

  test('a column that depends on those before it is named', () => {
    const singular = Float64Array.of(2, 1, 3, 1, 1, 2, 3, 2, 5);
    expect(factorInPlace(singular, 3, 1e-9)).toBe(2);
  });

  test('a Hermitian matrix made tridiagonal has eigenvectors that solve the original', () => {
    const random = seeded(3);
    const n = 12;
    const re = new Float64Array(n * n);
    const im = new Float64Array(n * n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j <= i; j++) {
        const [x, y] = [normal(random), i === j ? 0 : normal(random)];
        re[i * n + j] = x;
        re[j * n + i] = x;
        im[i * n + j] = y;
        im[j * n + i] = -y;
      }
    }
    const { diagonal, beside, toOriginal } = tridiagonalFromHermitian(re.slice(), im.slice(), n);
    const t = Matrix.zeros(n, n);
    for (let i = 0; i < n; i++) {
      t.set(i, i, diagonal[i]!);
      if (i + 1 < n) {
        t.set(i, i + 1, beside[i]!);
        t.set(i + 1, i, beside[i]!);
      }
    }
    const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(t, { assumeSymmetric: true });
    realEigenvalues.forEach((value, column) => {
      const v = toOriginal(Float64Array.from(eigenvectorMatrix.getColumn(column)));
      for (let i = 0; i < n; i++) {
        let left = -value * v[2 * i]!;
        for (let j = 0; j < n; j++) left += re[i * n + j]! * v[2 * j]! - im[i * n + j]! * v[2 * j + 1]!;
        // Norm of the matrix about 10: rounding leaves some 1e-14.
        expect(Math.abs(left)).toBeLessThan(1e-11);
      }
    });
  });
});
