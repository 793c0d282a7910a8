import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import {
  factorInPlace,
  inverseOfFactored,
  solveFactored,
  solveLower,
  solveLowerRows,
} from '../../src/algebra/dense-cholesky.ts';
import { tridiagonalFromHermitian } from '../../src/algebra/hermitian-tridiagonal.ts';
import { pseudoInverseOfSymmetric, solveLinear } from '../../src/algebra/small-matrix.ts';
import { symmetricEigen } from '../../src/algebra/symmetric-eigen.ts';
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

  test('in orders even and odd a factor times its transpose is the matrix, and its inverse times it the unit matrix', () => {
    const random = seeded(4);
    for (const n of [1, 2, 3, 6, 7]) {
      const root = Float64Array.from({ length: n * n }, () => normal(random));
      const product = (
        a: (i: number, k: number) => number,
        b: (k: number, j: number) => number,
        i: number,
        j: number,
      ) => Array.from({ length: n }, (_, k) => a(i, k) * b(k, j)).reduce((sum, x) => sum + x, 0);
      const whole = Float64Array.from(
        { length: n * n },
        (_, at) =>
          product(
            (i, k) => root[i * n + k]!,
            (k, j) => root[j * n + k]!,
            Math.floor(at / n),
            at % n,
          ) + (at % (n + 1) === 0 ? 1 : 0),
      );
      const factor = whole.slice();
      expect(factorInPlace(factor, n, 1e-12)).toBe(-1);
      const lower = (i: number, k: number): number => (k > i ? 0 : factor[i * n + k]!);
      const inverse = inverseOfFactored(factor, n);
      for (let i = 0; i < n; i++)
        for (let j = 0; j < n; j++) {
          expect(product(lower, (k, at) => lower(at, k), i, j)).toBeCloseTo(whole[i * n + j]!, 10);
          const unit = product(
            (at, k) => whole[at * n + k]!,
            (k, at) => inverse[k * n + at]!,
            i,
            j,
          );
          expect(unit).toBeCloseTo(i === j ? 1 : 0, 9);
        }
    }
  });

  test('many right sides are solved as one by one, and a column that fails in the second of two rows is named', () => {
    const factor = Float64Array.of(2, 0, 0, 0, 1, 3, 0, 0, -1, 2, 4, 0, 5, 1, 2, 1);
    const rows = Float64Array.of(1, 2, 3, 4, -2, 0, 5, 1);
    const one = rows.slice();
    solveLowerRows(factor, 4, rows);
    solveLower(factor, 4, one);
    solveLower(factor, 4, one, 4);
    rows.forEach((x, i) => {
      expect(x).toBeCloseTo(one[i]!, 12);
    });
    const singular = Float64Array.of(1, 0, 0, 0, 2, 4, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1);
    expect(factorInPlace(singular, 4, 1e-9)).toBe(1);
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

describe('a symmetric matrix', () => {
  test('has the eigenpairs another program finds', () => {
    const random = seeded(5);
    const n = 24;
    const a = new Float64Array(n * n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j <= i; j++) {
        a[i * n + j] = normal(random);
        a[j * n + i] = a[i * n + j]!;
      }
    }
    const { values, vectors } = symmetricEigen(a, n);
    // ml-matrix 6.15: another program, the same matrix.
    const other = new EigenvalueDecomposition(Matrix.from1DArray(n, n, a), { assumeSymmetric: true });
    other.realEigenvalues.forEach((value, k) => {
      expect(values[k]).toBeCloseTo(value, 11);
      const theirs = other.eigenvectorMatrix.getColumn(k);
      expect(Math.abs(theirs.reduce((sum, each, i) => sum + each * vectors[k * n + i]!, 0))).toBeCloseTo(1, 11);
    });
  });

  test('that does not know a direction has a pseudo-inverse that leaves it alone', () => {
    // A = 2 u u' with u = (3, 4) / 5: by the definition of Moore and Penrose the inverse is u u' / 2.
    const rows = [
      [0.72, 0.96],
      [0.96, 1.28],
    ];
    const expected = [
      [0.18, 0.24],
      [0.24, 0.32],
    ];
    pseudoInverseOfSymmetric(rows, 1e-12).forEach((row, i) => {
      row.forEach((each, j) => {
        expect(each).toBeCloseTo(expected[i]![j]!, 12);
      });
    });
  });
});

test('a general system is solved with its rows exchanged, and one without an answer is refused', () => {
  // The first pivot is zero: without an exchange there is no answer. x = (1, 2, 3) was put in.
  const rows = [
    [0, 2, 1],
    [1, 1, 1],
    [4, -1, 2],
  ];
  solveLinear(rows, [7, 6, 8]).forEach((x, i) => {
    expect(x).toBeCloseTo(i + 1, 13);
  });
  expect(() =>
    solveLinear(
      [
        [1, 2],
        [2, 4],
      ],
      [1, 1],
    ),
  ).toThrow('column 1 of 2 depends');
});
