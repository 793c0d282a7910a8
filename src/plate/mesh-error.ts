// How much too high a mode is computed because the mesh is no finer: the strains of the elements, which jump from one to the next,
// against a smooth field through them. What that differs by in energy is a steady share of what a much finer mesh would take off.
// Source: Zienkiewicz and Zhu 1987, Int. J. Numer. Meth. Engng 24, 337 (error by the averaged stress field), for frequencies by
// Rayleigh's quotient.
import { type Estimate, estimate } from '../quantity/estimate.ts';
import { type PlateWood, sectionAt } from './assembly.ts';
import type { ElementPoints } from './element-points.ts';
import { lookAtStrains, STRAINS, strainForm } from './energy-forms.ts';
import { type Freedoms, MOTIONS } from './freedoms.ts';
import { emptySection } from './layered-section.ts';
import { DEFAULT_SIZE_MM, type PlateMesh } from './mesh.ts';

/** Where the elements of a mesh share their strains: at nodes, among elements that carry the same parts. */
export interface StrainMeeting {
  /** which meeting each node of each element belongs to, (6 elements,) */
  readonly place: Int32Array;
  /** area of the elements that meet there, m^2, (meetings,) */
  readonly areaM2: Float64Array;
}

/** The meetings of a mesh. @param points of the stiffness */
export function strainMeetings(mesh: PlateMesh, points: ElementPoints): StrainMeeting {
  const known = new Map<string, number>();
  const place = new Int32Array(mesh.elementNodes.length);
  const areas: number[] = [];
  for (let e = 0; e < mesh.elementCover.length; e++) {
    const parts = `${mesh.elementHasPlate[e]} ${mesh.elementCover[e]!.join(' ')}`;
    const area = elementArea(points, e);
    for (let i = 0; i < 6; i++) {
      const key = `${mesh.elementNodes[6 * e + i]} ${parts}`;
      const at = known.get(key) ?? known.size;
      known.set(key, at);
      areas[at] = (areas[at] ?? 0) + area;
      place[6 * e + i] = at;
    }
  }
  return { place, areaM2: Float64Array.from(areas) };
}

function elementArea({ areaM2, rule }: ElementPoints, e: number): number {
  let sum = 0;
  for (let k = 0; k < rule.count; k++) sum += areaM2[e * rule.count + k]!;
  return sum;
}

/** What an estimate looks at. */
export interface EstimatedPlate {
  readonly mesh: PlateMesh;
  readonly freedoms: Freedoms;
  readonly stiffnessPoints: ElementPoints;
  readonly meetings: StrainMeeting;
}

/**
 * The mesh error of a mode, as a share of its frequency, over what `strainJumps` tells of it. Least squares on 40 modes of two X
 * tops of tests/reference, free and hinged, against meshes of 70 to 85 thousand unknowns; on 18 plans of ours, none of which chose it,
 * it comes to 2.2 to 3.7 (docs/forecast-figures.md).
 */
const MESH_ERROR_PER_JUMP = 2.62;

/** The share of the mesh error; nothing is taken off on a mesh coarser than those it was found on. */
export const meshErrorShare = (jump: number, sizeMm: number): number =>
  sizeMm > DEFAULT_SIZE_MM ? 0 : MESH_ERROR_PER_JUMP * jump;

/**
 * How far that number may be off, as a share (one sigma): the 18 plans ask for up to 1.4 times it, taken as two sigma. Of 50 modes of
 * five other tops, 47 lie within two of it.
 */
const MESH_ERROR_SPREAD = 0.2;

/** Computed frequencies with what the mesh error that was taken off leaves open, Hz. @param modes as solved, in the same order */
export const withMeshSpread = (
  frequencies: readonly Estimate[],
  modes: readonly { readonly frequencyHz: number; readonly solvedHz: number }[],
): readonly Estimate[] =>
  frequencies.map(({ value, sigma }, i) => {
    const { frequencyHz, solvedHz } = modes[i]!;
    return estimate(value, Math.hypot(sigma, MESH_ERROR_SPREAD * (solvedHz - frequencyHz)));
  });

