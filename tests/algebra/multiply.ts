import type { BlockPattern } from '../../src/algebra/block-symmetric.ts';

/**
 * y = A x.
 * @param values the blocks of A, (valueCount,); diagonal blocks hold both triangles
 * @param x      (dofCount,)
 * @param y      (dofCount,), overwritten
 */
export function multiply(pattern: BlockPattern, values: Float64Array, x: Float64Array, y: Float64Array): void {
  const { dofStart, columnStart, rowNode, valueStart } = pattern;
  y.fill(0);
  const nodes = dofStart.length - 1;
  for (let b = 0; b < nodes; b++) {
    const j0 = dofStart[b]!;
    const j1 = dofStart[b + 1]!;
    for (let block = columnStart[b]!; block < columnStart[b + 1]!; block++) {
      const a = rowNode[block]!;
      const i0 = dofStart[a]!;
      const i1 = dofStart[a + 1]!;
      let at = valueStart[block]!;
      const offDiagonal = a !== b;
      for (let i = i0; i < i1; i++) {
        const xi = x[i]!;
        let sum = 0;
        for (let j = j0; j < j1; j++) {
          const value = values[at++]!;
          sum += value * x[j]!;
          if (offDiagonal) y[j]! += value * xi;
        }
        y[i]! += sum;
      }
    }
  }
}
