// Stiffness of a thin layer of wood lying in the plate: plane stress in its plane, transverse shear across it.
import type { WoodConstants } from './plate-case.ts';

/** A layer's stiffness in the axes of the plate, Pa, and its density. */
export interface PlaneStiffness {
  /** Symmetric 3 x 3 for (epsilon_x, epsilon_y, gamma_xy), row-major, Pa. */
  readonly inPlane: Float64Array;
  /** Symmetric 2 x 2 for (gamma_xz, gamma_yz), row-major, Pa. */
  readonly transverse: Float64Array;
  readonly densityKgM3: number;
}

const PA_PER_MPA = 1e6;

/**
 * Stiffness of a layer whose grain lies in the plate.
 * @param wood    constants, MPa
 * @param upright growth direction that stands upright on the plate: T for plates and patches, R for quartersawn braces
 * @param angleRad angle of the grain to x
 * Source: Jones 1999, Mechanics of Composite Materials, eq. 2.70 and 2.80 (reduced and transformed stiffness).
 */
export function planeStiffness(wood: WoodConstants, upright: 'R' | 'T', angleRad: number): PlaneStiffness {
  const isT = upright === 'T';
  const e2 = isT ? wood.eR : wood.eT;
  const nu12 = isT ? wood.nuLR : wood.nuLT;
  const g12 = isT ? wood.gLR : wood.gLT;
  const g13 = isT ? wood.gLT : wood.gLR;
  const mu = 1 - (nu12 * nu12 * e2) / wood.eL;
  const q11 = wood.eL / mu;
  const q22 = e2 / mu;
  const q12 = (nu12 * e2) / mu;
  const c = Math.cos(angleRad);
  const s = Math.sin(angleRad);
  const c2 = c * c;
  const s2 = s * s;
  const cs = c * s;
  const xx = q11 * c2 * c2 + 2 * (q12 + 2 * g12) * c2 * s2 + q22 * s2 * s2;
  const yy = q11 * s2 * s2 + 2 * (q12 + 2 * g12) * c2 * s2 + q22 * c2 * c2;
  const xy = (q11 + q22 - 4 * g12) * c2 * s2 + q12 * (c2 * c2 + s2 * s2);
  const shear = (q11 + q22 - 2 * q12 - 2 * g12) * c2 * s2 + g12 * (c2 * c2 + s2 * s2);
  const xs = (q11 - q12 - 2 * g12) * c2 * cs + (q12 - q22 + 2 * g12) * s2 * cs;
  const ys = (q11 - q12 - 2 * g12) * s2 * cs + (q12 - q22 + 2 * g12) * c2 * cs;
  const txx = g13 * c2 + wood.gRT * s2;
  const tyy = g13 * s2 + wood.gRT * c2;
  const txy = (g13 - wood.gRT) * cs;
  return {
    inPlane: Float64Array.of(xx, xy, xs, xy, yy, ys, xs, ys, shear).map((v) => v * PA_PER_MPA),
    transverse: Float64Array.of(txx, txy, txy, tyy).map((v) => v * PA_PER_MPA),
    densityKgM3: wood.densityKgM3,
  };
}
