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

/** The entries of a matrix that are not zero, on and below the diagonal: much fewer than its blocks hold when it is a mass. */
export interface SparseEntries {
  readonly rows: Int32Array;
  readonly columns: Int32Array;
  readonly values: Float64Array;
}

/** Gathers the entries that are not zero. */
export function nonZeroEntries(pattern: BlockPattern, values: Float64Array): SparseEntries {
  const { dofStart, columnStart, rowNode, valueStart } = pattern;
  const size = values.reduce((count, value) => count + (value === 0 ? 0 : 1), 0);
  const entries = { rows: new Int32Array(size), columns: new Int32Array(size), values: new Float64Array(size) };
  let n = 0;
  for (let b = 0; b + 1 < dofStart.length; b++) {
    for (let block = columnStart[b]!; block < columnStart[b + 1]!; block++) {
      const a = rowNode[block]!;
      let at = valueStart[block]!;
      for (let i = dofStart[a]!; i < dofStart[a + 1]!; i++) {
        for (let j = dofStart[b]!; j < dofStart[b + 1]!; j++) {
          const value = values[at++]!;
          if (value === 0 || j > i) continue;
          entries.rows[n] = i;
          entries.columns[n] = j;
          entries.values[n++] = value;
        }
      }
    }
  }
  return {
    rows: entries.rows.subarray(0, n),
    columns: entries.columns.subarray(0, n),
    values: entries.values.subarray(0, n),
  };
}

/** y = A x for gathered entries. */
export function multiplyEntries({ rows, columns, values }: SparseEntries, x: Float64Array, y: Float64Array): void {
  y.fill(0);
  for (let k = 0; k < values.length; k++) {
    const i = rows[k]!;
    const j = columns[k]!;
    const value = values[k]!;
    y[i]! += value * x[j]!;
    if (i !== j) y[j]! += value * x[i]!;
  }
}
