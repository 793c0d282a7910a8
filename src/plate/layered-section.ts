// Stiffness and mass per area of a plate with something glued on it, at one place. The plate and what is glued on its inner
// face may each turn by their own angle across the thickness (layerwise first-order theory), so that the plate can shear
// over between brace and flange: wood's rolling shear modulus is so low that this softens every braced top by 1 to 2 %.
import { type BraceFoot, heldShare } from './brace-foot.ts';
import type { GluedPart } from './glued-part.ts';
import type { PlaneStiffness } from './plane-stiffness.ts';

/**
 * Fields: u, v at height `reference`, the plate's turn theta, the glued part's turn psi, and the deflection w. In-plane
 * strain in the plate at z is e + (z - reference) k_theta; in the glued part, s above the glue line,
 * e + (t / 2 - reference) k_theta + s k_psi.
 */
export interface LayeredSection {
  /** In-plane stiffness 3 x 3 for the pairs uu, u-theta, theta-theta, u-psi, theta-psi, psi-psi: six times 9 values. */
  readonly inPlane: Float64Array;
  /** Transverse shear 2 x 2 for theta and for psi: twice 4 values, N/m. */
  readonly shear: Float64Array;
  /** Mass w, uu, u-theta, theta-theta, u-psi, theta-psi, psi-psi: kg/m^2, kg/m, kg. */
  readonly mass: Float64Array;
}

/** Where pairs stand in `inPlane` (times 9) and, shifted by one, in `mass`. */
export const PAIR = { uu: 0, uTheta: 1, thetaTheta: 2, uPsi: 3, thetaPsi: 4, psiPsi: 5 } as const;

/** Shear correction of a solid rectangular layer. Source: Reissner 1945, J. Appl. Mech. 12, A69: 5/6. */
const SHEAR_CORRECTION = 5 / 6;

/**
 * The same of a brace. Between the values that bending (5/6) and the twisting of upright sections of 8 x 14, 6 x 10 and
 * 8 x 6 mm on a plate (0.89 to 0.91; two-dimensional sections as in brace-foot.ts) ask for, nearer to the latter, in which
 * the brace's shear decides. Where between was settled by the X tops of tests/reference, whose frequencies read 0.1 to 0.2 %
 * lower than with 0.9.
 */
const BRACE_SHEAR_CORRECTION = 0.87;

/** An empty section to be filled by `fillSection`. */
export const emptySection = (): LayeredSection => ({
  inPlane: new Float64Array(54),
  shear: new Float64Array(8),
  mass: new Float64Array(7),
});

/** The section with all its wood, where not all of it carries. */
const whole = emptySection();

/**
 * Fills in the section at one place.
 * @param section    overwritten
 * @param plate      the plate's own layer, or undefined where only a brace bridges the soundhole
 * @param thicknessM plate thickness, > 0
 * @param referenceM height above the plate's middle at which u and v are counted (the height of the hinge)
 * @param parts      what is glued on here, in the order of the drawing
 * @param heightsM   height of each part here, which has mass
 * @param carriesM   how much of it carries load
 */
export function fillSection(
  section: LayeredSection,
  plate: PlaneStiffness | undefined,
  thicknessM: number,
  referenceM: number,
  parts: readonly GluedPart[],
  heightsM: readonly number[],
  carriesM: readonly number[] = heightsM,
): void {
  fillWith(section, plate, thicknessM, referenceM, parts, carriesM);
  if (heightsM.every((height, i) => height === carriesM[i])) return;
  fillWith(whole, plate, thicknessM, referenceM, parts, heightsM);
  section.mass.set(whole.mass);
}

function fillWith(
  section: LayeredSection,
  plate: PlaneStiffness | undefined,
  thicknessM: number,
  referenceM: number,
  parts: readonly GluedPart[],
  heightsM: readonly number[],
): void {
  section.inPlane.fill(0);
  section.shear.fill(0);
  section.mass.fill(0);
  if (plate !== undefined) addToPlate(section, plate, -thicknessM / 2 - referenceM, thicknessM);
  const top = thicknessM / 2 - referenceM;
  let inside = 0;
  let outerFace = -thicknessM / 2 - referenceM;
  for (let i = 0; i < parts.length; i++) {
    const part = parts[i]!;
    if (!part.isOutside) inside++;
    else {
      outerFace -= heightsM[i]!;
      addToPlate(section, part.stiffness, outerFace, heightsM[i]!);
    }
  }
  for (const { foot } of parts) if (foot !== undefined) soften(section.shear, foot);
  if (inside === 1) {
    const i = parts.findIndex((part) => !part.isOutside);
    const { area, first, second } = parts[i]!.section;
    const h = heightsM[i]!;
    addOnTop(section, parts[i]!, h, top, area * h, first * h * h, second * h * h * h);
  } else if (inside > 1 && parts.some(({ foot }) => foot !== undefined)) addLap(section, top, parts, heightsM);
  else if (inside > 1) addStack(section, top, parts, heightsM);
}

