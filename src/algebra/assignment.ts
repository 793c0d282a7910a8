// Which of these belongs to which of those, all at once: the cheapest one-to-one assignment, with the freedom to
// leave things unmatched at a price.

/**
 * The one-to-one assignment of rows to columns with the least total cost.
 * @param cost          row-major costs, (rows * columns,), >= 0; Infinity forbids a pair
 * @param unmatchedCost price of leaving one row or one column without a partner, > 0; a pair dearer than two of them
 *                      is never made
 * @returns pairs [row, column] in ascending order of rows
 * @throws RangeError if the cost table has not rows * columns entries
 * Source: Kuhn 1955 (Naval Res. Logist. Q. 2, 83) with potentials and shortest augmenting paths, Jonker and Volgenant
 * 1987 (Computing 38, 325).
 */
export function assign(
  cost: Float64Array,
  rows: number,
  columns: number,
  unmatchedCost: number,
): readonly (readonly [number, number])[] {
  if (cost.length !== rows * columns)
    throw new RangeError(`assign: ${cost.length} costs, need ${rows} x ${columns} = ${rows * columns}`);
  // Every row gets a stand-in column and every column a stand-in row, so that a full assignment always exists.
  const n = rows + columns;
  const forbidden = 1e9 * unmatchedCost;
  const at = (i: number, j: number): number => {
    if (i < rows && j < columns) return Math.min(cost[i * columns + j]!, forbidden);
    if (i < rows) return j - columns === i ? unmatchedCost : forbidden;
    if (j < columns) return i - rows === j ? unmatchedCost : forbidden;
    return 0;
  };
  const rowPotential = new Float64Array(n + 1);
  const columnPotential = new Float64Array(n + 1);
  const rowOfColumn = new Int32Array(n + 1);
  const cameFrom = new Int32Array(n + 1);
  for (let i = 1; i <= n; i++) {
    rowOfColumn[0] = i;
    const slack = new Float64Array(n + 1).fill(Infinity);
    const visited = new Uint8Array(n + 1);
    let column = 0;
    do {
      visited[column] = 1;
      const row = rowOfColumn[column]!;
      let least = Infinity;
      let next = 0;
      for (let j = 1; j <= n; j++) {
        if (visited[j]) continue;
        const reduced = at(row - 1, j - 1) - rowPotential[row]! - columnPotential[j]!;
        if (reduced < slack[j]!) {
          slack[j] = reduced;
          cameFrom[j] = column;
        }
        if (slack[j]! < least) {
          least = slack[j]!;
          next = j;
        }
      }
      for (let j = 0; j <= n; j++) {
        if (visited[j]) {
          rowPotential[rowOfColumn[j]!]! += least;
          columnPotential[j]! -= least;
        } else slack[j]! -= least;
      }
      column = next;
    } while (rowOfColumn[column] !== 0);
    do {
      const previous = cameFrom[column]!;
      rowOfColumn[column] = rowOfColumn[previous]!;
      column = previous;
    } while (column !== 0);
  }
  const pairs: [number, number][] = [];
  for (let j = 1; j <= columns; j++) {
    const row = rowOfColumn[j]! - 1;
    if (row < rows && at(row, j - 1) < 2 * unmatchedCost) pairs.push([row, j - 1]);
  }
  return pairs.sort((a, b) => a[0] - b[0]);
}
