// Air: the spring in the box and the plug in the soundhole. Everything the box model needs of the weather is the speed of
// sound and the density; both come from the two readings on the workshop wall.

/** The workshop's air as read from its instruments. */
export interface Weather {
  /** air temperature, °C, 0 to 40 */
  readonly tempC: number;
  /** relative humidity, %, 0 to 100 */
  readonly humidityPercent: number;
  /** air pressure at the bench (not reduced to sea level), Pa, 60 000 to 110 000 */
  readonly pressurePa: number;
}

/** What the box model needs to know of the air. */
export interface Air {
  /** m/s, > 0 */
  readonly soundSpeedMPerS: number;
  /** kg/m³, > 0 */
  readonly densityKgM3: number;
}

/** Standard atmosphere at sea level, Pa. Source: ISO 2533:1975. */
export const STANDARD_PRESSURE_PA = 101_325;

const ICE_POINT_K = 273.15;
/** Mole fraction of carbon dioxide assumed throughout. Source: Picard et al. 2008, section 2. */
const CARBON_DIOXIDE = 0.0004;

/**
 * Pressure of water vapour at saturation over water, Pa.
 * Source: Picard, Davis, Gläser, Fujii 2008, Metrologia 45:149 (CIPM-2007), equation A1.1.
 */
function saturationPressurePa(tempC: number): number {
  const t = tempC + ICE_POINT_K;
  return Math.exp(1.2378847e-5 * t * t - 1.9121316e-2 * t + 33.93711047 - 6.3431645e3 / t);
}

/** Mole fraction of water vapour. Source: Picard et al. 2008 (CIPM-2007), equations A1.2 and A1.3. */
function vapourFraction({ tempC, humidityPercent, pressurePa }: Weather): number {
  const enhancement = 1.00062 + 3.14e-8 * pressurePa + 5.6e-7 * tempC * tempC;
  return ((humidityPercent / 100) * enhancement * saturationPressurePa(tempC)) / pressurePa;
}

/**
 * Speed of sound in humid air, m/s; the fit is good to about 0.3 m/s between 0 and 30 °C, 75 to 102 kPa. From 30 % to 60 %
 * humidity it rises by 0.1 %.
 * @throws RangeError if the weather lies outside the ranges of `Weather`
 * Source: Cramer 1993, J. Acoust. Soc. Am. 93:2510, equation 15 and table III; vapour fraction as in CIPM-2007.
 */
export function soundSpeed(weather: Weather): number {
  checkWeather('soundSpeed', weather);
  const { tempC: t, pressurePa: p } = weather;
  const w = vapourFraction(weather);
  const c = CARBON_DIOXIDE;
  return (
    331.5024 +
    0.603055 * t -
    0.000528 * t * t +
    (51.471935 + 0.1495874 * t - 0.000782 * t * t) * w +
    (-1.82e-7 + 3.73e-8 * t - 2.93e-10 * t * t) * p +
    (-85.20931 - 0.228525 * t + 5.91e-5 * t * t) * c -
    2.835149 * w * w -
    2.15e-13 * p * p +
    29.179762 * c * c +
    0.000486 * w * p * c
  );
}

/**
 * Density of humid air, kg/m³, good to 0.01 % between 15 and 27 °C and close beyond.
 * rho = p M_a / (Z R T) [1 - w (1 - M_v / M_a)].
 * @throws RangeError if the weather lies outside the ranges of `Weather`
 * Source: Picard, Davis, Gläser, Fujii 2008, Metrologia 45:149 (CIPM-2007), equation 1 and appendix A.
 */
export function airDensity(weather: Weather): number {
  checkWeather('airDensity', weather);
  const { tempC: t, pressurePa: p } = weather;
  const kelvin = t + ICE_POINT_K;
  const w = vapourFraction(weather);
  const compressibility =
    1 -
    (p / kelvin) *
      (1.58123e-6 -
        2.9331e-8 * t +
        1.1043e-10 * t * t +
        (5.707e-6 - 2.051e-8 * t) * w +
        (1.9898e-4 - 2.376e-6 * t) * w * w) +
    (p / kelvin) ** 2 * (1.83e-11 - 0.765e-8 * w * w);
  const gasConstant = 8.314472;
  const dryKgPerMol = 28.96546e-3;
  const vapourKgPerMol = 18.01528e-3;
  return ((p * dryKgPerMol) / (compressibility * gasConstant * kelvin)) * (1 - w * (1 - vapourKgPerMol / dryKgPerMol));
}

/** The air of the box model for this weather. */
export function airIn(weather: Weather): Air {
  return { soundSpeedMPerS: soundSpeed(weather), densityKgM3: airDensity(weather) };
}

function checkWeather(caller: string, { tempC, humidityPercent, pressurePa }: Weather): void {
  if (!(tempC >= 0 && tempC <= 40)) throw new RangeError(`${caller}: ${tempC} °C, need 0 to 40`);
  if (!(humidityPercent >= 0 && humidityPercent <= 100))
    throw new RangeError(`${caller}: ${humidityPercent} % humidity, need 0 to 100`);
  if (!(pressurePa >= 60_000 && pressurePa <= 110_000))
    throw new RangeError(`${caller}: ${pressurePa} Pa, need 60000 to 110000`);
}
