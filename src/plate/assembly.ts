// Stiffness and mass of a whole plate, added up element by element.
import { blockOf, valueCount } from '../algebra/block-symmetric.ts';
import type { ElementPoints } from './element-points.ts';
import { type Freedoms, MOTIONS, PSI_X, THETA_X, THETA_Y, U, V, W } from './freedoms.ts';
import type { GluedPart } from './glued-part.ts';
import { emptySection, fillSection, type LayeredSection, PAIR } from './layered-section.ts';
import type { PlateMesh } from './mesh.ts';
import type { PlaneStiffness } from './plane-stiffness.ts';
import type { EdgeSupport } from './plate-case.ts';

/** A local copy: loaders that turn imports into getters would slow the inner loops. */
const STRIDE = MOTIONS;

/** All that the elements of a plate need to know about wood. */
export interface PlateWood {
  readonly plate: PlaneStiffness;
  readonly thicknessM: (xMm: number, yMm: number) => number;
  /** Whether the thickness is the same everywhere. */
  readonly isEven: boolean;
  readonly referenceM: number;
  readonly parts: readonly GluedPart[];
}

/** Values of the two matrices on the pattern of the freedoms. */
export interface PlateMatrices {
  readonly stiffness: Float64Array;
  readonly mass: Float64Array;
}

/** Blocks of the pattern that each element fills: 21 pairs of nodes (i >= j) per element. */
export function elementBlocks(mesh: PlateMesh, { pattern, place }: Freedoms): Int32Array {
  const blocks: number[] = [];
  for (let e = 0; e < mesh.elementNodes.length; e += 6)
    for (let i = 0; i < 6; i++)
      for (let j = 0; j <= i; j++)
        blocks.push(blockOf(pattern, place[mesh.elementNodes[e + i]!]!, place[mesh.elementNodes[e + j]!]!));
  return Int32Array.from(blocks);
}

/** What assembly needs and what stays the same while only heights and materials change. */
export interface AssemblyPlan {
  readonly mesh: PlateMesh;
  readonly freedoms: Freedoms;
  readonly blocks: Int32Array;
  readonly stiffnessPoints: ElementPoints;
  readonly massPoints: ElementPoints;
}

/** Fills in the section at point `at` of element `e`. */
export function sectionAt(
  section: LayeredSection,
  wood: PlateWood,
  mesh: PlateMesh,
  e: number,
  x: number,
  y: number,
): void {
  const cover = mesh.elementCover[e]!;
  const parts = cover.map((part) => wood.parts[part]!);
  const heights = parts.map((part) => part.heightM([x, y]));
  const carry = parts.map((part, i) => part.carriesM([x, y], heights[i]!));
  fillSection(
    section,
    mesh.elementHasPlate[e] === 1 ? wood.plate : undefined,
    wood.thicknessM(x, y),
    wood.referenceM,
    parts,
    heights,
    carry,
  );
}

/**
 * Stiffness and mass of a plate.
 * @returns the blocks of both matrices, SI
 */
export function assemble(plan: AssemblyPlan, wood: PlateWood, support: EdgeSupport): PlateMatrices {
  const { mesh, freedoms } = plan;
  const size = valueCount(freedoms.pattern);
  const matrices = { stiffness: new Float64Array(size), mass: new Float64Array(size) };
  const block = new Float64Array(STRIDE * STRIDE);
  const own = Array.from({ length: 6 }, emptySection);
  const bare = emptySection();
  if (wood.isEven) fillSection(bare, wood.plate, wood.thicknessM(0, 0), wood.referenceM, [], []);
  const allBare = own.map(() => bare);
  const elements = mesh.elementNodes.length / 6;
  for (let e = 0; e < elements; e++) {
    for (const [points, add, values] of [
      [plan.stiffnessPoints, addStiffness, matrices.stiffness],
      [plan.massPoints, addMass, matrices.mass],
    ] as const) {
      const { count } = points.rule;
      // Elements without parts on an even plate share one section.
      const isBare = wood.isEven && mesh.elementCover[e]!.length === 0;
      const sections = isBare ? allBare : own;
      for (let k = 0; k < count && !isBare; k++) {
        const at = e * count + k;
        sectionAt(sections[k]!, wood, mesh, e, points.xMm[at]!, points.yMm[at]!);
      }
      let pair = 21 * e;
      for (let i = 0; i < 6; i++) {
        for (let j = 0; j <= i; j++) {
          block.fill(0);
          for (let k = 0; k < count; k++) add(block, sections[k]!, points, e * count + k, k, i, j);
          addBlock(
            freedoms,
            values,
            plan.blocks[pair++]!,
            block,
            mesh.elementNodes[6 * e + i]!,
            mesh.elementNodes[6 * e + j]!,
          );
        }
      }
    }
  }
  if (support.kind === 'hinged') addRimSprings(plan, wood, support, matrices.stiffness);
  return matrices;
}

