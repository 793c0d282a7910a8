// The areas of a plate that carry something glued on: the strip under a brace, the polygon of a patch.
import { between, crossing, distance, isInside, type Point } from './outline.ts';
import type { BraceCase, PlateCase } from './plate-case.ts';

/** One glued part's area on the plate. */
export interface Footprint {
  readonly kind: 'brace' | 'patch';
  /** Index in the case's list of braces or patches. */
  readonly index: number;
  readonly polygon: readonly Point[];
}

/** Length of a brace's centre line, mm. */
export const braceLengthMm = (brace: BraceCase): number => distance(brace.from, brace.to);

/** The rectangle a brace stands on, mm; corners in order from-right, to-right, to-left, from-left. */
export function braceRectangle(brace: BraceCase): Point[] {
  const length = braceLengthMm(brace);
  const nx = (-(brace.to[1] - brace.from[1]) / length) * (brace.widthMm / 2);
  const ny = ((brace.to[0] - brace.from[0]) / length) * (brace.widthMm / 2);
  const { from, to } = brace;
  return [
    [from[0] - nx, from[1] - ny],
    [to[0] - nx, to[1] - ny],
    [to[0] + nx, to[1] + ny],
    [from[0] + nx, from[1] + ny],
  ];
}

/** Distance along a brace of the place nearest to a point, mm, clipped to its length. */
export function distanceAlongMm(brace: BraceCase, [x, y]: Point): number {
  const length = braceLengthMm(brace);
  const s =
    ((x - brace.from[0]) * (brace.to[0] - brace.from[0]) + (y - brace.from[1]) * (brace.to[1] - brace.from[1])) /
    length;
  return Math.max(0, Math.min(length, s));
}

/** All footprints of a case: braces in order, then patches. */
export function footprints(plate: PlateCase): Footprint[] {
  const braces = (plate.braces ?? []).map(
    (brace, index): Footprint => ({ kind: 'brace', index, polygon: braceRectangle(brace) }),
  );
  const patches = (plate.patches ?? []).map(
    (patch, index): Footprint => ({ kind: 'patch', index, polygon: patch.polygon }),
  );
  return [...braces, ...patches];
}

/** Which footprints cover a point, as indices into the list. */
export function footprintsAt(list: readonly Footprint[], point: Point): number[] {
  return list.flatMap((footprint, i) => (isInside(footprint.polygon, point) ? [i] : []));
}

/** The pieces into which segment a-b is cut by other segments, as ascending shares including 0 and 1. */
export function cutShares(a: Point, b: Point, others: readonly (readonly [Point, Point])[]): number[] {
  const shares = [0, 1];
  for (const [c, d] of others) {
    const hit = crossing(a, b, c, d);
    if (hit !== undefined) shares.push(hit[0]);
  }
  shares.sort((p, q) => p - q);
  return shares.filter((share, i) => i === 0 || share - shares[i - 1]! > 1e-9);
}

/** The sides of a polygon as segments. */
export function sides(polygon: readonly Point[]): (readonly [Point, Point])[] {
  return polygon.map((point, i) => [point, polygon[(i + 1) % polygon.length]!] as const);
}

/** The middle of a segment. */
export const middle = (a: Point, b: Point): Point => between(a, b, 0.5);
