// Properties of wood and rim that are known only within a spread: what each does to the modes, and what frequencies computed
// with them are worth.
import { plateMass } from '../plate/mass.ts';
import { edgeSupportOf, type PlateCase, type WoodConstants } from '../plate/plate-case.ts';
import { type PlateMode, type PreparedPlate, woodOf } from '../plate/plate-modes.ts';
import { frequencyChanges, type UpAndDown } from '../plate/sensitivity.ts';
import { type Estimate, estimate } from '../quantity/estimate.ts';

/** A property that a fit may move. Every parameter is a factor on the drawn value; its logarithm is what is fitted. */
export type Property =
  | 'plate eL'
  | 'plate eR'
  | 'plate gLR'
  | 'plate density'
  | 'brace eL'
  | 'brace gLR'
  | 'brace density'
  | 'rim stiffness';

/** A property with how well it is known beforehand. */
export interface Parameter {
  readonly property: Property;
  /** One sigma of its logarithm: 0.1 means known to about 10 %. */
  readonly relativeSigma: number;
}

/**
 * Error of the model itself, as a share of each frequency (one sigma), added to the spread of a measurement in a fit.
 * Source: solid models in tests/reference and `npm run bench -- solid-trials`: most modes lie nearer, the lowest of an X whose small
 * braces end beside a leg 1 to 2 % off.
 */
export const MODEL_ERROR_SHARE = 0.01;

/** Of the logarithms of parameters, rows. */
type Covariance = readonly (readonly number[])[];

/** Half of the step of a logarithm over which a change with a property is taken. */
export const HALF_STEP = 0.01;

/** Change of each mode per unit of each parameter's logarithm, Hz, rows by mode. */
export function slopesOf(
  prepared: PreparedPlate,
  plate: PlateCase,
  modes: readonly PlateMode[],
  parameters: readonly Parameter[],
): number[][] {
  const columns = frequencyChanges(prepared, modes, unitSteps(plate, parameters)).map((changes) =>
    changes.map((change) => change / (2 * HALF_STEP)),
  );
  return modes.map((_, m) => columns.map((column) => column[m]!));
}

/** Spread of linear functions of the parameters (rows of slopes) from what the fit leaves open. */
export function frequencySigmas(
  slopes: readonly (readonly number[])[],
  { covariance }: { readonly covariance: Covariance },
): number[] {
  return slopes.map((row) =>
    Math.sqrt(
      Math.max(
        0,
        row.reduce((sum, a, p) => sum + row.reduce((inner, b, q) => inner + a * covariance[p]![q]! * b, 0), 0),
      ),
    ),
  );
}

/** What is open of the logarithms of properties before anything is fitted: their spreads, each by itself. */
const priorCovariance = (parameters: readonly Parameter[]): Covariance =>
  parameters.map(({ relativeSigma }, p) => parameters.map((_, q) => (p === q ? relativeSigma ** 2 : 0)));

/**
 * Frequencies with what is open of the properties and the error of the model, Hz. To first order: a frequency goes about
 * with the root of a property, which is straight enough over two sigma.
 * Source: JCGM 100:2008 (GUM), section 5.2.2; a Monte-Carlo over the properties in tests/forecast.
 */
export function computedEstimates(
  modes: readonly PlateMode[],
  slopes: readonly (readonly number[])[],
  covariance: Covariance,
  modelErrorShare = MODEL_ERROR_SHARE,
): readonly Estimate[] {
  const openHz = frequencySigmas(slopes, { covariance });
  return modes.map(({ frequencyHz }, m) =>
    estimate(frequencyHz, Math.hypot(modelErrorShare * frequencyHz, openHz[m]!)),
  );
}

/**
 * Frequencies of a plate as computed, Hz.
 * @param modes      of this case on this prepared plate
 * @param covariance of the logarithms of the parameters; as stated beforehand if none was fitted
 */
export const computedFrequencies = (
  prepared: PreparedPlate,
  plate: PlateCase,
  modes: readonly PlateMode[],
  parameters: readonly Parameter[],
  covariance = priorCovariance(parameters),
): readonly Estimate[] => computedEstimates(modes, slopesOf(prepared, plate, modes, parameters), covariance);

/** Mass of a plate, g, as far as the densities of plate and braces are known. */
export function computedMassG(prepared: PreparedPlate, plate: PlateCase, parameters: readonly Parameter[]): Estimate {
  const { totalG } = plateMass(prepared, woodOf(prepared, plate));
  const gramsPerLog = massSlopes(prepared, plate, parameters);
  return estimate(totalG, Math.hypot(...parameters.map(({ relativeSigma }, p) => relativeSigma * gramsPerLog[p]!)));
}

/** Change of the mass of a plate per unit of each parameter's logarithm, g. */
export function massSlopes(
  prepared: PreparedPlate,
  plate: PlateCase,
  parameters: readonly Parameter[],
): readonly number[] {
  const { plateG, partsG } = plateMass(prepared, woodOf(prepared, plate));
  const bracesG = partsG.reduce((sum, g, part) => sum + (prepared.mesh.footprints[part]!.kind === 'brace' ? g : 0), 0);
  return parameters.map(({ property }) =>
    property === 'plate density' ? plateG : property === 'brace density' ? bracesG : 0,
  );
}

/** Cases half a step above and below in each property. */
export const unitSteps = (plate: PlateCase, parameters: readonly Parameter[]): UpAndDown[] =>
  parameters.map((parameter) => {
    const [up, down] = [HALF_STEP, -HALF_STEP].map((log) => withFactors(plate, [parameter], [Math.exp(log)]));
    return [up!, down!];
  });

/** A case with its properties multiplied by factors. */
export function withFactors(plate: PlateCase, parameters: readonly Parameter[], factors: readonly number[]): PlateCase {
  return parameters.reduce((changed, { property }, p) => withFactor(changed, property, factors[p]!), plate);
}

function withFactor(plate: PlateCase, property: Property, factor: number): PlateCase {
  const braces = (change: (wood: WoodConstants) => WoodConstants): PlateCase => ({
    ...plate,
    ...(plate.braces && { braces: plate.braces.map((brace) => ({ ...brace, material: change(brace.material) })) }),
  });
  const { material } = plate;
  switch (property) {
    case 'plate eL':
      return { ...plate, material: { ...material, eL: material.eL * factor } };
    case 'plate eR':
      return { ...plate, material: { ...material, eR: material.eR * factor } };
    case 'plate gLR':
      return { ...plate, material: { ...material, gLR: material.gLR * factor } };
    case 'plate density':
      return { ...plate, material: { ...material, densityKgM3: material.densityKgM3 * factor } };
    case 'brace eL':
      return braces((wood) => ({ ...wood, eL: wood.eL * factor }));
    case 'brace gLR':
      return braces((wood) => ({ ...wood, gLR: wood.gLR * factor, gLT: wood.gLT * factor }));
    case 'brace density':
      return braces((wood) => ({ ...wood, densityKgM3: wood.densityKgM3 * factor }));
    case 'rim stiffness': {
      const { kind, pinnedAt, rotationalStiffnessN } = edgeSupportOf(plate);
      if (kind !== 'hinged') return plate;
      return { ...plate, edge: { kind, pinnedAt, rotationalStiffnessN: rotationalStiffnessN * factor } };
    }
  }
}