/** Corners, then middles of the sides, of the unit triangle. */
const NODES = [
  [0, 0],
  [1, 0],
  [0, 1],
  [0.5, 0],
  [0.5, 0.5],
  [0, 0.5],
] as const;

/**
 * What each mode's strains differ by from the smooth field, as a share of its frequency: half the energy of the difference
 * over that of the mode.
 * @param modes angular frequency, rad/s, and motion of unit modal mass, of this wood on this plate
 * @returns (modes,)
 */
export function strainJumps(
  plate: EstimatedPlate,
  wood: PlateWood,
  modes: readonly { readonly omega: number; readonly vector: Float64Array }[],
): number[] {
  const { mesh, stiffnessPoints: points, meetings } = plate;
  const { count } = points.rule;
  const elements = mesh.elementCover.length;
  const width = STRAINS * modes.length;
  const smooth = new Float64Array(meetings.areaM2.length * width);
  const raw = new Float64Array(elements * count * width);
  const motions = new Float64Array(6 * MOTIONS);
  const toNodes = NODES.map(([xi, eta]) => linearThrough(points, xi, eta));
  for (let e = 0; e < elements; e++) {
    const area = elementArea(points, e);
    modes.forEach(({ vector }, m) => {
      gather(plate, e, vector, motions);
      for (let k = 0; k < count; k++)
        raw.set(lookAtStrains(points, e * count + k, motions), (e * count + k) * width + m * STRAINS);
    });
    for (let i = 0; i < 6; i++) {
      const to = meetings.place[6 * e + i]! * width;
      for (let k = 0; k < count; k++) {
        const share = area * toNodes[i]![k]!;
        const from = (e * count + k) * width;
        for (let s = 0; s < width; s++) smooth[to + s]! += share * raw[from + s]!;
      }
    }
  }
  meetings.areaM2.forEach((area, at) => {
    for (let s = at * width; s < (at + 1) * width; s++) smooth[s]! /= area;
  });
  const energy = new Float64Array(modes.length);
  const section = emptySection();
  const difference = new Float64Array(STRAINS);
  for (let e = 0; e < elements; e++)
    for (let k = 0; k < count; k++) {
      const at = e * count + k;
      sectionAt(section, wood, mesh, e, points.xMm[at]!, points.yMm[at]!);
      for (let m = 0; m < modes.length; m++) {
        for (let s = 0; s < STRAINS; s++) {
          let value = -raw[at * width + m * STRAINS + s]!;
          for (let i = 0; i < 6; i++)
            value += points.rule.values[6 * k + i]! * smooth[meetings.place[6 * e + i]! * width + m * STRAINS + s]!;
          difference[s] = value;
        }
        energy[m]! += points.areaM2[at]! * strainForm(section, difference);
      }
    }
  return modes.map(({ omega }, m) => energy[m]! / (2 * omega ** 2));
}

/** Weights of the three points of an element whose line through them is read at a place. */
function linearThrough({ rule }: ElementPoints, xi: number, eta: number): readonly number[] {
  const [x0, x1, x2] = [rule.xi[0]!, rule.xi[1]!, rule.xi[2]!];
  const [y0, y1, y2] = [rule.eta[0]!, rule.eta[1]!, rule.eta[2]!];
  const whole = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0);
  const second = ((xi - x0) * (y2 - y0) - (x2 - x0) * (eta - y0)) / whole;
  const third = ((x1 - x0) * (eta - y0) - (xi - x0) * (y1 - y0)) / whole;
  return [1 - second - third, second, third];
}

function gather({ mesh, freedoms }: EstimatedPlate, e: number, vector: Float64Array, motions: Float64Array): void {
  for (let i = 0; i < 6; i++) {
    const node = mesh.elementNodes[6 * e + i]! * MOTIONS;
    for (let m = 0; m < MOTIONS; m++) {
      const unknown = freedoms.unknown[node + m]!;
      motions[i * MOTIONS + m] = unknown < 0 ? 0 : vector[unknown]!;
    }
  }
}
