// Where a narrow brace meets the plate. A plate theory lets the plate under a brace shear as if nothing were glued on it,
// and holds the brace's sides as if the brace went on for ever. Neither is so, and both show in the modes: the constants
// below were found by solving the cross-section itself in two dimensions (quadratic finite elements of plate and brace,
// 2.5 to 14 mm of each, grain of the plate at 0 to 90 degrees to the brace) and asking the layered section for the same
// slip, tilt and bending; tests/plate/brace-foot.test.ts does it again.
import type { PlaneStiffness } from './plane-stiffness.ts';
import type { WoodConstants } from './plate-case.ts';

/** What the section under a brace needs to know of it beside its layer. */
export interface BraceFoot {
  readonly widthM: number;
  /** In-plane stiffness of the brace's wood with its sides free: no stress across the brace, (9,), Pa. */
  readonly slim: Float64Array;
  /** Square root of the share of the plate's transverse shear stiffness that is left under the brace: xx, xy, yy. */
  readonly shearRoot: readonly [number, number, number];
}

/**
 * Share of the plate's shear stiffness left for slip along the brace: the force enters through the glue line and has yet to
 * spread through the plate's thickness. Between 0.17 and 0.3 over the sections solved.
 */
const SLIP_SHARE = 0.25;

/**
 * The same for tilting across the brace, times the root of the ratio of the plate's stiffness across the brace to the
 * foot's own. Within 7 % of the tilt of the solved sections at every angle of the grain.
 */
const TILT_SHARE = 0.88;

/** Height of a brace, in widths, at which its layer keeps 1 / (1 + this) of its stiffness across. */
const FREE_SIDES = 3.5;

/**
 * The foot of a brace.
 * @param plate  the plate's layer
 * @param layer  the brace's layer, sides held
 * @param wood   the brace's wood
 * @param angleRad direction of the brace to x
 */
export function braceFoot(
  plate: PlaneStiffness,
  layer: PlaneStiffness,
  wood: WoodConstants,
  angleRad: number,
  widthM: number,
): BraceFoot {
  const c = Math.cos(angleRad);
  const s = Math.sin(angleRad);
  // Strains (xx, yy, xy) of a unit stretch across the brace.
  const across = [s * s, c * c, -2 * c * s] as const;
  const acrossPlate = quadratic(plate.inPlane, across);
  const footPa = Math.sqrt(wood.eR * wood.eT) * 1e6;
  const slip = Math.sqrt(SLIP_SHARE);
  const tilt = Math.sqrt(Math.min(1, TILT_SHARE * Math.sqrt(footPa / acrossPlate)));
  return {
    widthM,
    slim: withoutStress(layer.inPlane, across),
    shearRoot: [slip * c * c + tilt * s * s, (slip - tilt) * c * s, slip * s * s + tilt * c * c],
  };
}

/** Share of its stiffness across that a brace of this height has: its free sides carry no stress, its foot does. */
export const heldShare = (foot: BraceFoot, heightM: number): number =>
  foot.widthM / (foot.widthM + FREE_SIDES * heightM);

type Strain = readonly [number, number, number];

const times = (q: Float64Array, e: Strain): Strain => [
  q[0]! * e[0] + q[1]! * e[1] + q[2]! * e[2],
  q[3]! * e[0] + q[4]! * e[1] + q[5]! * e[2],
  q[6]! * e[0] + q[7]! * e[1] + q[8]! * e[2],
];

function quadratic(q: Float64Array, e: Strain): number {
  const [a, b, c] = times(q, e);
  return a * e[0] + b * e[1] + c * e[2];
}

/** Stiffness left when the stress belonging to one strain is let go: q - (q e)(q e)^T / (e^T q e). */
function withoutStress(q: Float64Array, e: Strain): Float64Array {
  const stress = times(q, e);
  const energy = quadratic(q, e);
  return q.map((value, k) => value - (stress[Math.floor(k / 3)]! * stress[k % 3]!) / energy);
}
