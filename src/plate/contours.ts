// Contour lines of a mode shape: node lines and lines of equal deflection, for drawing on the plan.
import type { PlateMesh } from './mesh.ts';
import type { Point } from './outline.ts';

/** One contour: a level between -1 and 1, and its pieces as polylines, mm. */
export interface Contour {
  readonly level: number;
  readonly lines: readonly (readonly Point[])[];
}

/** Each six-node triangle is drawn as four flat ones. */
const SUB_TRIANGLES = [
  [0, 3, 5],
  [3, 1, 4],
  [5, 4, 2],
  [3, 4, 5],
] as const;

/**
 * Contours by marching over triangles.
 * @param shape  values at mesh nodes
 * @param levels wanted levels; 0 gives the node lines
 */
export function contours(mesh: PlateMesh, shape: Float64Array, levels: readonly number[]): Contour[] {
  return levels.map((level) => ({ level, lines: joined(segmentsAt(mesh, shape, level)) }));
}

interface Crossing {
  /** Key of the crossed side: the same from both triangles that share it. */
  readonly key: string;
  readonly point: Point;
}

function segmentsAt(mesh: PlateMesh, shape: Float64Array, level: number): (readonly [Crossing, Crossing])[] {
  const segments: (readonly [Crossing, Crossing])[] = [];
  for (let e = 0; e < mesh.elementNodes.length; e += 6) {
    for (const corners of SUB_TRIANGLES) {
      const nodes = corners.map((corner) => mesh.elementNodes[e + corner]!);
      const crossings: Crossing[] = [];
      for (let i = 0; i < 3; i++) {
        const [a, b] = [Math.min(nodes[i]!, nodes[(i + 1) % 3]!), Math.max(nodes[i]!, nodes[(i + 1) % 3]!)];
        const [wa, wb] = [shape[a]! - level, shape[b]! - level];
        // Zero counts as positive, so that a line through a node crosses exactly two sides.
        if (wa >= 0 === wb >= 0) continue;
        const t = wa / (wa - wb);
        crossings.push({
          key: `${a} ${b}`,
          point: [mesh.xMm[a]! + t * (mesh.xMm[b]! - mesh.xMm[a]!), mesh.yMm[a]! + t * (mesh.yMm[b]! - mesh.yMm[a]!)],
        });
      }
      if (crossings.length === 2) segments.push([crossings[0]!, crossings[1]!]);
    }
  }
  return segments;
}

function joined(segments: readonly (readonly [Crossing, Crossing])[]): Point[][] {
  const at = new Map<string, number[]>();
  segments.forEach((segment, i) => {
    for (const { key } of segment) at.set(key, [...(at.get(key) ?? []), i]);
  });
  const used = new Uint8Array(segments.length);
  const follow = (from: Crossing): Point[] => {
    const line: Point[] = [];
    let key = from.key;
    for (;;) {
      const next = (at.get(key) ?? []).find((i) => used[i] === 0);
      if (next === undefined) return line;
      used[next] = 1;
      const [p, q] = segments[next]!;
      const end = p.key === key ? q : p;
      line.push(end.point);
      key = end.key;
    }
  };
  const lines: Point[][] = [];
  segments.forEach(([first, second], i) => {
    if (used[i] === 1) return;
    used[i] = 1;
    const forward = follow(second);
    const backward = follow(first);
    lines.push([...backward.reverse(), first.point, second.point, ...forward]);
  });
  return lines;
}
