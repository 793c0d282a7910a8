// Constrained Delaunay triangulation: delaunator's triangles, with the wanted edges forced by flips.
import Delaunator from 'delaunator';
import { orientation, type Point } from './outline.ts';

/** Corner numbers of triangles, counter-clockwise. */
export type Triangle = readonly [number, number, number];

/**
 * Triangulates points so that every wanted edge is an edge of a triangle.
 * @param points distinct points, mm
 * @param wanted pairs of point numbers that must be joined; they may share ends but not cross
 * @returns all triangles of the convex hull, counter-clockwise, in a fixed order
 * Source: Sloan 1993, Computers and Structures 47, 441 (edge insertion by swapping diagonals).
 */
export function constrainedTriangles(
  points: readonly Point[],
  wanted: readonly (readonly [number, number])[],
): Triangle[] {
  const net = new TriangleNet(points);
  for (const [a, b] of wanted) net.force(a, b);
  net.restoreDelaunay(new Set(wanted.flatMap(([a, b]) => [net.key(a, b), net.key(b, a)])));
  return net.triangles.map(([a, b, c]) => [a, b, c]);
}

class TriangleNet {
  readonly triangles: [number, number, number][] = [];
  /** Triangle to the left of each directed edge. */
  readonly #left = new Map<number, number>();
  readonly #points: readonly Point[];

  constructor(points: readonly Point[]) {
    this.#points = points;
    const { triangles } = Delaunator.from(
      points as Point[],
      (p) => p[0],
      (p) => p[1],
    );
    for (let t = 0; t < triangles.length; t += 3) {
      const [a, b, c] = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!];
      const side = orientation(points[a]!, points[b]!, points[c]!);
      if (side === 0) continue;
      this.triangles.push([0, 0, 0]);
      this.#set(this.triangles.length - 1, side > 0 ? [a, b, c] : [a, c, b]);
    }
  }

  key(a: number, b: number): number {
    return a * this.#points.length + b;
  }

  #set(t: number, corners: [number, number, number]): void {
    this.triangles[t] = corners;
    for (let i = 0; i < 3; i++) this.#left.set(this.key(corners[i]!, corners[(i + 1) % 3]!), t);
  }

  #apex(a: number, b: number): number | undefined {
    const t = this.#left.get(this.key(a, b));
    return t === undefined ? undefined : this.triangles[t]!.find((corner) => corner !== a && corner !== b);
  }

  #crosses(a: number, b: number, c: number, d: number): boolean {
    if (a === c || a === d || b === c || b === d) return false;
    const p = this.#points;
    const straddles = (i: number, j: number, k: number, l: number) =>
      orientation(p[i]!, p[j]!, p[k]!) * orientation(p[i]!, p[j]!, p[l]!) < 0;
    return straddles(a, b, c, d) && straddles(c, d, a, b);
  }

  /** Replaces the diagonal a-b of its two triangles by the other one; returns the new diagonal, or undefined if it cannot. */
  #flip(a: number, b: number): [number, number] | undefined {
    const c = this.#apex(a, b);
    const d = this.#apex(b, a);
    if (c === undefined || d === undefined || !this.#crosses(a, b, c, d)) return undefined;
    const t1 = this.#left.get(this.key(a, b))!;
    const t2 = this.#left.get(this.key(b, a))!;
    this.#left.delete(this.key(a, b));
    this.#left.delete(this.key(b, a));
    this.#set(t1, [a, d, c]);
    this.#set(t2, [d, b, c]);
    return [c, d];
  }

  force(a: number, b: number): void {
    if (this.#left.has(this.key(a, b)) || this.#left.has(this.key(b, a))) return;
    const queue: [number, number][] = [];
    for (const [p, q, r] of this.triangles)
      for (const [i, j] of [
        [p, q],
        [q, r],
        [r, p],
      ] as const)
        if (i < j && this.#crosses(a, b, i, j)) queue.push([i, j]);
    // Every flip either frees the line or moves it on; the bound only guards against coincident points.
    for (let guard = 50 * queue.length; queue.length > 0 && guard > 0; guard--) {
      const [i, j] = queue.shift()!;
      const flipped = this.#flip(i, j);
      if (flipped === undefined) queue.push([i, j]);
      else if (this.#crosses(a, b, flipped[0], flipped[1])) queue.push(flipped);
    }
  }

  restoreDelaunay(fixed: ReadonlySet<number>): void {
    for (let pass = 0; pass < 12; pass++) {
      let flips = 0;
      for (const key of [...this.#left.keys()]) {
        const b = key % this.#points.length;
        const a = (key - b) / this.#points.length;
        if (a > b || fixed.has(key) || !this.#left.has(key)) continue;
        const c = this.#apex(a, b);
        const d = this.#apex(b, a);
        if (c === undefined || d === undefined || !this.#isInCircle(a, b, c, d)) continue;
        if (this.#flip(a, b) !== undefined) flips++;
      }
      if (flips === 0) return;
    }
  }

  #isInCircle(a: number, b: number, c: number, d: number): boolean {
    const p = this.#points;
    const [dx, dy] = p[d]!;
    const row = ([x, y]: Point) => [x - dx, y - dy, (x - dx) ** 2 + (y - dy) ** 2] as const;
    const [ax, ay, a2] = row(p[a]!);
    const [bx, by, b2] = row(p[b]!);
    const [cx, cy, c2] = row(p[c]!);
    const det = ax * (by * c2 - b2 * cy) - ay * (bx * c2 - b2 * cx) + a2 * (bx * cy - by * cx);
    return det > 1e-9 * (a2 + b2 + c2) ** 2;
  }
}
