import { expect, test } from 'vitest';
import { blockOf, blockPattern, valueCount } from '../../src/algebra/block-symmetric.ts';
import { factorise, planCholesky, solve } from '../../src/algebra/cholesky.ts';
import { nestedDissection } from '../../src/algebra/nested-dissection.ts';
import { multiply } from './multiply.ts';

/** A grid of quadrilaterals with a well-conditioned random matrix on it, two or three unknowns a node. */
function gridMatrix(columns: number, rows: number) {
  let state = 7;
  const random = () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647 - 0.5;
  };
  const nodes = columns * rows;
  const x = Array.from({ length: nodes }, (_, i) => i % columns);
  const y = Array.from({ length: nodes }, (_, i) => Math.floor(i / columns));
  const elements: number[][] = [];
  for (let r = 0; r + 1 < rows; r++)
    for (let c = 0; c + 1 < columns; c++) {
      const a = r * columns + c;
      elements.push([a, a + 1, a + columns, a + columns + 1]);
    }
  const weight = x.map((_, i) => 2 + (i % 2));
  const { order, fronts } = nestedDissection({ x, y, weight, elements });
  const place = new Int32Array(nodes);
  order.forEach((node, k) => {
    place[node] = k;
  });
  const neighbours = Array.from({ length: nodes }, () => new Set<number>());
  for (const element of elements)
    for (const a of element) for (const b of element) if (a !== b) neighbours[place[a]!]!.add(place[b]!);
  const pattern = blockPattern(
    neighbours.map((set) => [...set]),
    Int32Array.from(order, (node) => weight[node]!),
  );
  const values = Float64Array.from({ length: valueCount(pattern) }, random);
  for (let node = 0; node < nodes; node++) {
    const size = pattern.dofStart[node + 1]! - pattern.dofStart[node]!;
    const start = pattern.valueStart[blockOf(pattern, node, node)]!;
    for (let i = 0; i < size; i++)
      for (let j = 0; j < size; j++)
        values[start + i * size + j] = i === j ? 12 : (values[start + Math.max(i, j) * size + Math.min(i, j)] ?? 0);
  }
  return { pattern, values, fronts, random };
}

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
