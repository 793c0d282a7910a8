// A mode shape as areas of like deflection, for colouring the plan.
import type { PlateMesh } from '../plate/mesh.ts';
import type { Point } from '../plate/outline.ts';

/** The part of the plate whose deflection lies between two levels, as polygons side by side, mm. */
export interface ShapeBand {
  readonly from: number;
  readonly to: number;
  readonly polygons: readonly (readonly Point[])[];
}

type Corner = readonly [x: number, y: number, w: number];

/**
 * Areas between levels, from the corners of the elements with straight sides between them.
 * @param shape deflection at mesh nodes, largest 1
 * @param bands pairs of levels, lower first
 */
export function shapeBands(
  mesh: PlateMesh,
  shape: Float64Array,
  bands: readonly (readonly [number, number])[],
): readonly ShapeBand[] {
  return bands.map(([from, to]) => {
    const polygons: Point[][] = [];
    for (let e = 0; e < mesh.elementNodes.length; e += 6) {
      const corners = [0, 1, 2].map((i): Corner => {
        const node = mesh.elementNodes[e + i]!;
        return [mesh.xMm[node]!, mesh.yMm[node]!, shape[node]!];
      });
      const part = clipped(
        clipped(corners, (w) => w - from),
        (w) => to - w,
      );
      if (part.length >= 3) polygons.push(part.map(([x, y]): Point => [x, y]));
    }
    return { from, to, polygons };
  });
}

/** The part of a polygon where a linear function of its deflection is not negative. Source: Sutherland and Hodgman 1974. */
function clipped(polygon: readonly Corner[], inside: (w: number) => number): Corner[] {
  return polygon.flatMap((a, i) => {
    const b = polygon[(i + 1) % polygon.length]!;
    const [fa, fb] = [inside(a[2]), inside(b[2])];
    const kept: Corner[] = fa >= 0 ? [a] : [];
    if (fa >= 0 !== fb >= 0) {
      const t = fa / (fa - fb);
      kept.push([a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])]);
    }
    return kept;
  });
}
