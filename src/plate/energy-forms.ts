// Energies of an element's motion at one point, for a section or for a difference of sections.
import type { ElementPoints } from './element-points.ts';
import { MOTIONS, PSI_X, THETA_X, U, W } from './freedoms.ts';
import type { LayeredSection } from './layered-section.ts';

/** A local copy: loaders that turn imports into getters would slow the inner loops. */
const STRIDE = MOTIONS;

const FIELDS = [U, THETA_X, PSI_X] as const;
const PAIRS = Int32Array.of(0, 1, 3, 1, 2, 4, 3, 4, 5);
const strains = new Float64Array(9);
const values = new Float64Array(STRIDE);

/**
 * Twice the strain energy per area.
 * @param motions the element's nodal motions, (6 STRIDE,)
 */
export function strainForm(section: LayeredSection, points: ElementPoints, at: number, motions: Float64Array): number {
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
  let sum = 0;
  for (let f = 0; f < 3; f++) {
    for (let g = 0; g < 3; g++) {
      const c = PAIRS[3 * f + g]! * 9;
      for (let a = 0; a < 3; a++)
        for (let b = 0; b < 3; b++) sum += strains[3 * f + a]! * section.inPlane[c + 3 * a + b]! * strains[3 * g + b]!;
    }
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
    const s = 4 * layer;
    sum += section.shear[s]! * gx * gx + 2 * section.shear[s + 1]! * gx * gy + section.shear[s + 3]! * gy * gy;
  }
  return sum;
}

/** Twice the kinetic energy per area over omega^2, at point k of the mass rule. */
export function massForm(section: LayeredSection, points: ElementPoints, k: number, motions: Float64Array): number {
  values.fill(0);
  for (let i = 0; i < 6; i++) {
    const n = points.rule.values[6 * k + i]!;
    for (let m = 0; m < STRIDE; m++) values[m]! += n * motions[i * STRIDE + m]!;
  }
  let sum = section.mass[0]! * values[W]! ** 2;
  for (let f = 0; f < 3; f++) {
    for (let g = 0; g < 3; g++) {
      const product = values[FIELDS[f]!]! * values[FIELDS[g]!]! + values[FIELDS[f]! + 1]! * values[FIELDS[g]! + 1]!;
      sum += section.mass[PAIRS[3 * f + g]! + 1]! * product;
    }
  }
  return sum;
}
