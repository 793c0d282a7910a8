// How much each mode moves for a little wood taken off, at every place, without solving again: for a mode shape phi of
// unit modal mass, d lambda = phi^T (dK - lambda dM) phi, summed over the points of the mesh.
// Source: Fox and Kapoor 1968, AIAA J. 6, 2426.
import { type AssemblyPlan, type PlateWood, rimForm, sectionAt } from './assembly.ts';
import { braceLengthMm, distanceAlongMm } from './footprint.ts';
import { emptySection, fillSection, type LayeredSection } from './layered-section.ts';
import { edgeSupportOf, type PlateCase, type WoodConstants } from './plate-case.ts';
import { type PlateMode, type PreparedPlate, woodOf } from './plate-modes.ts';
import { type CountsIn, inBoth, type SectionChange, Slopes } from './slopes.ts';

/** What taking wood off one stretch of a brace does. */
export interface StretchSensitivity {
  /** Index of the brace in the case. */
  readonly brace: number;
  readonly fromMm: number;
  readonly toMm: number;
  /** Change of each mode for 1 mm off the whole stretch, first order, Hz (mostly negative), (modes,). */
  readonly hzPerMm: readonly number[];
  /** Wood removed by that 1 mm, g. */
  readonly gramsPerMm: number;
}

/** Length of the stretches by which the height of a brace is asked about, mm. */
export const SENSITIVITY_STRETCH_MM = 20;

/** Relative step of the central difference of a section by a height; sections are cubic in it, so the error is 1e-6. */
const STEP = 1e-3;

/**
 * Sensitivity of modes to the height of every brace.
 * @param modes     of this case on this prepared plate
 * @param stretchMm length of the stretches into which each brace is divided
 */
export function braceSensitivity(
  prepared: PreparedPlate,
  plate: PlateCase,
  modes: readonly PlateMode[],
  stretchMm = SENSITIVITY_STRETCH_MM,
): StretchSensitivity[] {
  const braces = plate.braces ?? [];
  const counts = braces.map((brace) => Math.max(1, Math.round(braceLengthMm(brace) / stretchMm)));
  const firsts = counts.map((_, i) => counts.slice(0, i).reduce((a, b) => a + b, 0));
  const groups = counts.reduce((a, b) => a + b, 0);
  const wood = woodOf(prepared, plate);
  const slopes = new Slopes(prepared, modes, groups);
  const changes = braces.map((brace, i): SectionChange => {
    const length = braceLengthMm(brace);
    const isBrace = (part: number) => {
      const { kind, index } = prepared.mesh.footprints[part]!;
      return kind === 'brace' && index === i;
    };
    return {
      touches: (e) => prepared.mesh.elementCover[e]!.some(isBrace),
      groupAt: (x, y) =>
        firsts[i]! + Math.min(counts[i]! - 1, Math.floor((distanceAlongMm(brace, [x, y]) / length) * counts[i]!)),
      difference: (section, e, x, y) => differenceByHeight(section, wood, prepared, e, x, y, isBrace),
      countsIn: inBoth,
    };
  });
  slopes.add(changes);
  return braces.flatMap((brace, i) =>
    Array.from({ length: counts[i]! }, (_, k) => {
      const step = braceLengthMm(brace) / counts[i]!;
      const group = firsts[i]! + k;
      return {
        brace: i,
        fromMm: k * step,
        toMm: (k + 1) * step,
        hzPerMm: modes.map((_mode, m) => -slopes.hzPerUnit(group, m) / 1000),
        gramsPerMm: slopes.massKgPerUnit(group),
      };
    }),
  );
}

/** A case a small step of its woods or rim above another, and that other; same lines and sizes. */
export type UpAndDown = readonly [up: PlateCase, down: PlateCase];

/**
 * First-order change of every mode when woods or rim change by small steps.
 * @returns for each step the change of each frequency from below to above, Hz, (modes,)
 */
export function frequencyChanges(
  prepared: PreparedPlate,
  modes: readonly PlateMode[],
  steps: readonly UpAndDown[],
): number[][] {
  return energyChangesBetween(prepared, modes, steps).map((changes) =>
    // The share that the mesh reads too high is the same in another wood.
    changes.map((change, m) => (change * modes[m]!.frequencyHz) / (8 * Math.PI ** 2 * modes[m]!.solvedHz ** 2)),
  );
}

