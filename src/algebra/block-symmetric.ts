// Sparse symmetric matrices of a mesh, stored as dense blocks from node to node: the unknowns of a node always meet the
// unknowns of its neighbours together, so the pattern is kept once per pair of nodes and shared by stiffness and mass.

/** Which nodes meet: node b's column holds the blocks (a, b) with a >= b. Built once for a mesh, shared by its matrices. */
export interface BlockPattern {
  /** First unknown of each node, (nodes + 1,). */
  readonly dofStart: Int32Array;
  /** First block of each node's column, (nodes + 1,). */
  readonly columnStart: Int32Array;
  /** Row node of each block, ascending within a column, the diagonal block first, (blocks,). */
  readonly rowNode: Int32Array;
  /** Where each block's values begin, row-major, rows of the row node, (blocks + 1,). */
  readonly valueStart: Int32Array;
}

/**
 * The pattern of a mesh.
 * @param neighbours for each node its neighbours (both directions, without itself)
 * @param dofCounts  unknowns of each node, (nodes,)
 */
export function blockPattern(neighbours: readonly (readonly number[])[], dofCounts: Int32Array): BlockPattern {
  const nodes = dofCounts.length;
  if (neighbours.length !== nodes)
    throw new RangeError(`blockPattern: ${neighbours.length} neighbour lists, need ${nodes}`);
  const dofStart = new Int32Array(nodes + 1);
  for (let b = 0; b < nodes; b++) dofStart[b + 1] = dofStart[b]! + dofCounts[b]!;
  const columnStart = new Int32Array(nodes + 1);
  const rows: number[] = [];
  const starts: number[] = [0];
  for (let b = 0; b < nodes; b++) {
    const column = neighbours[b]!.filter((a) => a > b).sort((p, q) => p - q);
    for (const a of [b, ...column]) {
      rows.push(a);
      starts.push(starts.at(-1)! + dofCounts[a]! * dofCounts[b]!);
    }
    columnStart[b + 1] = rows.length;
  }
  return { dofStart, columnStart, rowNode: Int32Array.from(rows), valueStart: Int32Array.from(starts) };
}

/** Number of unknowns of a pattern. */
export const dofCount = (pattern: BlockPattern): number => pattern.dofStart.at(-1)!;

/** Number of stored values of a pattern. */
export const valueCount = (pattern: BlockPattern): number => pattern.valueStart.at(-1)!;

/**
 * The block that couples two nodes.
 * @returns its number
 * @throws RangeError if the two nodes do not meet
 */
export function blockOf(pattern: BlockPattern, a: number, b: number): number {
  const column = Math.min(a, b);
  const row = Math.max(a, b);
  let low = pattern.columnStart[column]!;
  let high = pattern.columnStart[column + 1]! - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const found = pattern.rowNode[middle]!;
    if (found === row) return middle;
    if (found < row) low = middle + 1;
    else high = middle - 1;
  }
  throw new RangeError(`blockOf: nodes ${a} and ${b} do not meet`);
}

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
