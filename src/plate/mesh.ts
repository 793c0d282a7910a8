// The mesh of a plate: six-node triangles that follow outline, soundhole and the sides of every brace and patch. The same
// drawing gives the same mesh, and a mirrored drawing the mirrored mesh.
import { type Footprint, footprints, footprintsAt } from './footprint.ts';
import { meshLines } from './mesh-lines.ts';
import { DEFAULT_FINENESS, wantedSize } from './mesh-size.ts';
import { constrainedTriangles, type Triangle } from './mesh-triangulation.ts';
import { lookAtTreble, mirrored } from './mirror.ts';
import {
  between,
  boundingBox,
  circlePolygon,
  counterClockwise,
  distance,
  distanceToSegment,
  isInside,
  orientation,
  type Point,
} from './outline.ts';
import type { PlateCase } from './plate-case.ts';

/** A mesh of quadratic triangles, lengths mm. */
export interface PlateMesh {
  /** Node coordinates, (nodes,). */
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  /** Six nodes per element: three corners counter-clockwise, then the middles of sides 01, 12, 20, (6 elements,). */
  readonly elementNodes: Int32Array;
  /** Which footprints cover each element, by index in `footprints`. */
  readonly elementCover: readonly (readonly number[])[];
  /** 1 where there is plate, 0 where only a brace bridges the soundhole, (elements,). */
  readonly elementHasPlate: Uint8Array;
  readonly footprints: readonly Footprint[];
  /** Border of the outline as triples of nodes: corner, middle, corner; the soundhole's border is free and not listed. */
  readonly rim: readonly (readonly [number, number, number])[];
}

/** Side of the triangles away from braces, mm: nodes lie half as far apart. */
export const DEFAULT_SIZE_MM = 24;

const HOLE_POINTS = 96;
const SMOOTHING_PASSES = 4;

/**
 * Meshes a plate.
 * @param plate  a case that plate-check.ts finds solvable
 * @param sizeMm side of the triangles, mm, > 0
 * @param fineness where braces end and cross
 * @throws RangeError if the outline encloses nothing
 */
export function plateMesh(plate: PlateCase, sizeMm = DEFAULT_SIZE_MM, fineness = DEFAULT_FINENESS): PlateMesh {
  // Made from one and the same drawing for both hands, so that both meshes agree to the last digit.
  const isMirrored = lookAtTreble(plate);
  const drawn = isMirrored ? mirrored(plate) : plate;
  const outline = counterClockwise(drawn.outline);
  if (outline.length < 3) throw new RangeError(`plateMesh: outline of ${outline.length} points, need at least 3`);
  const { soundhole } = drawn;
  const hole =
    soundhole === undefined ? [] : circlePolygon(soundhole.xMm, soundhole.yMm, soundhole.radiusMm, HOLE_POINTS);
  const covers = footprints(drawn);
  const bridges = covers.filter(({ kind }) => kind === 'brace');
  const sizeAt = wantedSize(covers, sizeMm, fineness);
  const lines = meshLines(outline, hole, covers, sizeAt);
  const fixed = lines.points.length;
  let points = [...lines.points, ...latticePoints(outline, hole, lines.points, lines.edges, sizeMm, sizeAt)];
  const inPlate = (triangle: Triangle): boolean => {
    const centre = centroid(points, triangle);
    return (
      isInside(outline, centre) && (!isInside(hole, centre) || bridges.some(({ polygon }) => isInside(polygon, centre)))
    );
  };
  let triangles = constrainedTriangles(points, lines.edges).filter(inPlate);
  for (let pass = 0; pass < SMOOTHING_PASSES; pass++) {
    points = smoothed(points, triangles, fixed);
    triangles = constrainedTriangles(points, lines.edges).filter(inPlate);
  }
  return quadraticMesh(points, triangles, lines, covers, isMirrored, footprints(plate), outline, hole);
}

const centroid = (points: readonly Point[], [a, b, c]: Triangle): Point => [
  (points[a]![0] + points[b]![0] + points[c]![0]) / 3,
  (points[a]![1] + points[b]![1] + points[c]![1]) / 3,
];

/** Points of a triangular lattice inside the plate, clear of all lines. */
function latticePoints(
  outline: readonly Point[],
  hole: readonly Point[],
  linePoints: readonly Point[],
  edges: readonly (readonly [number, number])[],
  sizeMm: number,
  sizeAt: (point: Point) => number,
): Point[] {
  const [x0, y0, x1, y1] = boundingBox(outline);
  const found: Point[] = [];
  const isFree = (point: Point, clearMm: number) =>
    isInside(outline, point) &&
    !isInside(hole, point) &&
    found.every((other) => distance(other, point) > 1.6 * clearMm) &&
    edges.every(([a, b]) => distanceToSegment(point, linePoints[a]!, linePoints[b]!) > clearMm);
  // Finest lattice first: where small triangles are wanted they are placed before the coarser lattice fills the rest.
  for (const spacing of [sizeMm / 4, sizeMm / (2 * Math.SQRT2), sizeMm / 2, sizeMm / Math.SQRT2, sizeMm]) {
    const rowStep = (spacing * Math.sqrt(3)) / 2;
    const rows = Math.ceil((y1 - y0) / rowStep);
    const columns = Math.ceil((x1 - x0) / spacing) + 1;
    for (let r = 0; r <= rows; r++) {
      const y = (y0 + y1) / 2 + (r - rows / 2) * rowStep;
      for (let c = 0; c <= columns; c++) {
        const point: Point = [(x0 + x1) / 2 + (c - columns / 2 + (r % 2) / 2) * spacing, y];
        const wanted = sizeAt(point);
        if (spacing < sizeMm && wanted > 1.2 * spacing) continue;
        if (isFree(point, 0.55 * Math.min(spacing, Math.max(wanted, spacing)))) found.push(point);
      }
    }
  }
  return found;
}

