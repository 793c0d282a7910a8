// The line work a mesh must follow: the borders of outline and soundhole and the sides of every footprint, cut at every
// crossing, divided into mesh edges, and freed of points that lie too close together to matter.
import { cutShares, type Footprint, middle, sides } from './footprint.ts';
import { borderEdges } from './mesh-border.ts';
import { between, distance, distanceToSegment, isInside, type Point } from './outline.ts';

/** Line work as points and pairs of point numbers. */
export interface MeshLines {
  readonly points: Point[];
  readonly edges: (readonly [number, number])[];
  /** The first this many edges lie on the border; each bends through the point of the same number here. */
  readonly borderMiddles: Point[];
}

/** Points closer than this become one, mm; far below any brace width. */
const MERGE_MM = 1;

/**
 * Line work of a plate.
 * @param outline    counter-clockwise
 * @param hole       counter-clockwise polygon, or empty
 * @param footprints strips and patches; what lies outside the plate is cut off
 * @param sizeAt     wanted edge length at a place, mm
 */
export function meshLines(
  outline: readonly Point[],
  hole: readonly Point[],
  footprints: readonly Footprint[],
  sizeAt: (point: Point) => number,
): MeshLines {
  const inner = footprints.flatMap(({ kind, polygon }) =>
    sides(polygon).map(([a, b]) => ({ a, b, mayBridge: kind === 'brace' })),
  );
  const innerSides = inner.map(({ a, b }) => [a, b] as const);
  const points: Point[] = [];
  const edges: (readonly [number, number])[] = [];
  const borderMiddles: Point[] = [];
  const known = new Set<string>();
  const pointNumber = (point: Point): number => {
    const near = points.findIndex((other) => distance(other, point) < MERGE_MM);
    return near >= 0 ? near : points.push(point) - 1;
  };
  const join = (a: number, b: number): boolean => {
    const key = a < b ? `${a} ${b}` : `${b} ${a}`;
    if (a === b || known.has(key)) return false;
    known.add(key);
    edges.push([a, b]);
    return true;
  };

  const borders = [outline, hole].filter((loop) => loop.length > 2).map((loop) => withCrossings(loop, innerSides));
  for (const { polygon, keep } of borders)
    for (const edge of borderEdges(polygon, keep, sizeAt))
      if (join(pointNumber(edge.start), pointNumber(edge.end))) borderMiddles.push(edge.middle);

  const borderSides = borders.flatMap(({ polygon }) => sides(polygon));
  for (const { a, b, mayBridge } of inner) {
    const shares = cutShares(a, b, [...innerSides, ...borderSides]);
    for (let k = 1; k < shares.length; k++) {
      const from = between(a, b, shares[k - 1]!);
      const to = between(a, b, shares[k]!);
      const half = middle(from, to);
      if (!isInside(outline, half) || (!mayBridge && isInside(hole, half))) continue;
      const stations = gradedShares(from, to, sizeAt);
      const numbers = stations.map((share) => pointNumber(between(from, to, share)));
      for (let i = 1; i < numbers.length; i++) join(numbers[i - 1]!, numbers[i]!);
    }
  }
  return { points, edges: splitAtPoints(points, edges, borderMiddles.length), borderMiddles };
}

/** Shares 0..1 that divide a line into edges of the wanted local size. */
function gradedShares(from: Point, to: Point, sizeAt: (point: Point) => number): number[] {
  // Equal steps of the integral of 1 / size give edges of the wanted size everywhere.
  const samples = 64;
  const step = distance(from, to) / samples;
  const integral = [0];
  for (let i = 0; i < samples; i++) integral.push(integral[i]! + step / sizeAt(between(from, to, (i + 0.5) / samples)));
  const total = integral[samples]!;
  const pieces = Math.max(1, Math.round(total));
  const shares = [0];
  for (let piece = 1, i = 0; piece < pieces; piece++) {
    const wanted = (piece * total) / pieces;
    while (integral[i + 1]! < wanted) i++;
    shares.push((i + (wanted - integral[i]!) / (integral[i + 1]! - integral[i]!)) / samples);
  }
  shares.push(1);
  return shares;
}

/** A loop with the places where other lines cross it added as points; their indices, to be kept as nodes. */
function withCrossings(
  loop: readonly Point[],
  lines: readonly (readonly [Point, Point])[],
): { readonly polygon: Point[]; readonly keep: ReadonlySet<number> } {
  const polygon: Point[] = [];
  const keep = new Set<number>();
  for (const [a, b] of sides(loop)) {
    const length = distance(a, b);
    for (const share of cutShares(a, b, lines)) {
      if (share === 1) continue;
      if (share > 0 && share * length < MERGE_MM) {
        keep.add(polygon.length - 1);
        continue;
      }
      if (share > 0) keep.add(polygon.length);
      polygon.push(between(a, b, share));
    }
  }
  return { polygon, keep };
}

/** Merging can leave a point on top of an edge between two others: the edge then runs through that point. */
function splitAtPoints(
  points: readonly Point[],
  edges: readonly (readonly [number, number])[],
  borderEdgeCount: number,
): (readonly [number, number])[] {
  const result = edges.slice(0, borderEdgeCount);
  const seen = new Set(result.map(([a, b]) => (a < b ? `${a} ${b}` : `${b} ${a}`)));
  for (const [a, b] of edges.slice(borderEdgeCount)) {
    const [start, end] = [points[a]!, points[b]!];
    const on: number[] = [];
    for (let i = 0; i < points.length; i++)
      if (i !== a && i !== b && distanceToSegment(points[i]!, start, end) < MERGE_MM / 2) on.push(i);
    on.sort((p, q) => distance(points[p]!, start) - distance(points[q]!, start));
    const chain = [a, ...on, b];
    for (let k = 1; k < chain.length; k++) {
      const [p, q] = [chain[k - 1]!, chain[k]!];
      const key = p < q ? `${p} ${q}` : `${q} ${p}`;
      if (seen.has(key)) continue;
      seen.add(key);
      result.push([p, q]);
    }
  }
  return result;
}
