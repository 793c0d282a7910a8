import { expect, test } from 'vitest';
import { blockOf, blockPattern } from '../../src/algebra/block-symmetric.ts';
import { factorise, planCholesky, solve } from '../../src/algebra/cholesky.ts';
import { gridMatrix } from './grid-matrix.ts';
import { multiply } from './multiply.ts';

test('solving with the factor undoes multiplying with the matrix', () => {
  const { pattern, values, fronts, random } = gridMatrix(13, 9);
  const factor = factorise(planCholesky(pattern, fronts), values);
  if ('kind' in factor) throw new Error(factor.kind);
  const expected = Float64Array.from({ length: pattern.dofStart.at(-1)! }, random);
  const x = new Float64Array(expected.length);
  multiply(pattern, values, expected, x);
  solve(factor, x);
  // Condition number below 100: rounding leaves at most about 1e-13.
  expect(Math.max(...x.map((v, i) => Math.abs(v - expected[i]!)))).toBeLessThan(1e-12);
});

test('a second factorisation into the same memory gives the same answer', () => {
  const { pattern, values, fronts } = gridMatrix(6, 5);
  const plan = planCholesky(pattern, fronts);
  const first = factorise(plan, values);
  if ('kind' in first) throw new Error(first.kind);
  const kept = first.panels.slice();
  const again = factorise(plan, values, first);
  expect('panels' in again && again.panels).toEqual(kept);
});

test('a matrix that is not positive definite is refused at the unknown where it fails', () => {
  const { pattern, values, fronts } = gridMatrix(4, 4);
  const at = pattern.valueStart[blockOf(pattern, 5, 5)]!;
  values[at] = -1;
  expect(factorise(planCholesky(pattern, fronts), values)).toEqual({
    kind: 'not-positive-definite',
    dof: pattern.dofStart[5],
  });
});

test('the dissection orders every node once, children before parents', () => {
  const { fronts, pattern } = gridMatrix(13, 9);
  expect(fronts.reduce((sum, { start, end }) => sum + end - start, 0)).toBe(pattern.dofStart.length - 1);
  fronts.forEach(({ children }, f) => {
    for (const child of children) expect(child).toBeLessThan(f);
  });
});

test('asking for a block of two nodes that do not meet is a RangeError', () => {
  const pattern = blockPattern([[1], [0], []], Int32Array.of(1, 1, 1));
  expect(() => blockOf(pattern, 0, 2)).toThrow('blockOf: nodes 0 and 2 do not meet');
});
