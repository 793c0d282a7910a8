// Energies of an element's motion at one point, for a section or for a difference of sections.
import type { ElementPoints } from './element-points.ts';
import { MOTIONS, PSI_X, THETA_X, U, W } from './freedoms.ts';
import type { LayeredSection } from './layered-section.ts';

/** A local copy: loaders that turn imports into getters would slow the inner loops. */
const STRIDE = MOTIONS;

const FIELDS = [U, THETA_X, PSI_X] as const;
/** The two fields of each pair, in the order of `PAIR`. */
const FIRST = Int32Array.of(0, 0, 1, 0, 1, 2);
const SECOND = Int32Array.of(0, 1, 1, 2, 2, 2);
/** Strains of the fields, then the shear of both layers. */
export const STRAINS = 13;
/** Those at the place looked at last. */
const lastStrains = new Float64Array(STRAINS);
const values = new Float64Array(STRIDE);

/**
 * Looks at the strains of a motion at one place; `strainForm` tells what they cost a section.
 * @param motions the element's nodal motions, (6 STRIDE,)
 * @returns the strains of u, theta and psi, three each, then the shears of plate and glued part, (13,); overwritten by the next look
 */
export function lookAtStrains(points: ElementPoints, at: number, motions: Float64Array): Float64Array {
  const strains = lastStrains;
  for (let f = 0; f < 3; f++) {
    let [xx, yy, xy] = [0, 0, 0];
    for (let i = 0; i < 6; i++) {
      const dx = points.dX[6 * at + i]!;
      const dy = points.dY[6 * at + i]!;
      const p = motions[i * STRIDE + FIELDS[f]!]!;
      const q = motions[i * STRIDE + FIELDS[f]! + 1]!;
      xx += dx * p;
      yy += dy * q;
      xy += dy * p + dx * q;
    }
    strains[3 * f] = xx;
    strains[3 * f + 1] = yy;
    strains[3 * f + 2] = xy;
  }
  for (let layer = 0; layer < 2; layer++) {
    const turn = layer === 0 ? THETA_X : PSI_X;
    let [gx, gy] = [0, 0];
    for (let i = 0; i < 6; i++) {
      for (let m = 0; m < 3; m++) {
        const motion = motions[i * STRIDE + (m === 0 ? W : turn + m - 1)]!;
        gx += points.shear[36 * at + 6 * i + 2 * m]! * motion;
        gy += points.shear[36 * at + 6 * i + 2 * m + 1]! * motion;
      }
    }
    strains[9 + 2 * layer] = gx;
    strains[10 + 2 * layer] = gy;
  }
  return strains;
}

/** Twice the strain energy per area of strains; of those where `lookAtStrains` looked last, unless others are given. */
export function strainForm(section: LayeredSection, strains: Float64Array = lastStrains): number {
  let sum = 0;
  for (let pair = 0; pair < 6; pair++) {
    const f = 3 * FIRST[pair]!;
    const g = 3 * SECOND[pair]!;
    const [a, b, c] = [strains[g]!, strains[g + 1]!, strains[g + 2]!];
    // Where nothing is glued on there is no third field.
    if (a === 0 && b === 0 && c === 0) continue;
    let form = 0;
    for (let row = 0; row < 3; row++) {
      const at3 = pair * 9 + 3 * row;
      const q = section.inPlane;
      form += strains[f + row]! * (q[at3]! * a + q[at3 + 1]! * b + q[at3 + 2]! * c);
    }
    sum += f === g ? form : 2 * form;
  }
  for (let layer = 0; layer < 2; layer++) {
    const s = 4 * layer;
    const [gx, gy] = [strains[9 + 2 * layer]!, strains[10 + 2 * layer]!];
    sum += section.shear[s]! * gx * gx + 2 * section.shear[s + 1]! * gx * gy + section.shear[s + 3]! * gy * gy;
  }
  return sum;
}

/** Looks at a motion at point k of the mass rule; `massForm` tells what it costs a section. */
export function lookAtMotion(points: ElementPoints, k: number, motions: Float64Array): void {
  values.fill(0);
  for (let i = 0; i < 6; i++) {
    const n = points.rule.values[6 * k + i]!;
    for (let m = 0; m < STRIDE; m++) values[m]! += n * motions[i * STRIDE + m]!;
  }
}

/** Twice the kinetic energy per area over omega^2 where `lookAtMotion` looked last. */
export function massForm(section: LayeredSection): number {
  let sum = section.mass[0]! * values[W]! ** 2;
  for (let pair = 0; pair < 6; pair++) {
    const f = FIELDS[FIRST[pair]!]!;
    const g = FIELDS[SECOND[pair]!]!;
    const product = values[f]! * values[g]! + values[f + 1]! * values[g + 1]!;
    sum += section.mass[pair + 1]! * (f === g ? product : 2 * product);
  }
  return sum;
}
