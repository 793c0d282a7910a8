// What a mode is called: how many node lines cross the grain and how many run along it.
import { symmetricEigen } from '../algebra/symmetric-eigen.ts';
import type { Parity } from './board-energy.ts';
import { legendreProducts } from './legendre.ts';

/** Number of node lines crossing the grain (m) and running along it (n): (2,0) long-grain bending, (1,1) twist. */
export interface Pattern {
  readonly m: number;
  readonly n: number;
}

/** A name as the key of a table. */
export const patternKey = ({ m, n }: Pattern): string => `${m},${n}`;

/** Whether two names are one. */
export const isSamePattern = (p: Pattern, q: Pattern): boolean => p.m === q.m && p.n === q.n;

/** Free-bar shapes of one parity as rows in the Legendre basis, ascending in node count. */
function barShapes(count: number, parity: 0 | 1): Float64Array[] {
  const products = legendreProducts(2 * count);
  const curvature = products[2]![2]!;
  const matrix = new Float64Array(count * count);
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < count; j++) matrix[i * count + j] = curvature[(2 * i + parity) * 2 * count + 2 * j + parity]!;
  }
  const { vectors } = symmetricEigen(matrix, count);
  return Array.from({ length: count }, (_, k) => vectors.subarray(k * count, (k + 1) * count));
}

/** A shape's name and how much of it deserves the name. */
export interface NamedShape {
  readonly pattern: Pattern;
  /** share of the motion in the named product of free-bar shapes, 0 to 1 */
  readonly purity: number;
}

/** Name each shape after the bar product it holds most of; every name is used once, the purest shape choosing first. */
export function nameShapes(shapes: readonly Float64Array[], count: number, [px, py]: Parity): NamedShape[] {
  const alongX = barShapes(count, px);
  const alongY = barShapes(count, py);
  const claims: { shape: number; pattern: Pattern; share: number }[] = [];
  shapes.forEach((shape, index) => {
    for (let k = 0; k < Math.min(count, 4); k++) {
      for (let l = 0; l < Math.min(count, 4); l++) {
        let overlap = 0;
        for (let i = 0; i < count; i++) {
          for (let j = 0; j < count; j++) overlap += alongX[k]![i]! * alongY[l]![j]! * shape[i * count + j]!;
        }
        claims.push({ shape: index, pattern: { m: 2 * k + px, n: 2 * l + py }, share: overlap ** 2 });
      }
    }
  });
  claims.sort((p, q) => q.share - p.share);
  const names = new Map<number, NamedShape>();
  const taken = new Set<string>();
  for (const { shape, pattern, share } of claims) {
    const key = patternKey(pattern);
    if (names.has(shape) || taken.has(key)) continue;
    taken.add(key);
    names.set(shape, { pattern, purity: share });
  }
  return shapes.map((_, index) => names.get(index)!);
}
