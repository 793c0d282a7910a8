// How thick should this plate be: the thickness at which it equals a reference, by each of the ways "equal" can be meant.
// The ways differ; the choice between them is the maker's. Woods, plates and thicknesses come and go in workshop units; what is
// computed between is SI.
import { type Estimate, HALF_WIDTH_95, propagated } from '../quantity/estimate.ts';
import { type BoardMode, boardModes, type RitzSize } from './board-modes.ts';
import { type ShearRatios, withShear } from './elastic-start.ts';
import type { Pattern } from './pattern-names.ts';

/** A wood as measured. */
export interface MeasuredWood {
  readonly eLongGpa: Estimate;
  readonly eCrossGpa: Estimate;
  readonly gGpa: Estimate;
  readonly densityKgM3: Estimate;
  readonly nuLR: number;
}

/** The clamped rectangle that stands for the moving part of a top; along the grain by across, mm. */
export interface Patch {
  readonly lengthMm: number;
  readonly widthMm: number;
}

/** What is to be equal. */
export type ThicknessCriterion =
  /** bending stiffness per width along the grain, E_L h^3 / 12, N m */
  | 'long-stiffness'
  /** the same across, N m */
  | 'cross-stiffness'
  /** stiffness of the clamped patch, both ways and twist together, N/m^3 */
  | 'patch-stiffness'
  /** frequency of the clamped patch, Hz */
  | 'patch-frequency'
  /** long-grain bending of the free plate of one size, as h sqrt(E_L / rho), m^2/s */
  | 'free-long-frequency'
  /** cross-grain bending of the free plate, as h sqrt(E_R / rho), m^2/s */
  | 'free-cross-frequency'
  /** mass per area, kg/m^2 */
  | 'mass';

/** All criteria in the order shown. */
export const CRITERIA: readonly ThicknessCriterion[] = [
  'long-stiffness',
  'cross-stiffness',
  'patch-stiffness',
  'patch-frequency',
  'free-long-frequency',
  'free-cross-frequency',
  'mass',
];

/** A wood and the patch as the formulas take them: Pa, kg/m³, m. */
interface InSi {
  readonly eLongPa: number;
  readonly eCrossPa: number;
  readonly gPa: number;
  readonly nuLR: number;
  readonly densityKgM3: number;
  readonly lengthM: number;
  readonly widthM: number;
}

/** Power of thickness in each criterion. */
const POWER: Readonly<Record<ThicknessCriterion, number>> = {
  'long-stiffness': 3,
  'cross-stiffness': 3,
  'patch-stiffness': 3,
  'patch-frequency': 1,
  'free-long-frequency': 1,
  'free-cross-frequency': 1,
  mass: 1,
};

/**
 * Stiffness factor of a clamped patch, Pa/m^4: omega^2 = 504/12 x this x h^2 / rho.
 * Source: one-term Rayleigh with x^2 (1-x)^2 both ways, after Leissa, NASA SP-160 ch. 9; 0.2 to 0.3 % above Ritz.
 */
function patchFactor({ eLongPa, eCrossPa, gPa, nuLR, lengthM: a, widthM: b }: InSi): number {
  const mu = 1 - (nuLR ** 2 * eCrossPa) / eLongPa;
  const [eL, eR] = [eLongPa / mu, eCrossPa / mu];
  return eL / a ** 4 + ((4 / 7) * (nuLR * eR + 2 * gPa)) / (a * b) ** 2 + eR / b ** 4;
}

/** The criterion's quantity for a plate 1 m thick; times h^POWER for one of h. */
function perThickness(criterion: ThicknessCriterion, si: InSi): number {
  switch (criterion) {
    case 'long-stiffness':
      return si.eLongPa / 12;
    case 'cross-stiffness':
      return si.eCrossPa / 12;
    case 'patch-stiffness':
      return (504 / 12) * patchFactor(si);
    case 'patch-frequency':
      return Math.sqrt(((504 / 12) * patchFactor(si)) / si.densityKgM3) / (2 * Math.PI);
    case 'free-long-frequency':
      return Math.sqrt(si.eLongPa / si.densityKgM3);
    case 'free-cross-frequency':
      return Math.sqrt(si.eCrossPa / si.densityKgM3);
    case 'mass':
      return si.densityKgM3;
  }
}

const PA_PER_GPA = 1e9;

const inputsOf = ({ eLongGpa, eCrossGpa, gGpa, densityKgM3 }: MeasuredWood) => [eLongGpa, eCrossGpa, gGpa, densityKgM3];

/** The inputs of a wood, in their order, as SI. */
const inSi =
  (nuLR: number, { lengthMm, widthMm }: Patch) =>
  ([eLongGpa, eCrossGpa, gGpa, densityKgM3]: readonly number[]): InSi => ({
    eLongPa: eLongGpa! * PA_PER_GPA,
    eCrossPa: eCrossGpa! * PA_PER_GPA,
    gPa: gGpa! * PA_PER_GPA,
    nuLR,
    densityKgM3: densityKgM3!,
    lengthM: lengthMm / 1000,
    widthM: widthMm / 1000,
  });

/**
 * A plate's quantity under one criterion, to become a target: of a former top, or of the plate in hand.
 * @param thicknessMm one sigma with it
 * @returns in the unit named at the criterion, with sigma from the wood and the thickness
 * Source: see patchFactor and the criteria.
 */
