// From a drawing to vibration modes. `preparePlate` does once what depends on the drawing's lines: mesh, unknowns,
// elimination order; `plateModes` solves for given heights and woods on it.
import { type CholeskyPlan, factorise, planCholesky } from '../algebra/cholesky.ts';
import { lowestModes } from '../algebra/lanczos.ts';
import { type AssemblyPlan, assemble, elementBlocks, type PlateWood } from './assembly.ts';
import { elementPoints } from './element-points.ts';
import { freedoms } from './freedoms.ts';
import { gluedParts, topLayer } from './glued-part.ts';
import { plateMass } from './mass.ts';
import { DEFAULT_SIZE_MM, plateMesh } from './mesh.ts';
import { meshErrorShare, type StrainMeeting, strainJumps, strainMeetings } from './mesh-error.ts';
import { DEFAULT_FINENESS } from './mesh-size.ts';
import { type EdgeSupport, edgeSupportOf, type PlateCase } from './plate-case.ts';
import { rigidMotions } from './rigid-motions.ts';
import { SIX_POINTS, THREE_POINTS } from './triangle-points.ts';

/** A plate made ready to be solved again and again with other heights, thicknesses and woods. */
export interface PreparedPlate extends AssemblyPlan {
  readonly plate: PlateCase;
  readonly support: EdgeSupport;
  readonly cholesky: CholeskyPlan;
  readonly rigid: readonly Float64Array[];
  readonly meetings: StrainMeeting;
  readonly sizeMm: number;
}

/** One vibration mode. */
export interface PlateMode {
  /** what a mesh without error would give, as far as the error can be told */
  readonly frequencyHz: number;
  /** what this mesh gives */
  readonly solvedHz: number;
  /** All unknowns, scaled to unit modal mass (kg), (dofCount,). */
  readonly vector: Float64Array;
}

export interface PlateModes {
  readonly kind: 'modes';
  readonly modes: readonly PlateMode[];
  readonly massG: number;
  readonly degreesOfFreedom: number;
}

export type PlateAnswer =
  | PlateModes
  | { readonly kind: 'unsolvable'; readonly because: 'not-stiff' | 'not-converged' }
  | { readonly kind: 'cancelled' };

export interface ModeOptions {
  /** How many elastic modes, default 12. */
  readonly count?: number;
  /** Modes of a like case on the same prepared plate: the search starts there and is shorter, the answer is the same. */
  readonly near?: readonly PlateMode[] | undefined;
  /** Share of the work done, 0..1; return false to stop. */
  readonly onProgress?: (share: number) => boolean | undefined;
}

/**
 * Makes a plate ready to be solved.
 * @param plate  a case that `checkPlate` calls sound
 * @param sizeMm side of the triangles, mm
 */
export function preparePlate(plate: PlateCase, sizeMm = DEFAULT_SIZE_MM, fineness = DEFAULT_FINENESS): PreparedPlate {
  const support = edgeSupportOf(plate);
  const mesh = plateMesh(plate, sizeMm, fineness);
  const parts = gluedParts(plate, mesh.footprints);
  const onTop = mesh.elementCover.map((cover) => cover.some((part) => !parts[part]!.isOutside));
  const isEccentric = support.kind === 'hinged' && support.pinnedAt === 'lower-edge';
  const hasPlane = isEccentric || mesh.elementCover.some((cover) => cover.length > 0);
  const unknowns = freedoms(mesh, support, hasPlane, onTop);
  const stiffnessPoints = elementPoints(mesh, THREE_POINTS, support.kind === 'hinged' ? 'hinged-rim' : 'free');
  return {
    plate,
    support,
    mesh,
    freedoms: unknowns,
    blocks: elementBlocks(mesh, unknowns),
    stiffnessPoints,
    meetings: strainMeetings(mesh, stiffnessPoints),
    sizeMm,
    massPoints: elementPoints(mesh, SIX_POINTS, 'none'),
    cholesky: planCholesky(unknowns.pattern, unknowns.dissection.fronts),
    rigid: support.kind === 'free' ? rigidMotions(mesh, unknowns, hasPlane, plate.thicknessMm / 2000) : [],
  };
}