const FIELDS = [U, THETA_X, PSI_X] as const;
const FIELD_PAIRS = [
  [PAIR.uu, PAIR.uTheta, PAIR.uPsi],
  [PAIR.uTheta, PAIR.thetaTheta, PAIR.thetaPsi],
  [PAIR.uPsi, PAIR.thetaPsi, PAIR.psiPsi],
] as const;

/** Adds one point's share of the stiffness between nodes i and j: G_i^T C G_j for strains, and transverse shear. */
function addStiffness(
  block: Float64Array,
  section: LayeredSection,
  points: ElementPoints,
  at: number,
  _k: number,
  i: number,
  j: number,
): void {
  const area = points.areaM2[at]!;
  const ax = points.dX[6 * at + i]! * area;
  const ay = points.dY[6 * at + i]! * area;
  const bx = points.dX[6 * at + j]!;
  const by = points.dY[6 * at + j]!;
  const hasTop = section.mass[6]! > 0;
  const fields = hasTop ? 3 : 2;
  const c = section.inPlane;
  for (let f = 0; f < fields; f++) {
    for (let g = 0; g < fields; g++) {
      const o = FIELD_PAIRS[f]![g]! * 9;
      const p0 = c[o]! * bx + c[o + 2]! * by;
      const p1 = c[o + 3]! * bx + c[o + 5]! * by;
      const p2 = c[o + 6]! * bx + c[o + 8]! * by;
      const q0 = c[o + 1]! * by + c[o + 2]! * bx;
      const q1 = c[o + 4]! * by + c[o + 5]! * bx;
      const q2 = c[o + 7]! * by + c[o + 8]! * bx;
      const to = FIELDS[f]! * STRIDE + FIELDS[g]!;
      block[to]! += ax * p0 + ay * p2;
      block[to + 1]! += ax * q0 + ay * q2;
      block[to + STRIDE]! += ay * p1 + ax * p2;
      block[to + STRIDE + 1]! += ay * q1 + ax * q2;
    }
  }
  const rows = points.shear;
  for (let layer = 0; layer < (hasTop ? 2 : 1); layer++) {
    const turn = layer === 0 ? THETA_X : PSI_X;
    const s = section.shear;
    const xx = s[4 * layer]! * area;
    const xy = s[4 * layer + 1]! * area;
    const yy = s[4 * layer + 3]! * area;
    for (let m = 0; m < 3; m++) {
      const gx = rows[36 * at + 6 * i + 2 * m]!;
      const gy = rows[36 * at + 6 * i + 2 * m + 1]!;
      const px = xx * gx + xy * gy;
      const py = xy * gx + yy * gy;
      const to = (m === 0 ? W : turn + m - 1) * STRIDE;
      for (let n = 0; n < 3; n++) {
        const column = n === 0 ? W : turn + n - 1;
        block[to + column]! += px * rows[36 * at + 6 * j + 2 * n]! + py * rows[36 * at + 6 * j + 2 * n + 1]!;
      }
    }
  }
}

/** Adds one point's share of the mass between nodes i and j. */
function addMass(
  block: Float64Array,
  section: LayeredSection,
  points: ElementPoints,
  at: number,
  k: number,
  i: number,
  j: number,
): void {
  const nn = points.areaM2[at]! * points.rule.values[6 * k + i]! * points.rule.values[6 * k + j]!;
  const { mass } = section;
  block[W * STRIDE + W]! += nn * mass[0]!;
  const fields = mass[6]! > 0 ? 3 : 2;
  for (let f = 0; f < fields; f++) {
    for (let g = 0; g < fields; g++) {
      const m = nn * mass[FIELD_PAIRS[f]![g]! + 1]!;
      const to = FIELDS[f]! * STRIDE + FIELDS[g]!;
      block[to]! += m;
      block[to + STRIDE + 1]! += m;
    }
  }
}

function addBlock(
  { pattern, place, unknown }: Freedoms,
  values: Float64Array,
  block: number,
  local: Float64Array,
  nodeI: number,
  nodeJ: number,
): void {
  const isTransposed = place[nodeI]! < place[nodeJ]!;
  const row = isTransposed ? nodeJ : nodeI;
  const column = isTransposed ? nodeI : nodeJ;
  let at = pattern.valueStart[block]!;
  for (let m = 0; m < STRIDE; m++) {
    if (unknown[row * STRIDE + m]! < 0) continue;
    for (let n = 0; n < STRIDE; n++) {
      if (unknown[column * STRIDE + n]! < 0) continue;
      values[at++]! += isTransposed ? local[n * STRIDE + m]! : local[m * STRIDE + n]!;
    }
  }
}

