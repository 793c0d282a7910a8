// Plane geometry of a plate. Axes, obeyed everywhere: x runs along the grain from the tail toward the neck, y across
// toward the treble side of a right-handed top, z out of the face the braces stand on, into the box: a right-handed triad.
// Seen from OUTSIDE with the neck up, y points right; a drawing with x right and y up is the view from INSIDE.

/** A place on the plate, mm: [x, y]. */
export type Point = readonly [x: number, y: number];

/** Area of a polygon, mm^2, positive when its points run counter-clockwise in an x-right, y-up drawing. */
export function signedArea(polygon: readonly Point[]): number {
  let twice = 0;
  for (let i = 0; i < polygon.length; i++) {
    const [x0, y0] = polygon[i]!;
    const [x1, y1] = polygon[(i + 1) % polygon.length]!;
    twice += x0 * y1 - x1 * y0;
  }
  return twice / 2;
}

/** The polygon without repeated points, counter-clockwise. */
export function counterClockwise(polygon: readonly Point[]): Point[] {
  const distinct = polygon.filter((point, i) => distance(point, polygon[(i + 1) % polygon.length]!) > 1e-6);
  return signedArea(distinct) < 0 ? distinct.reverse() : distinct;
}

export function distance(a: Point, b: Point): number {
  const dx = a[0] - b[0];
  const dy = a[1] - b[1];
  // Not Math.hypot: it is many times slower, and millimetres neither overflow nor vanish.
  return Math.sqrt(dx * dx + dy * dy);
}

/** The point a share t of the way from a to b. */
export const between = (a: Point, b: Point, t: number): Point => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];

/** Twice the signed area of triangle a, b, c: positive when c lies to the left of a -> b. */
export const orientation = (a: Point, b: Point, c: Point): number =>
  (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/** Whether a point lies inside a polygon; points on the border count as either. */
export function isInside(polygon: readonly Point[], place: Point): boolean {
  const x = place[0];
  const y = place[1];
  let inside = false;
  let last = polygon[polygon.length - 1]!;
  for (let i = 0; i < polygon.length; i++) {
    const point = polygon[i]!;
    const yi = point[1];
    const yj = last[1];
    if (yi > y !== yj > y && x < ((last[0] - point[0]) * (y - yi)) / (yj - yi) + point[0]) inside = !inside;
    last = point;
  }
  return inside;
}

/** Distance from a point to the segment a-b, mm. */
export function distanceToSegment(place: Point, a: Point, b: Point): number {
  const x = place[0];
  const y = place[1];
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const length2 = dx * dx + dy * dy;
  const t = length2 === 0 ? 0 : Math.max(0, Math.min(1, ((x - a[0]) * dx + (y - a[1]) * dy) / length2));
  const offX = x - a[0] - t * dx;
  const offY = y - a[1] - t * dy;
  return Math.sqrt(offX * offX + offY * offY);
}

/**
 * Where two segments cross.
 * @returns shares [t along a-b, s along c-d], both in 0..1, or undefined when they do not meet or run parallel
 */
export function crossing(a: Point, b: Point, c: Point, d: Point): readonly [number, number] | undefined {
  const rx = b[0] - a[0];
  const ry = b[1] - a[1];
  const sx = d[0] - c[0];
  const sy = d[1] - c[1];
  const cross = rx * sy - ry * sx;
  if (cross * cross < 1e-24 * (rx * rx + ry * ry) * (sx * sx + sy * sy)) return undefined;
  const t = ((c[0] - a[0]) * sy - (c[1] - a[1]) * sx) / cross;
  const s = ((c[0] - a[0]) * ry - (c[1] - a[1]) * rx) / cross;
  return t >= 0 && t <= 1 && s >= 0 && s <= 1 ? [t, s] : undefined;
}

/** Places where a closed polygon crosses itself; empty for a sound outline. */
export function selfCrossings(polygon: readonly Point[]): Point[] {
  const n = polygon.length;
  const found: Point[] = [];
  for (let i = 0; i < n; i++) {
    const a = polygon[i]!;
    const b = polygon[(i + 1) % n]!;
    const [low, high] = a[0] < b[0] ? [a[0], b[0]] : [b[0], a[0]];
    for (let j = i + 2; j < n; j++) {
      if (i === 0 && j === n - 1) continue;
      const c = polygon[j]!;
      const d = polygon[(j + 1) % n]!;
      // Most sides lie apart along x already.
      if ((c[0] < low && d[0] < low) || (c[0] > high && d[0] > high)) continue;
      const hit = crossing(a, b, c, d);
      if (hit !== undefined) found.push(between(a, b, hit[0]));
    }
  }
  return found;
}

/** Smallest upright box around points: [x0, y0, x1, y1], mm. */
export function boundingBox(points: readonly Point[]): readonly [number, number, number, number] {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** A circle as a polygon with its points on the circle, counter-clockwise. */
export function circlePolygon(xMm: number, yMm: number, radiusMm: number, points: number): Point[] {
  return Array.from({ length: points }, (_, k) => {
    const angle = (2 * Math.PI * k) / points;
    return [xMm + radiusMm * Math.cos(angle), yMm + radiusMm * Math.sin(angle)];
  });
}
