// Finds a place in a mesh: which element holds it and how much each of its nodes has a say there.
import type { PlateMesh } from './mesh.ts';
import type { Point } from './outline.ts';

/** Slack in natural coordinates, so that places on a side or just outside a curved rim still belong to an element. */
const SLACK = 0.02;

/**
 * Shape functions at a place.
 * @returns pairs of node and share (they sum to 1), or undefined outside the plate
 */
export function sharesAt(mesh: PlateMesh, [x, y]: Point): (readonly [node: number, share: number])[] | undefined {
  for (let e = 0; e < mesh.elementNodes.length; e += 6) {
    const [a, b, c] = [mesh.elementNodes[e]!, mesh.elementNodes[e + 1]!, mesh.elementNodes[e + 2]!];
    const [bx, by] = [mesh.xMm[b]! - mesh.xMm[a]!, mesh.yMm[b]! - mesh.yMm[a]!];
    const [cx, cy] = [mesh.xMm[c]! - mesh.xMm[a]!, mesh.yMm[c]! - mesh.yMm[a]!];
    const [px, py] = [x - mesh.xMm[a]!, y - mesh.yMm[a]!];
    const area = bx * cy - cx * by;
    const p = (px * cy - cx * py) / area;
    const q = (bx * py - px * by) / area;
    const r = 1 - p - q;
    if (p < -SLACK || q < -SLACK || r < -SLACK) continue;
    const shares = [r * (2 * r - 1), p * (2 * p - 1), q * (2 * q - 1), 4 * r * p, 4 * p * q, 4 * q * r];
    return shares.map((share, i) => [mesh.elementNodes[e + i]!, share] as const);
  }
  return undefined;
}
