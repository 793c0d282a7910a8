// Water in wood: what it settles to in a room, how the wood swells and stiffens with it, and what temperature adds.
import { type Estimate, estimate } from '../quantity/estimate.ts';

/** Air as a hygrometer and thermometer give it. */
export interface Climate {
  readonly tempC: number;
  /** relative humidity, %, 0 to 100 */
  readonly humidityPercent: number;
}

/** What the equilibrium formula is worth, % moisture, one sigma. Source: FPL-GTR-229 (Glass et al. 2014): about ±1 %. */
export const EMC_SIGMA_PERCENT = 1;

/** Above this nothing shrinks or stiffens further, % moisture. Source: FPL-GTR-282 ch. 4, fibre saturation 30. */
const SATURATION_PERCENT = 30;

function needClimate(name: string, { tempC, humidityPercent }: Climate): void {
  if (!(humidityPercent >= 0 && humidityPercent <= 99.9)) {
    throw new RangeError(`${name}: humidityPercent ${humidityPercent}, need 0 to 99.9`);
  }
  if (!(tempC >= -10 && tempC <= 100)) throw new RangeError(`${name}: tempC ${tempC}, need -10 to 100`);
}

/**
 * Moisture the wood comes to rest at, % of ovendry mass.
 * @param climate tempC -10 to 100, humidityPercent 0 to 99.9
 * @returns per cent; see EMC_SIGMA_PERCENT for what it is worth
 * @throws RangeError outside those ranges
 * Source: FPL-GTR-282 (2021) eq. 4-5 with its Celsius coefficients.
 */
export function equilibriumMoisturePercent(climate: Climate): number {
  needClimate('equilibriumMoisturePercent', climate);
  const t = climate.tempC;
  const h = climate.humidityPercent / 100;
  const w = 349 + 1.29 * t + 0.0135 * t * t;
  const k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
  const k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
  const k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
  const kh = k * h;
  const free = kh / (1 - kh);
  const bound = (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh);
  return (1800 / w) * (free + bound);
}

/** Change of equilibrium moisture per 1 %RH, %. Source: central difference of eq. 4-5. */
export function moistureSlope(climate: Climate): number {
  const low = Math.max(climate.humidityPercent - 0.5, 0);
  const high = Math.min(climate.humidityPercent + 0.5, 99.9);
  const at = (humidityPercent: number) => equilibriumMoisturePercent({ ...climate, humidityPercent });
  return (at(high) - at(low)) / (high - low);
}

/**
 * Equilibrium moisture of a reading, with the hygrometer's spread and the formula's own.
 * @param humidityPercent one sigma of the hygrometer with it
 */
export function moistureOf(humidityPercent: Estimate, tempC: number): Estimate {
  const climate = { tempC, humidityPercent: Math.min(Math.max(humidityPercent.value, 0), 99.9) };
  const spread = moistureSlope(climate) * humidityPercent.sigma;
  return estimate(equilibriumMoisturePercent(climate), Math.hypot(spread, EMC_SIGMA_PERCENT));
}

/**
 * Dimensional change coefficient, relative change of width per 1 % moisture between 6 and 14 %.
 * Source: FPL-GTR-282 Table 13-5, all rows reproduced by (S/100)/30 / (1 - (S/100)(20/30)) (our derivation: referred to
 * the width at 10 %).
 */
export function widthChangePerPercent(fullPercent: number): number {
  const s = fullPercent / 100;
  return s / SATURATION_PERCENT / (1 - (s * 20) / 30);
}

/**
 * How much wider (or narrower) a board becomes.
 * @param widthMm             width at the first moisture, mm
 * @param fullShrinkagePercent radial for quartersawn, tangential for flatsawn
 * @returns mm, positive for growth
 * Source: FPL-GTR-282 eq. 13-2: change = D C (M_F - M_I).
 */
export function widthMovementMm(
  widthMm: number,
  fullShrinkagePercent: number,
  fromMoisturePercent: number,
  toMoisturePercent: number,
): number {
  return widthMm * widthChangePerPercent(fullShrinkagePercent) * (toMoisturePercent - fromMoisturePercent);
}

/** Which way the wood bends in a mode: along the grain, across, or both. */
export type GrainDirection = 'long' | 'cross' | 'plate';

/**
 * Relative change of a modulus per 1 % moisture near 9 %, with its spread from wood to wood.
 * Source: long, eq. 5-3 with the green and dry moduli of Sitka spruce, Engelmann spruce and sugar maple: -1.3 to -1.8 %;
 * cross, -2.5 % (FPL-GTR-282 ch. 5, from memory; Kretschmann & Green 1996), wide; plate: the mean of both.
 */
export const MODULUS_PER_PERCENT: Readonly<Record<GrainDirection, Estimate>> = {
  long: { value: -0.015, sigma: 0.004 },
  cross: { value: -0.025, sigma: 0.01 },
  plate: { value: -0.02, sigma: 0.008 },
};

/**
 * The same modulus after its moisture changed, compounding per per cent, so that there and back is no change.
 * @param byPercent moisture after minus before, %, near 9 % (6 to 14)
 * @returns in the unit of the modulus, sigma with the spread of the law
 */
export function modulusAfter(modulus: Estimate, direction: GrainDirection, byPercent: number): Estimate {
  const perPercent = MODULUS_PER_PERCENT[direction];
  const value = modulus.value * (1 + perPercent.value) ** byPercent;
  const ofLaw = (byPercent * perPercent.sigma) / (1 + perPercent.value);
  return estimate(value, Math.abs(value) * Math.hypot(modulus.sigma / modulus.value, ofLaw));
}

/**
 * Relative change of a modulus per degree C near 20 C at 12 % moisture.
 * Source: FPL-GTR-282 Table 5-15: along, +17 % at -50 C and -7 % at +50 C; across, -35 % at +50 C.
 */
export const MODULUS_PER_DEGREE: Readonly<Record<GrainDirection, Estimate>> = {
  long: { value: -0.0024, sigma: 0.0006 },
  cross: { value: -0.0117, sigma: 0.004 },
  plate: { value: -0.005, sigma: 0.003 },
};

/**
 * Relative change of mass per 1 % moisture: water adds to ovendry mass.
 * Source: m = m0 (1 + M/100); at 9 %: 0.01 / 1.09.
 */
export function massPerPercent(moisturePercent: number): number {
  return 0.01 / (1 + moisturePercent / 100);
}

/** Volumetric shrinkage per basic specific gravity, as a share. Source: FPL-GTR-282 ch. 4, the mean over all woods. */
const SHRINKAGE_PER_GRAVITY = 0.265;

/**
 * Density of the same wood at another moisture, kg/m^3: the water's mass and the swelling both counted.
 * @param densityKgM3 at the first moisture, > 0
 * @param fromPercent first moisture, % of ovendry mass
 * @param toPercent   the other one
 * Source: FPL-GTR-282 ch. 4: rho = 1000 G (1 + M/100), G = Gb / [1 - 0.265 Gb (1 - M/30)], solved for the basic gravity Gb
 * at the first moisture.
 */
export function densityAtMoisture(densityKgM3: number, fromPercent: number, toPercent: number): number {
  const drying = (moisture: number) =>
    SHRINKAGE_PER_GRAVITY * (1 - Math.min(moisture, SATURATION_PERCENT) / SATURATION_PERCENT);
  const gravity = densityKgM3 / (1000 * (1 + fromPercent / 100));
  const basic = gravity / (1 + gravity * drying(fromPercent));
  return ((1000 * basic) / (1 - basic * drying(toPercent))) * (1 + toPercent / 100);
}
