// How fine the mesh must be where: a brace hands its load to the plate within about its own width, most of all at its
// ends and where it crosses another.
import type { Footprint } from './footprint.ts';
import { between, crossing, distance, distanceToSegment, type Point } from './outline.ts';

/** Edge length at brace ends and crossings, mm, and how fast it may grow with the distance from them. */
const FINE_MM = 9;
const FINE_GROWTH = 0.6;
/** Edge length along a brace, mm, and how fast it may grow with the distance from it. */
const ALONG_MM = 18;
const ALONG_GROWTH = 0.35;

/** Wanted edge length at any place, mm, at most `sizeMm`. */
export function wantedSize(covers: readonly Footprint[], sizeMm: number): (point: Point) => number {
  const axes = covers
    .filter(({ kind }) => kind === 'brace')
    .map(({ polygon: [a, b, c, d] }) => [between(a!, d!, 0.5), between(b!, c!, 0.5)] as const);
  const places = axes.flat();
  for (const [i, [a, b]] of axes.entries()) {
    for (const [c, d] of axes.slice(i + 1)) {
      const hit = crossing(a, b, c, d);
      if (hit !== undefined) places.push(between(a, b, hit[0]));
    }
  }
  return (point) => {
    let size = sizeMm;
    for (const [a, b] of axes) size = Math.min(size, ALONG_MM + ALONG_GROWTH * distanceToSegment(point, a, b));
    for (const place of places) size = Math.min(size, FINE_MM + FINE_GROWTH * distance(place, point));
    return size;
  };
}