/** Two-point Gauss rule along a rim edge, in the edge's own parameter 0..1. */
const RIM_POINTS = [0.5 - Math.sqrt(3) / 6, 0.5 + Math.sqrt(3) / 6];

/**
 * In-plane give of a rim held along a line: a line load inside a solid sinks in, by a length that grows with 1 / sqrt(E G)
 * of the wood across the line. Fitted on a bare top hinged at its lower edge (tests/reference, solids), kept for all others.
 */
const PIN_GIVE = 0.2;

/** In-plane stiffness of the held line per length of rim, N/m^2, along and across the grain axes x, y. */
function pinStiffness(plate: PlaneStiffness): { readonly x: number; readonly y: number } {
  return {
    x: Math.sqrt(plate.inPlane[0]! * plate.transverse[0]!) / PIN_GIVE,
    y: Math.sqrt(plate.inPlane[4]! * plate.transverse[3]!) / PIN_GIVE,
  };
}

/** One integration point of the rim: the nodes of its edge with their shape functions, the length it stands for, m, the normal. */
interface RimPoint {
  readonly edge: readonly [number, number, number];
  readonly n: readonly [number, number, number];
  readonly lengthM: number;
  readonly nx: number;
  readonly ny: number;
}

function rimPoints(mesh: PlateMesh): RimPoint[] {
  return mesh.rim.flatMap((edge) =>
    RIM_POINTS.map((t): RimPoint => {
      const d = [4 * t - 3, 4 - 8 * t, 4 * t - 1];
      const dx = edge.reduce((sum, node, k) => sum + d[k]! * mesh.xMm[node]!, 0) / 1000;
      const dy = edge.reduce((sum, node, k) => sum + d[k]! * mesh.yMm[node]!, 0) / 1000;
      const length = Math.hypot(dx, dy);
      const n = [(1 - t) * (1 - 2 * t), 4 * t * (1 - t), t * (2 * t - 1)] as const;
      return { edge, n, lengthM: length / 2, nx: dy / length, ny: -dx / length };
    }),
  );
}

/** Springs of a hinged rim: against in-plane motion of the held line, and against turning about it. */
function addRimSprings(
  { mesh, freedoms }: AssemblyPlan,
  wood: PlateWood,
  support: EdgeSupport,
  stiffness: Float64Array,
): void {
  const { pattern, place } = freedoms;
  const block = new Float64Array(STRIDE * STRIDE);
  const pin = pinStiffness(wood.plate);
  for (const { edge, n, lengthM, nx, ny } of rimPoints(mesh)) {
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j <= i; j++) {
        const share = n[i]! * n[j]! * lengthM;
        const k = support.rotationalStiffnessN * share;
        block.fill(0);
        block[U * STRIDE + U] = pin.x * share;
        block[V * STRIDE + V] = pin.y * share;
        block[THETA_X * STRIDE + THETA_X] = k * nx * nx;
        block[THETA_X * STRIDE + THETA_Y] = k * nx * ny;
        block[THETA_Y * STRIDE + THETA_X] = k * nx * ny;
        block[THETA_Y * STRIDE + THETA_Y] = k * ny * ny;
        const at = blockOf(pattern, place[edge[i]!]!, place[edge[j]!]!);
        addBlock(freedoms, stiffness, at, block, edge[i]!, edge[j]!);
      }
    }
  }
}

/** Twice the energy that a motion puts into the springs of the rim: phi^T K phi of what `addRimSprings` adds. */
export function rimForm(
  { mesh, freedoms: { unknown } }: AssemblyPlan,
  wood: PlateWood,
  support: EdgeSupport,
  vector: Float64Array,
): number {
  if (support.kind !== 'hinged') return 0;
  const pin = pinStiffness(wood.plate);
  return rimPoints(mesh).reduce((sum, { edge, n, lengthM, nx, ny }) => {
    const motion = (which: number) =>
      edge.reduce((total, node, i) => total + n[i]! * (vector[unknown[node * STRIDE + which]!] ?? 0), 0);
    const turn = nx * motion(THETA_X) + ny * motion(THETA_Y);
    const inPlane = pin.x * motion(U) ** 2 + pin.y * motion(V) ** 2;
    return sum + lengthM * (inPlane + support.rotationalStiffnessN * turn ** 2);
  }, 0);
}
