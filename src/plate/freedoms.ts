// Which motions each node may make, in elimination order: the map from nodes of the mesh to unknowns of the equations.
import { type BlockPattern, blockPattern } from '../algebra/block-symmetric.ts';
import { type Dissection, nestedDissection } from '../algebra/nested-dissection.ts';
import type { PlateMesh } from './mesh.ts';
import type { EdgeSupport } from './plate-case.ts';

/** Motions of a node: u, v in the plane, w out of it, theta the plate's turn, psi the glued part's turn. */
export const MOTIONS = 7;
export const U = 0;
export const V = 1;
export const W = 2;
export const THETA_X = 3;
export const THETA_Y = 4;
export const PSI_X = 5;
export const PSI_Y = 6;

/** Unknowns of a mesh. */
export interface Freedoms {
  readonly pattern: BlockPattern;
  readonly dissection: Dissection;
  /** Place of each mesh node in the elimination order, (nodes,). */
  readonly place: Int32Array;
  /** Unknown of each motion of each mesh node, -1 where it is held or absent, (7 nodes,). */
  readonly unknown: Int32Array;
}

/**
 * Gives numbers to the free motions of a mesh.
 * @param hasPlane whether in-plane motion takes part (a bare plate held at its middle does not need it)
 * @param onTop    for each element, whether something is glued on its inner face
 */
export function freedoms(
  mesh: PlateMesh,
  support: EdgeSupport,
  hasPlane: boolean,
  onTop: readonly boolean[],
): Freedoms {
  const nodes = mesh.xMm.length;
  const allowed = new Uint8Array(nodes * MOTIONS);
  for (let node = 0; node < nodes; node++) {
    allowed[node * MOTIONS + W] = 1;
    if (hasPlane) for (const motion of [U, V]) allowed[node * MOTIONS + motion] = 1;
  }
  // Where a brace bridges the soundhole there is no plate to turn: u and v alone carry the glue line's motion there.
  onTop.forEach((isOnTop, e) => {
    const turns = [...(mesh.elementHasPlate[e] === 1 ? [THETA_X, THETA_Y] : []), ...(isOnTop ? [PSI_X, PSI_Y] : [])];
    for (let i = 0; i < 6; i++)
      for (const motion of turns) allowed[mesh.elementNodes[6 * e + i]! * MOTIONS + motion] = 1;
  });
  if (support.kind !== 'free') {
    const held = support.kind === 'hinged' ? [W] : [U, V, W, THETA_X, THETA_Y];
    for (const edge of mesh.rim)
      for (const node of edge) for (const motion of held) allowed[node * MOTIONS + motion] = 0;
  }
  const neighbours = nodeNeighbours(mesh);
  const weight = new Int32Array(nodes);
  for (let at = 0; at < allowed.length; at++) weight[Math.floor(at / MOTIONS)]! += allowed[at]!;
  const elements = onTop.map((_, e) => Array.from(mesh.elementNodes.subarray(6 * e, 6 * e + 6)));
  const dissection = nestedDissection({ x: mesh.xMm, y: mesh.yMm, weight, elements });
  const place = new Int32Array(nodes);
  dissection.order.forEach((node, k) => {
    place[node] = k;
  });
  const counts = new Int32Array(nodes);
  const unknown = new Int32Array(nodes * MOTIONS).fill(-1);
  let next = 0;
  for (const node of dissection.order) {
    for (let motion = 0; motion < MOTIONS; motion++) {
      if (allowed[node * MOTIONS + motion] === 0) continue;
      unknown[node * MOTIONS + motion] = next++;
      counts[place[node]!]!++;
    }
  }
  const ordered = Array.from(dissection.order, (node) => neighbours[node]!.map((other) => place[other]!));
  return { pattern: blockPattern(ordered, counts), dissection, place, unknown };
}

function nodeNeighbours(mesh: PlateMesh): number[][] {
  const sets = Array.from({ length: mesh.xMm.length }, () => new Set<number>());
  for (let e = 0; e < mesh.elementNodes.length; e += 6)
    for (let i = 0; i < 6; i++)
      for (let j = 0; j < 6; j++) if (i !== j) sets[mesh.elementNodes[e + i]!]!.add(mesh.elementNodes[e + j]!);
  return sets.map((set) => [...set]);
}