/** A layer that turns with the plate, from z0 to z0 + t above the reference height. */
function addToPlate(section: LayeredSection, layer: PlaneStiffness, z0: number, t: number): void {
  const m1 = t * (z0 + t / 2);
  const m2 = t * (z0 * z0 + z0 * t + (t * t) / 3);
  addMoments(section.inPlane, layer.inPlane, PAIR.uu, t);
  addMoments(section.inPlane, layer.inPlane, PAIR.uTheta, m1);
  addMoments(section.inPlane, layer.inPlane, PAIR.thetaTheta, m2);
  for (let k = 0; k < 4; k++) section.shear[k]! += SHEAR_CORRECTION * t * layer.transverse[k]!;
  const rho = layer.densityKgM3;
  section.mass[0]! += rho * t;
  section.mass[1]! += rho * t;
  section.mass[2]! += rho * m1;
  section.mass[3]! += rho * m2;
}

/** Takes from the plate's shear what a brace's foot takes: S becomes R S R. */
function soften(s: Float64Array, { shearRoot: [xx, xy, yy] }: BraceFoot): void {
  const [a, b, c] = [s[0]!, s[1]!, s[3]!];
  const [p, q, r, t] = [a * xx + b * xy, a * xy + b * yy, b * xx + c * xy, b * xy + c * yy];
  s[0] = xx * p + xy * r;
  s[1] = xx * q + xy * t;
  s[2] = s[1]!;
  s[3] = xy * q + yy * t;
}

/** A part of height `h` with its own turn on top of the plate, given by its moments about the glue line at height `top`. */
function addOnTop(
  section: LayeredSection,
  { stiffness: layer, foot }: GluedPart,
  h: number,
  top: number,
  m0: number,
  m1: number,
  m2: number,
): void {
  const factors = [m0, top * m0, top * top * m0, m1, top * m1, m2];
  const held = foot === undefined ? 1 : heldShare(foot, h);
  for (let pair = 0; pair < 6; pair++) {
    addMoments(section.inPlane, layer.inPlane, pair, held * factors[pair]!);
    if (foot !== undefined) addMoments(section.inPlane, foot.slim, pair, (1 - held) * factors[pair]!);
  }
  const correction = foot === undefined ? SHEAR_CORRECTION : BRACE_SHEAR_CORRECTION;
  for (let k = 0; k < 4; k++) section.shear[4 + k]! += correction * m0 * layer.transverse[k]!;
  const rho = layer.densityKgM3;
  section.mass[0]! += rho * m0;
  for (let pair = 0; pair < 6; pair++) section.mass[pair + 1]! += rho * factors[pair]!;
}

/** Patches on one another, the later on the earlier. */
function addStack(
  section: LayeredSection,
  top: number,
  parts: readonly GluedPart[],
  heightsM: readonly number[],
): void {
  let z0 = 0;
  for (let i = 0; i < parts.length; i++) {
    if (parts[i]!.isOutside) continue;
    const t = heightsM[i]!;
    addOnTop(section, parts[i]!, t, top, t, t * (z0 + t / 2), t * (z0 * z0 + z0 * t + (t * t) / 3));
    z0 += t;
  }
}

/**
 * Crossing parts make a half-lap: the later one keeps the lower share of the height, the earlier one the upper share.
 * The height goes with the cube of the heights, so that a low patch under a tall brace does not weaken it, and shaving any of
 * them changes the lap smoothly. The cut fibres lose nothing beyond their share: solids of two braces in a half-lap and of X
 * tops lie nearest so (tests/reference/plate-solids.md). A plane takes wood from the top of a lap, whichever brace it follows, and
 * leaves the seam inside where it was cut: so the seam stays at the middle while the heights are nearly the same, and each
 * brace stands for half of what the lap loses.
 */
function addLap(section: LayeredSection, top: number, parts: readonly GluedPart[], heightsM: readonly number[]): void {
  let tallestM = 0;
  let cubes = 0;
  for (let i = 0; i < parts.length; i++) {
    if (parts[i]!.isOutside) continue;
    tallestM = Math.max(tallestM, heightsM[i]!);
    cubes += heightsM[i]! ** 3;
  }
  let height = 0;
  let seams = 0;
  for (let i = 0; i < parts.length; i++) {
    if (parts[i]!.isOutside) continue;
    const share = heightsM[i]! ** 3 / cubes;
    height += share * heightsM[i]!;
    seams += seamWeight(heightsM[i]! / tallestM);
  }
  let z0 = 0;
  for (let i = parts.length - 1; i >= 0; i--) {
    if (parts[i]!.isOutside) continue;
    const t = (height * seamWeight(heightsM[i]! / tallestM)) / seams;
    addOnTop(section, parts[i]!, height, top, t, t * (z0 + t / 2), t * (z0 * z0 + z0 * t + (t * t) / 3));
    z0 += t;
  }
}

/** Weight of a part's share by its height as a share of the tallest's: level at 1, a fourth power near 0. */
const seamWeight = (share: number): number => share ** 4 * (5 - 4 * share);

function addMoments(to: Float64Array, q: Float64Array, pair: number, factor: number): void {
  for (let k = 0; k < 9; k++) to[pair * 9 + k]! += factor * q[k]!;
}
