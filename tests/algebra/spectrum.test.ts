import fc from 'fast-check';
import { expect, test } from 'vitest';
import { blockPattern, valueCount } from '../../src/algebra/block-symmetric.ts';
import { boundedMinimum } from '../../src/algebra/bounded-quadratic.ts';
import { factorise, planCholesky } from '../../src/algebra/cholesky.ts';
import { lowestModes } from '../../src/algebra/lanczos.ts';
import { tridiagonalEigen } from '../../src/algebra/tridiagonal.ts';

test('the tridiagonal matrix (-1, 2, -1) has eigenvalues 2 - 2 cos(k pi / (n + 1)) (Strang 2006, Linear Algebra, 6.2)', () => {
  const n = 17;
  const { values, vectors } = tridiagonalEigen(new Array(n).fill(2), new Array(n - 1).fill(-1));
  values.forEach((value, k) => {
    expect(value).toBeCloseTo(2 - 2 * Math.cos(((k + 1) * Math.PI) / (n + 1)), 12);
    const v = vectors.subarray(k * n, k * n + n);
    const residual = Array.from(v, (x, i) => 2 * x - (v[i - 1] ?? 0) - (v[i + 1] ?? 0) - value * x);
    expect(Math.hypot(...residual)).toBeLessThan(1e-12);
  });
});

/** A chain of masses and springs: K with stiffness k(i, i+1), unit masses, free ends. */
function chain(n: number) {
  const neighbours = Array.from({ length: n }, (_, i) => [i - 1, i + 1].filter((j) => j >= 0 && j < n));
  const pattern = blockPattern(neighbours, new Int32Array(n).fill(1));
  const stiffness = new Float64Array(valueCount(pattern));
  const mass = new Float64Array(valueCount(pattern));
  for (let b = 0; b < n; b++)
    for (let block = pattern.columnStart[b]!; block < pattern.columnStart[b + 1]!; block++) {
      const isDiagonal = pattern.rowNode[block] === b;
      stiffness[pattern.valueStart[block]!] = isDiagonal ? (b === 0 || b === n - 1 ? 1 : 2) : -1;
      mass[pattern.valueStart[block]!] = isDiagonal ? 1 : 0;
    }
  return { pattern, stiffness, mass };
}

test('the modes of a free chain are 2 - 2 cos(k pi / n), its rigid motion kept out', () => {
  const n = 60;
  const { pattern, stiffness, mass } = chain(n);
  const shift = -0.01;
  const fronts = [{ start: 0, end: n, children: [] }];
  const factor = factorise(
    planCholesky(pattern, fronts),
    stiffness.map((k, i) => k - shift * mass[i]!),
  );
  if ('kind' in factor) throw new Error(factor.kind);
  const answer = lowestModes(pattern, factor, mass, {
    count: 8,
    shift,
    rigid: [new Float64Array(n).fill(3)],
    tolerance: 1e-10,
    maxSteps: 58,
  });
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  answer.values.forEach((value, k) => {
    expect(value).toBeCloseTo(2 - 2 * Math.cos(((k + 1) * Math.PI) / n), 9);
  });
});

test('a search for modes stops when told to', () => {
  const { pattern, stiffness, mass } = chain(30);
  const factor = factorise(
    planCholesky(pattern, [{ start: 0, end: 30, children: [] }]),
    stiffness.map((k, i) => k + mass[i]!),
  );
  if ('kind' in factor) throw new Error(factor.kind);
  const options = { count: 4, shift: -1, rigid: [], tolerance: 1e-9, maxSteps: 30, onProgress: () => false };
  expect(lowestModes(pattern, factor, mass, options).kind).toBe('cancelled');
});

test('the bounded minimum satisfies the optimality conditions of Karush, Kuhn and Tucker', () => {
  const vector = fc.array(fc.double({ min: -2, max: 2, noNaN: true }), { minLength: 5, maxLength: 5 });
  fc.assert(
    fc.property(fc.array(vector, { minLength: 5, maxLength: 5 }), vector, (rows, g) => {
      const hessian = rows.map((_, i) =>
        Float64Array.from(rows, (_row, j) => rows.reduce((sum, row) => sum + row[i]! * row[j]!, i === j ? 0.5 : 0)),
      );
      const gradient = Float64Array.from(g);
      const x = boundedMinimum(hessian, gradient, new Float64Array(5), new Float64Array(5).fill(1), 1e-12);
      x.forEach((value, i) => {
        const slope = hessian[i]!.reduce((sum, h, j) => sum + h * x[j]!, -gradient[i]!);
        if (value > 1e-9) expect(slope).toBeLessThan(1e-6);
        if (value < 1 - 1e-9) expect(slope).toBeGreaterThan(-1e-6);
      });
    }),
    { seed: 5, numRuns: 60 },
  );
});
