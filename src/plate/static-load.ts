// How far the strings pull the top: deflection and turning of the bridge under string load, on the same mesh.
import { factorise, solve } from '../algebra/cholesky.ts';
import { assemble } from './assembly.ts';
import { MOTIONS, THETA_X, U, W } from './freedoms.ts';
import { sharesAt } from './mesh-place.ts';
import { between, type Point } from './outline.ts';
import { edgeSupportOf, type PlateCase } from './plate-case.ts';
import { type PreparedPlate, woodOf } from './plate-modes.ts';

/** The pull of the strings on the bridge. */
export interface StringPull {
  /** Sum of all string tensions, N. */
  readonly tensionN: number;
  /** Height of the strings above the outer face at the saddle, mm. */
  readonly stringHeightMm: number;
  /** Ends of the saddle line, mm. */
  readonly saddle: readonly [Point, Point];
}

export type StaticAnswer =
  | {
      readonly kind: 'deflected';
      /** Turn of the saddle line toward the neck, degrees, mean along it. */
      readonly rotationDeg: number;
      /** Outward (belly) deflection at the saddle, mm, mean along it. */
      readonly saddleMm: number;
      /** Largest outward and inward deflection anywhere, mm, both >= 0. */
      readonly bellyMm: number;
      readonly sinkMm: number;
      /** Outward deflection at mesh nodes, mm. */
      readonly outwardMm: Float64Array;
      /** All unknowns, SI, and the work the load does on them (force times way), N m. */
      readonly displacement: Float64Array;
      readonly workNm: number;
    }
  | { readonly kind: 'unsolvable'; readonly because: 'free-rim' | 'not-stiff' | 'saddle-outside' };

/** Published guideline for the turn of a strung bridge, degrees. Source: Gore and Gilet 2011, Contemporary Acoustic Guitar. */
export const ROTATION_GUIDE_DEG = 2;

const SADDLE_SAMPLES = 24;

/**
 * Small-deflection answer of the top to string load. Creep of wood and glue, which doubles it over years, is not in it.
 * @param plate the case to load, with the lines of the prepared one
 */
export function stringDeflection(prepared: PreparedPlate, plate: PlateCase, load: StringPull): StaticAnswer {
  if (prepared.support.kind === 'free') return { kind: 'unsolvable', because: 'free-rim' };
  const { mesh, freedoms } = prepared;
  const wood = woodOf(prepared, plate);
  const samples = Array.from({ length: SADDLE_SAMPLES }, (_, i) =>
    between(load.saddle[0], load.saddle[1], (i + 0.5) / SADDLE_SAMPLES),
  );
  const force = new Float64Array(freedoms.pattern.dofStart.at(-1)!);
  // A unit value at one node, sampled at the saddle, is that node's share of the load.
  const share = nodeShares(prepared, samples);
  if (share === undefined) return { kind: 'unsolvable', because: 'saddle-outside' };
  const leverM = -plate.thicknessMm / 2000 - load.stringHeightMm / 1000 - wood.referenceM;
  for (let node = 0; node < mesh.xMm.length; node++) {
    const [u, theta] = [freedoms.unknown[node * MOTIONS + U]!, freedoms.unknown[node * MOTIONS + THETA_X]!];
    if (u >= 0) force[u]! += load.tensionN * share[node]!;
    if (theta >= 0) force[theta]! += load.tensionN * leverM * share[node]!;
  }
  const { stiffness } = assemble(prepared, wood, edgeSupportOf(plate));
  const factor = factorise(prepared.cholesky, stiffness);
  if ('kind' in factor) return { kind: 'unsolvable', because: 'not-stiff' };
  const displacement = force.slice();
  solve(factor, displacement);
  const motionOf = (node: number, motion: number) => {
    const unknown = freedoms.unknown[node * MOTIONS + motion]!;
    return unknown < 0 ? 0 : displacement[unknown]!;
  };
  const outwardMm = Float64Array.from(mesh.xMm, (_, node) => -1000 * motionOf(node, W));
  let [rotation, saddleMm] = [0, 0];
  for (let node = 0; node < share.length; node++) {
    rotation -= share[node]! * motionOf(node, THETA_X);
    saddleMm += share[node]! * outwardMm[node]!;
  }
  return {
    kind: 'deflected',
    rotationDeg: (rotation * 180) / Math.PI,
    saddleMm,
    bellyMm: Math.max(0, ...outwardMm),
    sinkMm: Math.max(0, -Math.min(...outwardMm)),
    outwardMm,
    displacement,
    workNm: force.reduce((sum, f, i) => sum + f * displacement[i]!, 0),
  };
}

/** Share of an even line load along the samples that falls on each node; sums to 1. */
function nodeShares({ mesh }: PreparedPlate, samples: readonly Point[]): Float64Array | undefined {
  const share = new Float64Array(mesh.xMm.length);
  for (const point of samples) {
    const values = sharesAt(mesh, point);
    if (values === undefined) return undefined;
    for (const [node, value] of values) share[node]! += value / samples.length;
  }
  return share;
}
