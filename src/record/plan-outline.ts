// The outline of a top: one of our own bodies from four measures, or the points of a file.
import { boundingBox, type Point } from '../plate/outline.ts';
import type { Place, Plan } from './record.ts';

/** A body to start from. The shares say where along its length the widths are measured and how the shoulders run. */
export interface Body {
  readonly id: string;
  readonly name: string;
  readonly lengthMm: number;
  readonly upperMm: number;
  readonly waistMm: number;
  readonly lowerMm: number;
  readonly lowerAt: number;
  readonly waistAt: number;
  readonly upperAt: number;
}

/** Bodies of our own measures; none is taken from an instrument. */
export const BODIES: readonly Body[] = [
  { id: 'parlour', name: 'Parlour', lengthMm: 455, upperMm: 245, waistMm: 205, lowerMm: 335, lowerAt: 0.23, waistAt: 0.61, upperAt: 0.82 },
  { id: 'concert', name: 'Small concert', lengthMm: 480, upperMm: 278, waistMm: 232, lowerMm: 376, lowerAt: 0.24, waistAt: 0.61, upperAt: 0.82 },
  { id: 'classical', name: 'Classical', lengthMm: 486, upperMm: 280, waistMm: 236, lowerMm: 366, lowerAt: 0.24, waistAt: 0.62, upperAt: 0.82 },
  { id: 'broad', name: 'Broad waist', lengthMm: 505, upperMm: 292, waistMm: 276, lowerMm: 396, lowerAt: 0.25, waistAt: 0.6, upperAt: 0.81 },
  { id: 'large', name: 'Large', lengthMm: 512, upperMm: 312, waistMm: 262, lowerMm: 412, lowerAt: 0.25, waistAt: 0.61, upperAt: 0.82 },
];

/** Handle of a quarter arc drawn as a cubic. Source: Goldapp 1991, Comput. Aided Geom. Des. 8, 227. */
const ARC = 0.5523;
/** Handle of the swing from bout to waist, as a share of its length. */
const SWING = 0.46;
const POINTS_PER_ARC = 12;

/** Body of the given id, or the first of ours. */
export const bodyOf = (id: string): Body => BODIES.find((body) => body.id === id) ?? BODIES[0]!;

/**
 * Outline of a body, mm: closed, from the tail along the right side (y > 0) to the neck and back, symmetric about y = 0.
 * Quarter arcs at both ends, swings between bouts and waist, smooth everywhere but at the neck end.
 */
export function bodyOutline(body: Pick<Body, 'lengthMm' | 'upperMm' | 'waistMm' | 'lowerMm'> & { readonly bodyId: string }): Point[] {
  const { lowerAt, waistAt, upperAt } = bodyOf(body.bodyId);
  const [lower, waist, upper] = [body.lowerMm / 2, body.waistMm / 2, body.upperMm / 2];
  const [xl, xw, xu, xn] = [lowerAt, waistAt, upperAt, 1].map((share) => share * body.lengthMm) as [number, number, number, number];
  const right = [
    ...cubic([0, 0], [0, ARC * lower], [xl - ARC * xl, lower], [xl, lower]),
    ...cubic([xl, lower], [xl + SWING * (xw - xl), lower], [xw - SWING * (xw - xl), waist], [xw, waist]),
    ...cubic([xw, waist], [xw + SWING * (xu - xw), waist], [xu - SWING * (xu - xw), upper], [xu, upper]),
    ...cubic([xu, upper], [xu + ARC * (xn - xu), upper], [xn, ARC * upper], [xn, 0]),
    [xn, 0] as const,
  ];
  const left = right.slice(1, -1).reverse().map(([x, y]): Point => [x, -y]);
  return [...right, ...left];
}

/** Points of a cubic without its last, evenly spaced in its parameter. */
function cubic(a: Point, b: Point, c: Point, d: Point): Point[] {
  return Array.from({ length: POINTS_PER_ARC }, (_, i) => {
    const t = i / POINTS_PER_ARC;
    const s = 1 - t;
    const mix = (k: 0 | 1) => s * s * s * a[k] + 3 * s * s * t * b[k] + 3 * s * t * t * c[k] + t * t * t * d[k];
    return [mix(0), mix(1)];
  });
}

/** Place of the record as a point of plate/. */
export const pointOf = (place: Place): Point => [place.xMm, place.yMm];

/** Outline of a plan, mm, closed by its last point joining the first. */
export function planOutline(plan: Plan): Point[] {
  return plan.outline.kind === 'body' ? bodyOutline(plan.outline) : plan.outline.points.map(pointOf);
}

/** Where the neck end of the outline lies, mm. */
export const neckEndMm = (outline: readonly Point[]): number => boundingBox(outline)[2];

/** Where the saddle crosses the centre line, mm from the tail: the rest of the scale beyond the body fret, and the setback. */
export function saddleMm(plan: Plan, outline: readonly Point[] = planOutline(plan)): number {
  return neckEndMm(outline) - plan.scaleMm * 2 ** (-plan.fretsToBody / 12) - plan.setbackMm;
}

/**
 * The two places where a line crosses an outline nearest to a point inside it, each drawn in by an inset, mm.
 * @param through point inside the outline
 * @param towardDeg direction of the line, degrees from x toward y
 * @returns the place in the direction, then the one against it; undefined where the line leaves the outline nowhere
 */
export function chord(
  outline: readonly Point[],
  through: Point,
  towardDeg: number,
  insetMm: number,
): readonly [Point, Point] | undefined {
  const direction: Point = [Math.cos((towardDeg * Math.PI) / 180), Math.sin((towardDeg * Math.PI) / 180)];
  let [ahead, behind] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < outline.length; i++) {
    const [ax, ay] = outline[i]!;
    const [bx, by] = outline[(i + 1) % outline.length]!;
    const cross = direction[0] * (by - ay) - direction[1] * (bx - ax);
    if (Math.abs(cross) < 1e-12) continue;
    const along = ((ax - through[0]) * (by - ay) - (ay - through[1]) * (bx - ax)) / cross;
    const share = ((ax - through[0]) * direction[1] - (ay - through[1]) * direction[0]) / cross;
    if (share < 0 || share > 1) continue;
    if (along >= 0) ahead = Math.min(ahead, along);
    else behind = Math.max(behind, along);
  }
  if (!(Number.isFinite(ahead) && Number.isFinite(behind))) return undefined;
  const at = (distance: number): Point => [through[0] + distance * direction[0], through[1] + distance * direction[1]];
  return [at(ahead - insetMm), at(behind + insetMm)];
}
