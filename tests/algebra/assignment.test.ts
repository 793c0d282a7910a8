import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { assign } from '../../src/algebra/assignment.ts';

/** Every way of pairing rows with columns, by brute force: the truth for small tables. */
function leastCost(cost: readonly (readonly number[])[], unmatched: number): number {
  const columns = cost[0]?.length ?? 0;
  const rest = (row: number, used: ReadonlySet<number>): number => {
    if (row === cost.length) return unmatched * (columns - used.size);
    let best = unmatched + rest(row + 1, used);
    for (let j = 0; j < columns; j++)
      if (!used.has(j)) best = Math.min(best, cost[row]![j]! + rest(row + 1, new Set([...used, j])));
    return best;
  };
  return rest(0, new Set());
}

describe('the cheapest assignment', () => {
  test('costs as little as the best of all possible pairings', () => {
    const table = fc.tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 1, max: 4 })).chain(([rows, columns]) =>
      fc.array(fc.array(fc.double({ min: 0, max: 3, noNaN: true }), { minLength: columns, maxLength: columns }), {
        minLength: rows,
        maxLength: rows,
      }),
    );
    fc.assert(
      fc.property(table, (cost) => {
        const rows = cost.length;
        const columns = cost[0]!.length;
        const pairs = assign(Float64Array.from(cost.flat()), rows, columns, 0.5);
        const total = pairs.reduce((sum, [i, j]) => sum + cost[i]![j]!, 0) + 0.5 * (rows + columns - 2 * pairs.length);
        // Sums of doubles in another order differ in their last bits.
        expect(total).toBeCloseTo(leastCost(cost, 0.5), 9);
        expect(new Set(pairs.map(([i]) => i)).size).toBe(pairs.length);
        expect(new Set(pairs.map(([, j]) => j)).size).toBe(pairs.length);
      }),
    );
  });

  test('a pair that is forbidden is never made, even if everything stays unmatched', () => {
    expect(assign(Float64Array.of(Infinity, Infinity), 1, 2, 0.5)).toEqual([]);
  });

  test('a table of the wrong size is refused with its size', () => {
    expect(() => assign(new Float64Array(3), 2, 2, 0.5)).toThrow('assign: 3 costs, need 2 x 2 = 4');
  });
});
