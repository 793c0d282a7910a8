// Where the elements of a mesh are sampled: positions, weights and shape-function gradients at their integration points.
import { shearRows } from './assumed-shear.ts';
import type { PlateMesh } from './mesh.ts';
import { rimKey, rimTurns } from './rim-turns.ts';
import type { TrianglePoints } from './triangle-points.ts';

/** Integration points of all elements, element by element, SI. */
export interface ElementPoints {
  readonly rule: TrianglePoints;
  /** Area that each point stands for, m^2, (points,). */
  readonly areaM2: Float64Array;
  /** Position of each point, mm. */
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  /** Derivatives of the six shape functions at each point, 1/m, (6 points,). */
  readonly dX: Float64Array;
  readonly dY: Float64Array;
  /** Shear (gamma_x, gamma_y) from (w, theta_x, theta_y) of each node, (36 points,) or (0,); see assumed-shear.ts. */
  readonly shear: Float64Array;
}

/**
 * Samples every element of a mesh.
 * @param shear whether the points shall know the shear, and if so whether the rim is hinged; those of the mass need not
 * @throws RangeError if an element is turned inside out (a border arc bent too far)
 */
export function elementPoints(
  mesh: PlateMesh,
  rule: TrianglePoints,
  shear: 'none' | 'free' | 'hinged-rim',
): ElementPoints {
  const elements = mesh.elementNodes.length / 6;
  const count = elements * rule.count;
  const points: ElementPoints = {
    rule,
    areaM2: new Float64Array(count),
    xMm: new Float64Array(count),
    yMm: new Float64Array(count),
    dX: new Float64Array(6 * count),
    dY: new Float64Array(6 * count),
    shear: new Float64Array(shear === 'none' ? 0 : 36 * count),
  };
  const nodeX = new Float64Array(6);
  const nodeY = new Float64Array(6);
  const turns = shear === 'hinged-rim' ? rimTurns(mesh) : undefined;
  const sideTurns = new Float64Array(6);
  for (let e = 0; e < elements; e++) {
    for (let i = 0; i < 6; i++) {
      nodeX[i] = mesh.xMm[mesh.elementNodes[6 * e + i]!]! / 1000;
      nodeY[i] = mesh.yMm[mesh.elementNodes[6 * e + i]!]! / 1000;
    }
    if (turns !== undefined) fillSideTurns(sideTurns, mesh, e, turns);
    if (shear !== 'none')
      shearRows(nodeX, nodeY, rule, sideTurns, points.shear.subarray(36 * e * rule.count, 36 * (e + 1) * rule.count));
    for (let k = 0; k < rule.count; k++) {
      const at = e * rule.count + k;
      let x = 0;
      let y = 0;
      let xXi = 0;
      let xEta = 0;
      let yXi = 0;
      let yEta = 0;
      for (let i = 0; i < 6; i++) {
        const node = mesh.elementNodes[6 * e + i]!;
        const xm = mesh.xMm[node]!;
        const ym = mesh.yMm[node]!;
        x += rule.values[6 * k + i]! * xm;
        y += rule.values[6 * k + i]! * ym;
        xXi += rule.dXi[6 * k + i]! * xm;
        xEta += rule.dEta[6 * k + i]! * xm;
        yXi += rule.dXi[6 * k + i]! * ym;
        yEta += rule.dEta[6 * k + i]! * ym;
      }
      const jacobian = xXi * yEta - xEta * yXi;
      if (!(jacobian > 0))
        throw new RangeError(`elementPoints: element ${e} has area ${jacobian}, need a positive area`);
      points.areaM2[at] = jacobian * rule.weights[k]! * 1e-6;
      points.xMm[at] = x;
      points.yMm[at] = y;
      for (let i = 0; i < 6; i++) {
        const xi = rule.dXi[6 * k + i]!;
        const eta = rule.dEta[6 * k + i]!;
        points.dX[6 * at + i] = ((yEta * xi - yXi * eta) / jacobian) * 1000;
        points.dY[6 * at + i] = ((xXi * eta - xEta * xi) / jacobian) * 1000;
      }
    }
  }
  return points;
}

/** Corners of the sides as the shear is sampled along them. */
const SIDES = [
  [0, 1],
  [0, 2],
  [1, 2],
] as const;

/** Turns of an element's sides at their two ends, rad: 0 but for the rim. */
function fillSideTurns(
  sideTurns: Float64Array,
  mesh: PlateMesh,
  e: number,
  turns: ReadonlyMap<number, readonly [number, number]>,
): void {
  for (const [side, [i, j]] of SIDES.entries()) {
    const from = mesh.elementNodes[6 * e + i]!;
    const to = mesh.elementNodes[6 * e + j]!;
    const along = turns.get(rimKey(mesh, from, to));
    const against = turns.get(rimKey(mesh, to, from));
    sideTurns[2 * side] = along?.[0] ?? against?.[1] ?? 0;
    sideTurns[2 * side + 1] = along?.[1] ?? against?.[0] ?? 0;
  }
}
