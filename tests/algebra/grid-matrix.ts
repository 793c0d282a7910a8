import { blockOf, blockPattern, valueCount } from '../../src/algebra/block-symmetric.ts';
import { nestedDissection } from '../../src/algebra/nested-dissection.ts';

/** A grid of quadrilaterals with a well-conditioned random matrix on it, two or three unknowns a node. */
export function gridMatrix(columns: number, rows: number) {
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
