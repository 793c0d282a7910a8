// The same wood in other air: what a change of humidity and temperature does to a mode, and a measurement carried to a
// reference climate with the doubt of doing so.
import { type Estimate, estimate } from '../quantity/estimate.ts';
import {
  type Climate,
  densityAtMoisture,
  equilibriumMoisturePercent,
  type GrainDirection,
  MODULUS_PER_DEGREE,
  MODULUS_PER_PERCENT,
  massPerPercent,
  moistureSlope,
} from './moisture.ts';

/** The climate instruments are compared in. Source: 20 C and 50 %RH, the project's reference; ours. */
export const REFERENCE_CLIMATE: Climate = { tempC: 20, humidityPercent: 50 };

/** A hygrometer's one sigma, %RH. Source: common practice, no source: two hygrometers side by side differ by 3 to 5. */
export const HYGROMETER_SIGMA = 3;

/**
 * Relative growth per 1 % moisture of a quartersawn softwood board: along the grain, across (radial), through the
 * thickness (tangential). Source: FPL-GTR-282 Table 13-5 for spruces; along, 0.1 to 0.2 % green to ovendry in all.
 */
const SWELLING = { along: 0.00005, across: 0.0015, thickness: 0.0026 };

/**
 * Relative change of frequency by growth alone, per 1 % moisture at fixed mass: f^2 ~ E h^3 x (other side) / (bent side)^3.
 * Source: our derivation from f^2 = E h^3 / (side^4 x mass per area).
 */
const GEOMETRY: Readonly<Record<GrainDirection, number>> = {
  long: (3 * SWELLING.thickness - 3 * SWELLING.along + SWELLING.across) / 2,
  cross: (3 * SWELLING.thickness - 3 * SWELLING.across + SWELLING.along) / 2,
  plate: (3 * SWELLING.thickness - SWELLING.along - SWELLING.across) / 2,
};

/**
 * Doubt of a *change* of equilibrium moisture, relative: the formula's ±1 % is mostly a shift common to both airs.
 * Source: ours; 1 % in about 10 %.
 */
const FORMULA_SLOPE_SPREAD = 0.1;

/** What a change of air does to a mode. */
export interface ClimateEffect {
  readonly moistureChangePercent: number;
  readonly moistureChangeSigma: number;
  /** relative change of mass, modulus and frequency */
  readonly massRatio: Estimate;
  readonly modulusRatio: Estimate;
  readonly frequencyRatio: Estimate;
}

/**
 * How the wood changes from one air to another, once at rest in it.
 * @param direction which way the mode bends the wood
 * @param hygrometerSigma what the reading of `from` is worth, %RH; its repeatability alone where two readings of one
 *                        hygrometer are to be compared, since its offset is then in both
 * @returns moisture change, and relative changes with one sigma: hygrometer, slope of the formula, and the spread of each
 *          coefficient from wood to wood
 * Source: our derivation from FPL-GTR-282 chapters 4 and 5: stiffness and mass alone give about -1.2 % in f per +1 %
 * moisture along the grain, of which the swelling of the thickness gives 0.5 % back.
 */
export function climateEffect(
  from: Climate,
  to: Climate,
  direction: GrainDirection,
  hygrometerSigma = HYGROMETER_SIGMA,
): ClimateEffect {
  const before = equilibriumMoisturePercent(from);
  const after = equilibriumMoisturePercent(to);
  const change = after - before;
  const degrees = to.tempC - from.tempC;
  const slope = moistureSlope(from);
  const changeSigma = Math.hypot(slope * hygrometerSigma, FORMULA_SLOPE_SPREAD * change);
  const perPercent = MODULUS_PER_PERCENT[direction];
  const perDegree = MODULUS_PER_DEGREE[direction];
  const modulus = perPercent.value * change + perDegree.value * degrees;
  const modulusDoubt = Math.hypot(perPercent.sigma * change, perDegree.sigma * degrees);
  const mass = massPerPercent((before + after) / 2);
  const frequencyPerPercent = (perPercent.value - mass) / 2 + GEOMETRY[direction];
  const frequency = frequencyPerPercent * change + (perDegree.value * degrees) / 2;
  return {
    moistureChangePercent: change,
    moistureChangeSigma: changeSigma,
    massRatio: estimate(1 + mass * change, mass * changeSigma),
    modulusRatio: estimate(1 + modulus, Math.hypot(modulusDoubt, perPercent.value * changeSigma)),
    frequencyRatio: estimate(1 + frequency, Math.hypot(modulusDoubt / 2, frequencyPerPercent * changeSigma)),
  };
}

/**
 * What a mode measured in one air would sound in the reference air.
 * @param frequencyHz measured, one sigma
 * @param climate     the air it was measured in, the wood at rest in it
 * @param direction   which way the mode bends the wood
 * @param reference   the air wanted
 * @param hygrometerSigma see climateEffect
 * @returns the corrected frequency; sigma holds the measurement and the doubt of correcting
 * Source: see climateEffect.
 */
export function toReferenceClimate(
  frequencyHz: Estimate,
  climate: Climate,
  direction: GrainDirection,
  reference: Climate = REFERENCE_CLIMATE,
  hygrometerSigma = HYGROMETER_SIGMA,
): Estimate {
  const { frequencyRatio } = climateEffect(climate, reference, direction, hygrometerSigma);
  const value = frequencyHz.value * frequencyRatio.value;
  return estimate(
    value,
    Math.hypot(frequencyHz.sigma * frequencyRatio.value, frequencyHz.value * frequencyRatio.sigma),
  );
}

/** How far one wood's volumetric shrinkage lies from the handbook's mean relation, relative. Source: ours; Table 4-3. */
const SWELLING_SPREAD = 0.25;

/**
 * Density the same board has in the reference air.
 * @param densityKgM3 measured, one sigma
 * @returns kg/m^3; sigma holds the measurement, the change of moisture, and the spread of swelling from wood to wood
 * Source: densityAtMoisture; first order in each doubt.
 */
export function densityAtReference(
  densityKgM3: Estimate,
  climate: Climate,
  reference: Climate = REFERENCE_CLIMATE,
  hygrometerSigma = HYGROMETER_SIGMA,
): Estimate {
  const from = equilibriumMoisturePercent(climate);
  const effect = climateEffect(climate, reference, 'long', hygrometerSigma);
  const { moistureChangePercent: change, moistureChangeSigma, massRatio } = effect;
  const value = densityAtMoisture(densityKgM3.value, from, from + change);
  const ratio = value / densityKgM3.value;
  const nextPercent = densityAtMoisture(densityKgM3.value, from, from + 1) / densityKgM3.value - 1;
  const perPercent = change === 0 ? nextPercent : (ratio - 1) / change;
  const swelling = massRatio.value / ratio - 1;
  return estimate(
    value,
    Math.hypot(ratio * densityKgM3.sigma, value * perPercent * moistureChangeSigma, value * swelling * SWELLING_SPREAD),
  );
}
