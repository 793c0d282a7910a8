// Where to tap for a picture: spots spread evenly, away from the rim where little moves or a finger finds no room.
import { boundingBox, distance, distanceToSegment, isInside, type Point } from '../plate/outline.ts';
import { edgeSupportOf, type PlateCase } from '../plate/plate-case.ts';

const STEP_MM = 8;
/** From a held rim, where a plate hardly moves, and from a free one, where the finger would slip off, mm. */
const FROM_HELD_MM = 30;
const FROM_FREE_MM = 14;

/**
 * Spots spread over a plate, the first in its middle, each next one as far as possible from the others.
 * @returns at most `count` places, mm, fewer where the plate has no room
 * Source: farthest-point design, Gonzalez, Theor. Comput. Sci. 38 (1985) 293.
 */
export function spotGrid(plate: PlateCase, count: number): readonly Point[] {
  const rimMm = edgeSupportOf(plate).kind === 'free' ? FROM_FREE_MM : FROM_HELD_MM;
  const left = roomy(plate, rimMm);
  const spots: Point[] = [];
  if (left.length === 0) return spots;
  const middle: Point = [mean(left.map(([x]) => x)), mean(left.map(([, y]) => y))];
  const away = left.map(() => Number.POSITIVE_INFINITY);
  let next = left.reduce((best, each, i) => (distance(each, middle) < distance(left[best]!, middle) ? i : best), 0);
  while (spots.length < Math.min(count, left.length)) {
    const spot = left[next]!;
    spots.push(spot);
    left.forEach((each, i) => {
      away[i] = Math.min(away[i]!, distance(each, spot));
    });
    next = away.reduce((best, each, i) => (each > away[best]! ? i : best), 0);
  }
  return spots;
}

/**
 * The same spots in the order of a walk: row by row from the tail, there and back.
 * @param spots mm
 */
export function walked(spots: readonly Point[]): readonly Point[] {
  const rows = Math.max(1, Math.ceil(Math.sqrt(spots.length)));
  const alongGrain = spots.toSorted(([a], [b]) => a - b);
  return Array.from({ length: rows }, (_, row) =>
    alongGrain
      .slice(Math.round((row * spots.length) / rows), Math.round(((row + 1) * spots.length) / rows))
      .toSorted(([, a], [, b]) => (row % 2 === 0 ? a - b : b - a)),
  ).flat();
}

function roomy({ outline, soundhole }: PlateCase, rimMm: number): readonly Point[] {
  const [x0, y0, x1, y1] = boundingBox(outline);
  const steps = (from: number, to: number) =>
    Array.from({ length: Math.floor((to - from) / STEP_MM) + 1 }, (_, i) => from + i * STEP_MM);
  return steps(x0, x1).flatMap((x) =>
    steps(y0, y1)
      .map((y): Point => [x, y])
      .filter(
        (place) =>
          isInside(outline, place) &&
          outline.every((from, i) => distanceToSegment(place, from, outline[(i + 1) % outline.length]!) >= rimMm) &&
          (soundhole === undefined ||
            distance(place, [soundhole.xMm, soundhole.yMm]) >= soundhole.radiusMm + FROM_FREE_MM),
      ),
  );
}

const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