/** Moves free points to the mean of their neighbours. */
function smoothed(points: readonly Point[], triangles: readonly Triangle[], fixed: number): Point[] {
  const sumX = new Float64Array(points.length);
  const sumY = new Float64Array(points.length);
  const count = new Int32Array(points.length);
  for (const corners of triangles) {
    for (const a of corners) {
      for (const b of corners) {
        if (a === b) continue;
        sumX[a]! += points[b]![0];
        sumY[a]! += points[b]![1];
        count[a]!++;
      }
    }
  }
  return points.map((point, i) => (i < fixed || count[i] === 0 ? point : [sumX[i]! / count[i]!, sumY[i]! / count[i]!]));
}

function quadraticMesh(
  points: readonly Point[],
  triangles: readonly Triangle[],
  lines: { readonly edges: readonly (readonly [number, number])[]; readonly borderMiddles: readonly Point[] },
  covers: readonly Footprint[],
  isMirrored: boolean,
  list: readonly Footprint[],
  outline: readonly Point[],
  hole: readonly Point[],
): PlateMesh {
  const key = (a: number, b: number) => Math.min(a, b) * points.length + Math.max(a, b);
  const bent = new Map(lines.borderMiddles.map((middle, i) => [key(...lines.edges[i]!), middle] as const));
  // A side that bends by more than a sixth of its element's height would turn the element inside out: it stays straight.
  for (const [a, b, c] of triangles) {
    for (const [from, to, tip] of [
      [a, b, c],
      [b, c, a],
      [c, a, b],
    ] as const) {
      const middle = bent.get(key(from, to));
      if (middle === undefined) continue;
      const bend = distanceToSegment(middle, points[from]!, points[to]!);
      if (6 * bend > distanceToSegment(points[tip]!, points[from]!, points[to]!)) bent.delete(key(from, to));
    }
  }
  const used = new Map<number, number>();
  const x: number[] = [];
  const y: number[] = [];
  const add = ([px, py]: Point): number => {
    y.push(isMirrored ? -py : py);
    return x.push(px) - 1;
  };
  const corner = (p: number): number => {
    const known = used.get(p);
    if (known !== undefined) return known;
    const node = add(points[p]!);
    used.set(p, node);
    return node;
  };
  const middles = new Map<number, number>();
  const middleOf = (a: number, b: number): number => {
    const known = middles.get(key(a, b));
    if (known !== undefined) return known;
    const node = add(bent.get(key(a, b)) ?? between(points[a]!, points[b]!, 0.5));
    middles.set(key(a, b), node);
    return node;
  };
  const elementNodes: number[] = [];
  const elementCover: number[][] = [];
  const elementHasPlate: number[] = [];
  for (const [a, b, c] of triangles) {
    if (orientation(points[a]!, points[b]!, points[c]!) < 1e-3) continue;
    const [na, nb, nc] = [corner(a), corner(b), corner(c)];
    const [ab, bc, ca] = [middleOf(a, b), middleOf(b, c), middleOf(c, a)];
    // Mirrored back, the corners would run clockwise: exchange the last two.
    elementNodes.push(...(isMirrored ? [na, nc, nb, ca, bc, ab] : [na, nb, nc, ab, bc, ca]));
    const centre = centroid(points, [a, b, c]);
    elementCover.push(footprintsAt(covers, centre));
    elementHasPlate.push(isInside(hole, centre) ? 0 : 1);
  }
  const rim: [number, number, number][] = [];
  for (let i = 0; i < lines.borderMiddles.length; i++) {
    const [a, b] = lines.edges[i]!;
    const middle = middles.get(key(a, b));
    const [start, end] = [used.get(a), used.get(b)];
    if (middle === undefined || start === undefined || end === undefined) continue;
    if (outline.some((p, k) => distanceToSegment(points[a]!, p, outline[(k + 1) % outline.length]!) < 0.01))
      rim.push([start, middle, end]);
  }
  return {
    xMm: Float64Array.from(x),
    yMm: Float64Array.from(y),
    elementNodes: Int32Array.from(elementNodes),
    elementCover,
    elementHasPlate: Uint8Array.from(elementHasPlate),
    footprints: list,
    rim,
  };
}
