// Sums d lambda = phi^T (dK - lambda dM) phi over the points of a mesh, sorted into groups of places.
import { massForm, strainForm } from './energy-forms.ts';
import { MOTIONS } from './freedoms.ts';
import { emptySection, type LayeredSection } from './layered-section.ts';
import type { PlateMode, PreparedPlate } from './plate-modes.ts';

/** A local copy: loaders that turn imports into getters would slow the inner loops. */
const STRIDE = MOTIONS;

/** What a change counts in. */
export interface Changes {
  readonly stiffness: boolean;
  readonly mass: boolean;
}

/** Running sums of first-order changes, one for each group and mode, per unit of whatever is changed. */
export class Slopes {
  readonly #prepared: PreparedPlate;
  readonly #modes: readonly PlateMode[];
  readonly #lambda: Float64Array;
  readonly #massKg: Float64Array;

  constructor(prepared: PreparedPlate, modes: readonly PlateMode[], groups: number) {
    this.#prepared = prepared;
    this.#modes = modes;
    this.#lambda = new Float64Array(groups * modes.length);
    this.#massKg = new Float64Array(groups);
  }

  /**
   * Adds one change.
   * @param touches    whether an element changes
   * @param groupAt    group of a place, mm
   * @param difference d section / d unit at a place of an element, filled into the section handed in or one of its own
   * @param changes    what does not change is not summed
   */
  add(
    touches: (e: number) => boolean,
    groupAt: (x: number, y: number) => number,
    difference: (own: LayeredSection, e: number, x: number, y: number) => LayeredSection,
    changes: Changes = { stiffness: true, mass: true },
  ): void {
    const { mesh, freedoms, stiffnessPoints, massPoints } = this.#prepared;
    const own = Array.from({ length: 6 }, emptySection);
    const sections = [...own];
    const rules = [...(changes.stiffness ? [stiffnessPoints] : []), ...(changes.mass ? [massPoints] : [])];
    const groups = new Int32Array(6);
    const motions = new Float64Array(6 * STRIDE);
    const modeCount = this.#modes.length;
    for (let e = 0; e < mesh.elementCover.length; e++) {
      if (!touches(e)) continue;
      for (const points of rules) {
        const { count } = points.rule;
        for (let k = 0; k < count; k++) {
          const at = e * count + k;
          groups[k] = groupAt(points.xMm[at]!, points.yMm[at]!);
          sections[k] = difference(own[k]!, e, points.xMm[at]!, points.yMm[at]!);
          if (points === massPoints) this.#massKg[groups[k]!]! += points.areaM2[at]! * sections[k]!.mass[0]!;
        }
        for (let m = 0; m < modeCount; m++) {
          const { frequencyHz, vector } = this.#modes[m]!;
          for (let i = 0; i < 6; i++) {
            const node = mesh.elementNodes[6 * e + i]! * STRIDE;
            for (let j = 0; j < STRIDE; j++) {
              const unknown = freedoms.unknown[node + j]!;
              motions[i * STRIDE + j] = unknown < 0 ? 0 : vector[unknown]!;
            }
          }
          const lambda = (2 * Math.PI * frequencyHz) ** 2;
          for (let k = 0; k < count; k++) {
            const at = e * count + k;
            const density =
              points === stiffnessPoints
                ? strainForm(sections[k]!, points, at, motions)
                : -lambda * massForm(sections[k]!, points, k, motions);
            this.#lambda[groups[k]! * modeCount + m]! += points.areaM2[at]! * density;
          }
        }
      }
    }
  }

  /** d lambda of a mode per unit of change in a group. */
  lambdaPerUnit(group: number, mode: number): number {
    return this.#lambda[group * this.#modes.length + mode]!;
  }

  /** Change of a mode per unit of change in a group, Hz per unit. */
  hzPerUnit(group: number, mode: number): number {
    return this.lambdaPerUnit(group, mode) / (8 * Math.PI ** 2 * this.#modes[mode]!.frequencyHz);
  }

  /** Change of mass per unit of change in a group, kg per unit. */
  massKgPerUnit(group: number): number {
    return this.#massKg[group]!;
  }
}
