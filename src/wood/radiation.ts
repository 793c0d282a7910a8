// The few numbers boards are compared by.

/** Speed of sound in a bar, m/s: sqrt(E / rho). Source: definition. */
export const soundSpeedMS = (modulusPa: number, densityKgM3: number): number => Math.sqrt(modulusPa / densityKgM3);

/** Radiation ratio c / rho, m^4/(kg s): how much of the motion becomes sound. Source: U. Wegst, Am. J. Bot. 93 (2006). */
export const radiationRatio = (modulusPa: number, densityKgM3: number): number =>
  soundSpeedMS(modulusPa, densityKgM3) / densityKgM3;

/** Modulus at which a wood of this density has a given radiation ratio, Pa: the lines of the comparison plot. */
export const modulusAtRadiationRatioPa = (ratio: number, densityKgM3: number): number => ratio ** 2 * densityKgM3 ** 3;