/** The wood of a case on a prepared plate: same lines, possibly other heights, thickness or materials. */
export function woodOf(prepared: PreparedPlate, plate: PlateCase = prepared.plate): PlateWood {
  const thicknessM = thicknessField(plate);
  const { support } = prepared;
  return {
    plate: topLayer(plate),
    thicknessM,
    isEven: (plate.thicknessPointsMm ?? []).length === 0,
    referenceM: support.kind === 'hinged' && support.pinnedAt === 'lower-edge' ? -plate.thicknessMm / 2000 : 0,
    parts: gluedParts(plate, prepared.mesh.footprints),
  };
}

function thicknessField(plate: PlateCase): (xMm: number, yMm: number) => number {
  const points = plate.thicknessPointsMm ?? [];
  if (points.length === 0) return () => plate.thicknessMm / 1000;
  return (xMm, yMm) => {
    let [sum, weights] = [0, 0];
    for (const [x, y, thickness] of points) {
      const weight = 1 / ((x - xMm) ** 2 + (y - yMm) ** 2 + 1);
      sum += weight * thickness;
      weights += weight;
    }
    return sum / weights / 1000;
  };
}

/** Shift of the spectral transformation, (rad/s)^2: negative, so that a free plate can be factorised too. */
const SHIFT = -((2 * Math.PI * 30) ** 2);

/** Relative accuracy of (2 pi f)^2: half of it in f, far below what the mesh and the wood leave open. */
const TOLERANCE = 1e-8;

/** Memory of the last factor, which nothing outlives: ten megabytes take long to be handed out and cleared away. */
let spare = new Float64Array(0);

/**
 * The lowest modes of a plate.
 * @param prepared from `preparePlate`
 * @param plate    the case to solve, with the lines of the prepared one; default the prepared case itself
 * @returns elastic modes with ascending frequencies (discretisation error below 1 % against solids, see
 *          tests/reference), the mass, or why there is no answer
 */
export function plateModes(
  prepared: PreparedPlate,
  plate: PlateCase = prepared.plate,
  options: ModeOptions = {},
): PlateAnswer {
  const { pattern } = prepared.freedoms;
  const wood = woodOf(prepared, plate);
  const { stiffness, mass } = assemble(prepared, wood, edgeSupportOf(plate));
  for (let i = 0; i < stiffness.length; i++) stiffness[i]! -= SHIFT * mass[i]!;
  const { cholesky } = prepared;
  if (spare.length < cholesky.factorValues) spare = new Float64Array(cholesky.factorValues);
  const panels = spare.subarray(0, cholesky.factorValues);
  const factor = factorise(cholesky, stiffness, { plan: cholesky, panels });
  if ('kind' in factor) return { kind: 'unsolvable', because: 'not-stiff' };
  const count = options.count ?? 12;
  const answer = lowestModes(pattern, factor, mass, {
    count,
    shift: SHIFT,
    rigid: prepared.rigid,
    tolerance: TOLERANCE,
    maxSteps: 6 * count + 40,
    start: startNear(options.near ?? []),
    ...(options.onProgress && { onProgress: options.onProgress }),
  });
  if (answer.kind === 'cancelled') return answer;
  if (answer.kind === 'not-converged') return { kind: 'unsolvable', because: 'not-converged' };
  const omegas = answer.vectors.map((_, k) => Math.sqrt(Math.max(0, answer.values[k]!)));
  const jumps = strainJumps(
    prepared,
    wood,
    answer.vectors.map((vector, k) => ({ omega: omegas[k]!, vector })),
  );
  return {
    kind: 'modes',
    modes: answer.vectors.map((vector, k): PlateMode => {
      const solvedHz = omegas[k]! / (2 * Math.PI);
      return { frequencyHz: solvedHz * (1 - meshErrorShare(jumps[k]!, prepared.sizeMm)), solvedHz, vector };
    }),
    massG: plateMass(prepared, wood).totalG,
    degreesOfFreedom: pattern.dofStart.at(-1)!,
  };
}

/** The sum of modes, the higher ones with more weight since they are found last; undefined where none are known. */
function startNear(modes: readonly PlateMode[]): Float64Array | undefined {
  if (modes.length === 0) return undefined;
  const sum = new Float64Array(modes[0]!.vector.length);
  for (const { frequencyHz, vector } of modes) for (let i = 0; i < sum.length; i++) sum[i]! += frequencyHz * vector[i]!;
  return sum;
}
