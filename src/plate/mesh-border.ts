// Divides the outline and the soundhole into mesh edges: quadratic arcs that follow the drawn polygon closely, with
// corners and given places kept as nodes.
import { between, distance, orientation, type Point } from './outline.ts';

/** One edge of the border: its ends and the point it bends through half-way. */
export interface BorderEdge {
  readonly start: Point;
  readonly middle: Point;
  readonly end: Point;
}

const CORNER_RAD = (20 * Math.PI) / 180;
const MAX_TURN_RAD = (42 * Math.PI) / 180;

/**
 * Border edges of a closed polygon.
 * @param polygon counter-clockwise, mm
 * @param keep    points of the polygon that must become nodes, by index
 * @param sizeAt  wanted edge length at a place, mm
 */
export function borderEdges(
  polygon: readonly Point[],
  keep: ReadonlySet<number>,
  sizeAt: (point: Point) => number,
): BorderEdge[] {
  const n = polygon.length;
  const at = (i: number): Point => polygon[((i % n) + n) % n]!;
  const fixed = Array.from(
    { length: n },
    (_, i) => keep.has(i) || Math.abs(turn(at(i - 1), at(i), at(i + 1))) > CORNER_RAD,
  );
  const first = Math.max(0, fixed.indexOf(true));
  const edges: BorderEdge[] = [];
  let i = first;
  while (i < first + n) {
    const side = distance(at(i), at(i + 1));
    let sizeMm = Math.min(sizeAt(at(i)), sizeAt(between(at(i), at(i + 1), 0.5)), sizeAt(at(i + 1)));
    if (side > 1.15 * sizeMm) {
      edges.push(...straightEdges(at(i), at(i + 1), Math.ceil(side / sizeMm - 0.15)));
      i++;
      continue;
    }
    let j = i + 1;
    while (j < first + n && !fixed[j % n]) {
      // An arc past a fine place must be as short as what stands there.
      sizeMm = Math.min(sizeMm, sizeAt(at(j + 1)));
      if (!isOneArc(at, i, j + 1, sizeMm)) break;
      j++;
    }
    edges.push({ start: at(i), middle: halfWay(at, i, j), end: at(j) });
    i = j;
  }
  return edges;
}

function straightEdges(a: Point, b: Point, pieces: number): BorderEdge[] {
  return Array.from({ length: pieces }, (_, k) => ({
    start: between(a, b, k / pieces),
    middle: between(a, b, (k + 0.5) / pieces),
    end: between(a, b, (k + 1) / pieces),
  }));
}

function turn(a: Point, b: Point, c: Point): number {
  return Math.atan2(orientation(a, b, c), (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]));
}

function isOneArc(at: (i: number) => Point, from: number, to: number, sizeMm: number): boolean {
  let length = 0;
  let turned = 0;
  for (let k = from; k < to; k++) {
    length += distance(at(k), at(k + 1));
    if (k > from) turned += Math.abs(turn(at(k - 1), at(k), at(k + 1)));
  }
  if (length > 1.2 * sizeMm || turned > MAX_TURN_RAD) return false;
  const start = at(from);
  const middle = halfWay(at, from, to);
  const end = at(to);
  let gone = 0;
  for (let k = from + 1; k < to; k++) {
    gone += distance(at(k - 1), at(k));
    const on = onArc(start, middle, end, gone / length);
    if (distance(on, at(k)) > 0.012 * sizeMm) return false;
  }
  return true;
}

function halfWay(at: (i: number) => Point, from: number, to: number): Point {
  let length = 0;
  for (let k = from; k < to; k++) length += distance(at(k), at(k + 1));
  let left = length / 2;
  for (let k = from; k < to; k++) {
    const side = distance(at(k), at(k + 1));
    if (left <= side) return between(at(k), at(k + 1), side === 0 ? 0 : left / side);
    left -= side;
  }
  return at(to);
}

/** The quadratic through three points at parameters 0, 1/2, 1. */
function onArc(start: Point, middle: Point, end: Point, t: number): Point {
  const a = (1 - t) * (1 - 2 * t);
  const b = 4 * t * (1 - t);
  const c = t * (2 * t - 1);
  return [a * start[0] + b * middle[0] + c * end[0], a * start[1] + b * middle[1] + c * end[1]];
}
