import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { expect, test } from 'vitest';
import { blockOf } from '../../src/algebra/block-symmetric.ts';
import { planCholesky } from '../../src/algebra/cholesky.ts';
import { negativePivots } from '../../src/algebra/inertia.ts';
import { gridMatrix } from './grid-matrix.ts';
import { multiply } from './multiply.ts';

const { pattern, values, fronts } = gridMatrix(6, 5);
const n = pattern.dofStart.at(-1)!;
const dense = Array.from({ length: n }, (_, j) => {
  const column = new Float64Array(n);
  multiply(
    pattern,
    values,
    Float64Array.from({ length: n }, (__, i) => (i === j ? 1 : 0)),
    column,
  );
  return [...column];
});
const lowered = (by: number): Float64Array => {
  const shifted = values.slice();
  for (let node = 0; node < pattern.dofStart.length - 1; node++) {
    const size = pattern.dofStart[node + 1]! - pattern.dofStart[node]!;
    const start = pattern.valueStart[blockOf(pattern, node, node)]!;
    for (let i = 0; i < size; i++) shifted[start + i * (size + 1)]! -= by;
  }
  return shifted;
};

test('as many pivots are negative as eigenvalues lie below, wherever the value lies: against a dense solver', () => {
  const plan = planCholesky(pattern, fronts);
  // ml-matrix: another program's eigenvalues of the same matrix.
  const known = new EigenvalueDecomposition(new Matrix(dense), { assumeSymmetric: true }).realEigenvalues.toSorted(
    (a, b) => a - b,
  );
  expect(known).toHaveLength(n);
  const between = known.slice(1).map((above, k) => (known[k]! + above) / 2);
  const counts = [known[0]! - 1, ...between, known.at(-1)! + 1].map((value) => negativePivots(plan, lowered(value)));
  expect(counts).toEqual(Array.from({ length: n + 1 }, (_, k) => k));
});

test('a pivot that vanishes is said, not counted', () => {
  const plan = planCholesky(pattern, fronts);
  expect(negativePivots(plan, new Float64Array(values.length))).toBeUndefined();
});