export function criterionOf(
  criterion: ThicknessCriterion,
  wood: MeasuredWood,
  thicknessMm: Estimate,
  patch: Patch,
): Estimate {
  const si = inSi(wood.nuLR, patch);
  return propagated(
    (values) => perThickness(criterion, si(values)) * (values[4]! / 1000) ** POWER[criterion],
    [...inputsOf(wood), thicknessMm],
  ).result;
}

/**
 * The thickness at which a wood meets a target under one criterion, mm.
 * @param target in the unit of the criterion, from criterionOf or the maker's own
 * Source: criterionOf solved for h. For the clamped patch this is
 * h = 0.96952 f a^2 sqrt(rho / (E_L' + (4/7)(nu E_R' + 2 G)(a/b)^2 + E_R' (a/b)^4)).
 */
export function thicknessFor(
  criterion: ThicknessCriterion,
  wood: MeasuredWood,
  target: Estimate,
  patch: Patch,
): Estimate {
  return propagated(thicknessMmOf(criterion, wood.nuLR, patch), [...inputsOf(wood), target]).result;
}

/** The thickness, mm, as a function of a wood's inputs and the target. */
const thicknessMmOf = (criterion: ThicknessCriterion, nuLR: number, patch: Patch) => {
  const si = inSi(nuLR, patch);
  return (values: readonly number[]): number =>
    1000 * (values[4]! / perThickness(criterion, si(values))) ** (1 / POWER[criterion]);
};

/** One line of the comparison. */
export interface ThicknessChoice {
  readonly criterion: ThicknessCriterion;
  readonly thicknessMm: Estimate;
  /** mass of the plate at that thickness, g */
  readonly massG: Estimate;
}

/**
 * Every criterion's thickness for a wood to equal a reference plate, and the grams that is: no single number, since the
 * criteria differ.
 * @param wood      the wood in hand
 * @param reference a former top's wood and thickness
 * @param patch     the clamped patch, the same for both
 * @param areaCm2   area of the plate, for the mass
 */
export function thicknessChoices(
  wood: MeasuredWood,
  reference: { readonly wood: MeasuredWood; readonly thicknessMm: Estimate },
  patch: Patch,
  areaCm2: number,
): readonly ThicknessChoice[] {
  return CRITERIA.map((criterion) => {
    const target = criterionOf(criterion, reference.wood, reference.thicknessMm, patch);
    const thicknessMm = thicknessFor(criterion, wood, target, patch);
    const thickness = thicknessMmOf(criterion, wood.nuLR, patch);
    // The density is in the thickness too: the doubt of both is one.
    const { result: massG } = propagated(
      (values) => thickness(values) * 1e-3 * values[3]! * areaCm2 * 0.1,
      [...inputsOf(wood), target],
    );
    return { criterion, thicknessMm, massG };
  });
}

/** Wood that is still to come off after the thicknesser, and what the maker keeps in hand. */
export interface StopLine {
  /** stop the machine here: target plus the sanding to come, mm */
  readonly stopMm: number;
  /** stop here and tap again: above it the target is surely not passed yet, at 95 % */
  readonly checkMm: number;
}

/**
 * Where to stop thicknessing.
 * @param target     wanted thickness when finished, with its sigma
 * @param sandingMm  wood that sanding and levelling will still take, mm
 * @throws RangeError for negative sanding
 * Source: ours; wood cannot be put back, so the doubt counts on the thick side only.
 */
export function stopLine(target: Estimate, sandingMm: number): StopLine {
  if (!(sandingMm >= 0)) throw new RangeError(`stopLine: sandingMm ${sandingMm}, need >= 0`);
  const stopMm = target.value + sandingMm;
  return { stopMm, checkMm: stopMm + HALF_WIDTH_95 * target.sigma };
}

/** Free modes of a plate at one thickness. */
export interface ThicknessPoint {
  readonly thicknessMm: number;
  readonly modes: readonly { readonly pattern: Pattern; readonly frequencyHz: number }[];
}

/**
 * The free modes of a rectangular plate against its thickness.
 * @param plan        length along the grain and width, mm
 * @param thicknesses mm, each > 0
 * @param shearRatios of the species, or undefined for the thin-plate theory
 * @returns for each thickness the modes in order of frequency
 */
export function modesAgainstThickness(
  plan: Patch,
  wood: MeasuredWood,
  thicknesses: readonly number[],
  shearRatios: ShearRatios | undefined,
  ritz?: RitzSize,
): readonly ThicknessPoint[] {
  const elastic = withShear(
    {
      eLongPa: wood.eLongGpa.value * PA_PER_GPA,
      eCrossPa: wood.eCrossGpa.value * PA_PER_GPA,
      gPa: wood.gGpa.value * PA_PER_GPA,
      nuLR: wood.nuLR,
    },
    shearRatios,
  );
  return thicknesses.map((thicknessMm) => {
    const size = { lengthM: plan.lengthMm / 1000, widthM: plan.widthMm / 1000, thicknessM: thicknessMm / 1000 };
    const modes: readonly BoardMode[] = boardModes(size, elastic, wood.densityKgM3.value, undefined, ritz);
    return { thicknessMm, modes: modes.map(({ pattern, frequencyHz }) => ({ pattern, frequencyHz })) };
  });
}
