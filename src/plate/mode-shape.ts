// Shapes of modes on the plan: deflection at nodes and anywhere, likeness of two shapes, where to hold and where to tap.
import { MOTIONS, W } from './freedoms.ts';
import type { PlateMesh } from './mesh.ts';
import { sharesAt } from './mesh-place.ts';
import type { Point } from './outline.ts';
import type { PlateMode, PreparedPlate } from './plate-modes.ts';

/** Deflection of a mode at every mesh node, scaled to a largest value of 1 (positive there), (nodes,). */
export function deflection(prepared: PreparedPlate, mode: PlateMode): Float64Array {
  const { mesh, freedoms } = prepared;
  const shape = new Float64Array(mesh.xMm.length);
  let largest = 0;
  for (let node = 0; node < shape.length; node++) {
    const unknown = freedoms.unknown[node * MOTIONS + W]!;
    shape[node] = unknown < 0 ? 0 : mode.vector[unknown]!;
    if (Math.abs(shape[node]!) > Math.abs(largest)) largest = shape[node]!;
  }
  return largest === 0 ? shape : shape.map((w) => w / largest);
}

/**
 * A shape read at other places.
 * @param shape  values at mesh nodes
 * @param points places, mm
 * @returns the quadratic interpolation at each place, undefined outside the plate
 */
export function sampled(mesh: PlateMesh, shape: Float64Array, points: readonly Point[]): (number | undefined)[] {
  return points.map((point) => sharesAt(mesh, point)?.reduce((sum, [node, share]) => sum + share * shape[node]!, 0));
}

/** Half of the distance over which a slope is taken, mm: the finger's own scatter. */
const SLOPE_STEP_MM = 4;

/**
 * How steep a shape is at places.
 * @param shape  values at mesh nodes
 * @param points places, mm
 * @returns size of the slope, per mm, undefined outside the plate
 */
export function steepness(mesh: PlateMesh, shape: Float64Array, points: readonly Point[]): (number | undefined)[] {
  return points.map(([x, y]) => {
    const along = (dx: number, dy: number): number => {
      const [before, here, after] = sampled(mesh, shape, [
        [x - dx, y - dy],
        [x, y],
        [x + dx, y + dy],
      ]);
      if (before !== undefined && after !== undefined) return (after - before) / (2 * SLOPE_STEP_MM);
      const side = before ?? after;
      return here === undefined || side === undefined ? Number.NaN : (side - here) / SLOPE_STEP_MM;
    };
    const slope = Math.hypot(along(SLOPE_STEP_MM, 0), along(0, SLOPE_STEP_MM));
    return Number.isNaN(slope) ? undefined : slope;
  });
}

/**
 * Air that a plate pushes in a mode, the area of a piston that pushes as much at the mode's unit motion, m² kg^(-1/2): its square is
 * area² over modal mass, whatever the mode is scaled to.
 * Source: a six-node triangle with straight sides, whose middles carry a third of its area each and its corners nothing, e.g.
 * Zienkiewicz & Taylor, The Finite Element Method, vol. 1.
 */
export function airPushed({ mesh, freedoms }: PreparedPlate, { vector }: PlateMode): number {
  const lift = (node: number): number => {
    const unknown = freedoms.unknown[node * MOTIONS + W]!;
    return unknown < 0 ? 0 : vector[unknown]!;
  };
  const { xMm, yMm, elementNodes } = mesh;
  let pushed = 0;
  for (let e = 0; e < mesh.elementHasPlate.length; e++) {
    if (mesh.elementHasPlate[e] !== 1) continue;
    const [a, b, c] = [elementNodes[6 * e]!, elementNodes[6 * e + 1]!, elementNodes[6 * e + 2]!];
    const twiceMm2 = (xMm[b]! - xMm[a]!) * (yMm[c]! - yMm[a]!) - (xMm[c]! - xMm[a]!) * (yMm[b]! - yMm[a]!);
    const middles = lift(elementNodes[6 * e + 3]!) + lift(elementNodes[6 * e + 4]!) + lift(elementNodes[6 * e + 5]!);
    pushed += (middles / 3) * (twiceMm2 / 2) * 1e-6;
  }
  return pushed;
}

/**
 * Modal assurance criterion of two shapes read at the same places, 0 (nothing alike) to 1 (the same shape).
 * @throws RangeError if the lengths differ
 * Source: Allemang and Brown 1982, Proc. 1st Int. Modal Analysis Conf., 110.
 */
export function assurance(a: ArrayLike<number>, b: ArrayLike<number>): number {
  if (a.length !== b.length)
    throw new RangeError(`assurance: ${a.length} and ${b.length} places, need the same number`);
  let [ab, aa, bb] = [0, 0, 0];
  for (let i = 0; i < a.length; i++) {
    ab += a[i]! * b[i]!;
    aa += a[i]! * a[i]!;
    bb += b[i]! * b[i]!;
  }
  return aa * bb === 0 ? 0 : (ab * ab) / (aa * bb);
}

/** Where to hold a plate and where to tap it for one mode, mm. */
export interface HoldAndTap {
  /** Up to three places that this mode leaves at rest, well apart. */
  readonly hold: readonly Point[];
  /** The liveliest place, then the liveliest of the opposite phase where there is one. */
  readonly tap: readonly Point[];
}

/** Deflection below which a place counts as resting, relative to the largest. */
const AT_REST = 0.06;

/** Places to hold and tap, taken from the mesh nodes. */
export function holdAndTap(mesh: PlateMesh, shape: Float64Array): HoldAndTap {
  const place = (node: number): Point => [mesh.xMm[node]!, mesh.yMm[node]!];
  const nodes = Array.from(shape.keys());
  const resting = nodes.filter((node) => Math.abs(shape[node]!) < AT_REST).map(place);
  const high = nodes.reduce((best, node) => (shape[node]! > shape[best]! ? node : best), 0);
  const low = nodes.reduce((best, node) => (shape[node]! < shape[best]! ? node : best), 0);
  const byStrength = [high, low].sort((p, q) => Math.abs(shape[q]!) - Math.abs(shape[p]!));
  const tap = byStrength.filter((node, i) => i === 0 || Math.abs(shape[node]!) > 0.4).map(place);
  return { hold: wellApart(resting, 3), tap };
}

/** Picks places one after the other, each as far as possible from those already taken. */
function wellApart(points: readonly Point[], count: number): Point[] {
  if (points.length === 0) return [];
  const mean: Point = [
    points.reduce((sum, [x]) => sum + x, 0) / points.length,
    points.reduce((sum, [, y]) => sum + y, 0) / points.length,
  ];
  const away = (point: Point, from: readonly Point[]) =>
    Math.min(...from.map(([x, y]) => Math.hypot(x - point[0], y - point[1])));
  const taken: Point[] = [];
  while (taken.length < Math.min(count, points.length)) {
    const from = taken.length === 0 ? [mean] : taken;
    taken.push(points.reduce((best, point) => (away(point, from) > away(best, from) ? point : best)));
  }
  return taken;
}
