// A drawn outline is a polygon that stands for a smooth curve. Along a hinged rim the plate may turn about the rim alone, and
// at a corner between two sides about neither: a corner of a few degrees would hold it over a whole element, where wood gives
// way within its thickness. So the shear along a hinged rim is taken along the curve that the polygon stands for.
// Source: Babuska and Pitkaranta 1990, SIAM J. Math. Anal. 21, 551 (hinged polygons do not tend to the hinged circle).
import type { PlateMesh } from './mesh.ts';

/** Corners smaller than the first are none, those above the second are meant as corners, rad. */
const SMOOTH_RAD = 1e-6;
const MEANT_RAD = (35 * Math.PI) / 180;

/**
 * By how much the tangent of each rim edge is to be turned at its two ends to be that of the curve, rad: half of the corner
 * at either end of a side, growing evenly along the side in between; corners that are drawn as such are kept.
 * @returns for an edge from node a to node b the turns at a and at b, by `rimKey`
 */
export function rimTurns(mesh: PlateMesh): ReadonlyMap<number, readonly [number, number]> {
  const { xMm, yMm, rim } = mesh;
  // The tangent of a quadratic arc at its start: 4 m - 3 a - b.
  const tangent = ([a, m, b]: readonly [number, number, number]) =>
    Math.atan2(4 * yMm[m]! - 3 * yMm[a]! - yMm[b]!, 4 * xMm[m]! - 3 * xMm[a]! - xMm[b]!);
  const leaving = new Map(rim.map((edge) => [edge[0], edge]));
  const coming = new Map(rim.map((edge) => [edge[2], edge]));
  const corner = (node: number): number => {
    const before = coming.get(node);
    const after = leaving.get(node);
    // A brace drawn over the rim can leave a gap in it.
    if (before === undefined || after === undefined) return 0;
    const [a, m, b] = before;
    const angle = wrapped(tangent(after) - tangent([b, m, a]) - Math.PI);
    return Math.abs(angle) > MEANT_RAD ? 0 : angle;
  };
  const length = ([a, , b]: readonly [number, number, number]) => Math.hypot(xMm[b]! - xMm[a]!, yMm[b]! - yMm[a]!);
  const isSideEnd = (node: number) => Math.abs(corner(node)) > SMOOTH_RAD || !coming.has(node) || !leaving.has(node);
  const turns = new Map<number, readonly [number, number]>();
  for (const first of rim) {
    if (!isSideEnd(first[0])) continue;
    const side = [first];
    while (!isSideEnd(side.at(-1)![2])) side.push(leaving.get(side.at(-1)![2])!);
    const [before, after] = [-corner(first[0]) / 2, corner(side.at(-1)![2]) / 2];
    const whole = side.reduce((sum, edge) => sum + length(edge), 0);
    let gone = 0;
    for (const edge of side) {
      const from = gone / whole;
      gone += length(edge);
      const to = gone / whole;
      turns.set(rimKey(mesh, edge[0], edge[2]), [before * (1 - from) + after * from, before * (1 - to) + after * to]);
    }
  }
  return turns;
}

/** Key of the edge from corner node a to corner node b. */
export const rimKey = (mesh: PlateMesh, a: number, b: number): number => a * mesh.xMm.length + b;

const wrapped = (angle: number): number => Math.atan2(Math.sin(angle), Math.cos(angle));
