// How fine the mesh must be where: stress gathers where a brace ends and where it crosses another.
import type { Footprint } from './footprint.ts';
import { between, crossing, distance, type Point } from './outline.ts';

/** Edge length at brace ends and crossings, mm, and how fast it may grow with the distance from them. */
export interface Fineness {
  readonly atEndsMm: number;
  readonly growth: number;
}

/** What is quick to solve; what it leaves of error is taken off by mode (mesh-error.ts). */
export const DEFAULT_FINENESS: Fineness = { atEndsMm: 2, growth: 0.8 };

/** Wanted edge length at any place, mm, at most `sizeMm`. */
export function wantedSize(
  covers: readonly Footprint[],
  sizeMm: number,
  { atEndsMm, growth }: Fineness,
): (point: Point) => number {
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
    for (const place of places) size = Math.min(size, atEndsMm + growth * distance(place, point));
    return size;
  };
}
