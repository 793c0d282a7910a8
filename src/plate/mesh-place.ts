// Finds a place in a mesh: which element holds it and how much each of its nodes has a say there.
import type { PlateMesh } from './mesh.ts';
import type { Point } from './outline.ts';

/** Slack in natural coordinates, so that places on a side or just outside a curved rim still belong to an element. */
const SLACK = 0.02;

/** Nodes around a place with their shares, which sum to 1. */
export type Shares = readonly (readonly [node: number, share: number])[];

/** Places found before: every mode of a mesh is looked at in the same places. */
const found = new WeakMap<PlateMesh, Map<string, Shares | undefined>>();

/**
 * Shape functions at a place.
 * @returns undefined outside the plate
 */
export function sharesAt(mesh: PlateMesh, place: Point): Shares | undefined {
  const known = found.get(mesh) ?? new Map<string, Shares | undefined>();
  found.set(mesh, known);
  const key = `${place[0]} ${place[1]}`;
  if (!known.has(key)) known.set(key, searched(mesh, place));
  return known.get(key);
}

function searched(mesh: PlateMesh, [x, y]: Point): Shares | undefined {
  for (let e = 0; e < mesh.elementNodes.length; e += 6) {
    const a = mesh.elementNodes[e]!;
    const b = mesh.elementNodes[e + 1]!;
    const c = mesh.elementNodes[e + 2]!;
    const bx = mesh.xMm[b]! - mesh.xMm[a]!;
    const by = mesh.yMm[b]! - mesh.yMm[a]!;
    const cx = mesh.xMm[c]! - mesh.xMm[a]!;
    const cy = mesh.yMm[c]! - mesh.yMm[a]!;
    const px = x - mesh.xMm[a]!;
    const py = y - mesh.yMm[a]!;
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