/** phi^T (dK - lambda dM) phi for every step and mode; for a static deflection, of frequency 0, u^T dK u. */
export function energyChangesBetween(
  prepared: PreparedPlate,
  modes: readonly PlateMode[],
  steps: readonly UpAndDown[],
): number[][] {
  const slopes = new Slopes(prepared, modes, steps.length);
  const { mesh } = prepared;
  const woods = steps.map(([up, down]) => [woodOf(prepared, up), woodOf(prepared, down)] as const);
  const changes = steps.map(([up, down], group): SectionChange => {
    const [high, low] = woods[group]!;
    const samePlate = up.material === down.material;
    const difference = (to: LayeredSection, e: number, x: number, y: number) =>
      centralDifference(to, 0.5, (side, sign) => sectionAt(side, sign > 0 ? high : low, mesh, e, x, y));
    // Elements without parts on an even plate share one difference.
    let bare: LayeredSection | undefined;
    return {
      touches: (e) => !samePlate || mesh.elementCover[e]!.length > 0,
      groupAt: () => group,
      difference: (own, e, x, y) => {
        if (!high.isEven || !low.isEven || mesh.elementCover[e]!.length > 0) return difference(own, e, x, y);
        bare ??= difference(emptySection(), e, x, y);
        return bare;
      },
      countsIn: differenceOf(up, down),
    };
  });
  slopes.add(changes);
  return steps.map(([up, down], group) => {
    const rim = (wood: PlateWood, plate: PlateCase, { vector }: PlateMode) =>
      rimForm(prepared, wood, edgeSupportOf(plate), vector);
    const [high, low] = woods[group]!;
    return modes.map((mode, m) => slopes.lambdaPerUnit(group, m) + rim(high, up, mode) - rim(low, down, mode));
  });
}

const woodsOf = ({ material, braces = [], patches = [] }: PlateCase): readonly WoodConstants[] => [
  material,
  ...[...braces, ...patches].map((part) => part.material),
];

/** What of two cases of the same sizes differs: most properties of wood count in stiffness or in mass alone. */
function differenceOf(up: PlateCase, down: PlateCase): CountsIn {
  const others = woodsOf(down);
  const differ = (isCounted: (property: string) => boolean) =>
    woodsOf(up).some((wood, i) =>
      Object.entries(wood).some(([key, value]) => isCounted(key) && value !== others[i]![key as keyof WoodConstants]),
    );
  return { mass: differ((key) => key === 'densityKgM3'), stiffness: differ((key) => key !== 'densityKgM3') };
}

/** d section / d height of one part, per m. */
function differenceByHeight(
  section: LayeredSection,
  wood: PlateWood,
  { mesh }: AssemblyPlan,
  e: number,
  x: number,
  y: number,
  isPart: (part: number) => boolean,
): LayeredSection {
  const cover = mesh.elementCover[e]!;
  const parts = cover.map((part) => wood.parts[part]!);
  const heights = parts.map((part) => part.heightM([x, y]));
  const which = cover.findIndex(isPart);
  const carry = parts.map((part, i) => part.carriesM([x, y], heights[i]!));
  const step = STEP * heights[which]!;
  // What does not carry is mass alone.
  const carries = carry[which] === heights[which] ? 1 : 0;
  const plate = mesh.elementHasPlate[e] === 1 ? wood.plate : undefined;
  return centralDifference(section, step, (to, sign) =>
    fillSection(
      to,
      plate,
      wood.thicknessM(x, y),
      wood.referenceM,
      parts,
      heights.with(which, heights[which]! + sign * step),
      carry.with(which, carry[which]! + sign * carries * step),
    ),
  );
}

const above = emptySection();
const below = emptySection();

function centralDifference(
  section: LayeredSection,
  step: number,
  fill: (to: LayeredSection, sign: number) => void,
): LayeredSection {
  fill(above, 1);
  fill(below, -1);
  const share = 1 / (2 * step);
  differ(section.inPlane, above.inPlane, below.inPlane, share);
  differ(section.shear, above.shear, below.shear, share);
  differ(section.mass, above.mass, below.mass, share);
  return section;
}

function differ(to: Float64Array, a: Float64Array, b: Float64Array, share: number): void {
  for (let i = 0; i < to.length; i++) to[i] = share * (a[i]! - b[i]!);
}
