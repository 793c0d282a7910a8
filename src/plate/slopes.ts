// Sums d lambda = phi^T (dK - lambda dM) phi over the points of a mesh, sorted into groups of places.
import { lookAtMotion, lookAtStrains, massForm, strainForm } from './energy-forms.ts';
import { MOTIONS } from './freedoms.ts';
import { emptySection, type LayeredSection } from './layered-section.ts';
import type { PlateMode, PreparedPlate } from './plate-modes.ts';

/** A local copy: loaders that turn imports into getters would slow the inner loops. */
const STRIDE = MOTIONS;

/** A change of the plate. */
export interface SectionChange {
  /** whether an element changes */
  readonly touches: (e: number) => boolean;
  /** group of a place, mm */
  readonly groupAt: (x: number, y: number) => number;
  /** d section / d unit at a place of an element, filled into the section handed in or one of its own */
  readonly difference: (own: LayeredSection, e: number, x: number, y: number) => LayeredSection;
  /** what does not change is not summed */
  readonly countsIn: CountsIn;
}

export interface CountsIn {
  readonly stiffness: boolean;
  readonly mass: boolean;
}

/** Of heights: they count in both. */
export const inBoth: CountsIn = { stiffness: true, mass: true };

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

  /** Adds changes: all of them in one walk over the mesh, since looking at the motions takes longest. */
  add(changes: readonly SectionChange[]): void {
    const { mesh, freedoms, stiffnessPoints, massPoints } = this.#prepared;
    const own = changes.map(() => Array.from({ length: 6 }, emptySection));
    const sections = own.map((list) => [...list]);
    const groups = changes.map(() => new Int32Array(6));
    const motions = new Float64Array(6 * STRIDE);
    const modeCount = this.#modes.length;
    for (let e = 0; e < mesh.elementCover.length; e++) {
      for (const points of [stiffnessPoints, massPoints]) {
        const isStiffness = points === stiffnessPoints;
        const { count } = points.rule;
        const here: number[] = [];
        changes.forEach(({ touches, groupAt, difference, countsIn }, c) => {
          if (!(isStiffness ? countsIn.stiffness : countsIn.mass) || !touches(e)) return;
          here.push(c);
          for (let k = 0; k < count; k++) {
            const at = e * count + k;
            const [x, y] = [points.xMm[at]!, points.yMm[at]!];
            groups[c]![k] = groupAt(x, y);
            sections[c]![k] = difference(own[c]![k]!, e, x, y);
            if (!isStiffness) this.#massKg[groups[c]![k]!]! += points.areaM2[at]! * sections[c]![k]!.mass[0]!;
          }
        });
        if (here.length === 0) continue;
        for (let m = 0; m < modeCount; m++) {
          const { solvedHz, vector } = this.#modes[m]!;
          for (let i = 0; i < 6; i++) {
            const node = mesh.elementNodes[6 * e + i]! * STRIDE;
            for (let j = 0; j < STRIDE; j++) {
              const unknown = freedoms.unknown[node + j]!;
              motions[i * STRIDE + j] = unknown < 0 ? 0 : vector[unknown]!;
            }
          }
          const lambda = (2 * Math.PI * solvedHz) ** 2;
          for (let k = 0; k < count; k++) {
            const at = e * count + k;
            if (isStiffness) lookAtStrains(points, at, motions);
            else lookAtMotion(points, k, motions);
            for (const c of here) {
              const section = sections[c]![k]!;
              const density = isStiffness ? strainForm(section) : -lambda * massForm(section);
              this.#lambda[groups[c]![k]! * modeCount + m]! += points.areaM2[at]! * density;
            }
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
    return this.lambdaPerUnit(group, mode) / (8 * Math.PI ** 2 * this.#modes[mode]!.solvedHz);
  }

  /** Change of mass per unit of change in a group, kg per unit. */
  massKgPerUnit(group: number): number {
    return this.#massKg[group]!;
  }
}
