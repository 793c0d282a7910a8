// Conversions between the workshop's units and SI, done once. Pure numbers in, numbers out; lengths as text are in
// `lengths.ts`.

// Source of the exact factors: BIPM SI brochure (2019) and NIST SP 811 (2008) Appendix B: inch 25.4 mm, pound
// 0.453 592 37 kg, standard gravity 9.806 65 m/s^2 by definition; 1 oz = 1/16 lb; 1 lbf = 1 lb x standard gravity.
const MM_PER_INCH = 25.4;
const G_PER_OUNCE = 453.59237 / 16;
const N_PER_KGF = 9.80665;
const N_PER_LBF = 0.45359237 * N_PER_KGF;

/** Inches to millimetres, exact. Source: see the factors above. */
export const inchToMm = (inch: number): number => inch * MM_PER_INCH;
/** Millimetres to inches, exact. Source: see the factors above. */
export const mmToInch = (mm: number): number => mm / MM_PER_INCH;
/** Grams to kilograms. */
export const gToKg = (g: number): number => g / 1000;
/** Grams to avoirdupois ounces, exact. Source: see the factors above. */
export const gToOunce = (g: number): number => g / G_PER_OUNCE;
/** Avoirdupois ounces to grams, exact. Source: see the factors above. */
export const ounceToG = (ounce: number): number => ounce * G_PER_OUNCE;
/** Newtons to pounds-force, exact. Source: see the factors above. */
export const nToLbf = (n: number): number => n / N_PER_LBF;
/** The weight of so many kilograms under standard gravity, N, exact. Source: see the factors above. */
export const kgfToN = (kg: number): number => kg * N_PER_KGF;
/** Newtons to the kilograms whose weight they are, exact. Source: see the factors above. */
export const nToKgf = (n: number): number => n / N_PER_KGF;
/** Degrees Celsius to Fahrenheit, exact by definition. */
export const celsiusToFahrenheit = (tempC: number): number => (tempC * 9) / 5 + 32;
/** Degrees Fahrenheit to Celsius, exact by definition. */
export const fahrenheitToCelsius = (tempF: number): number => ((tempF - 32) * 5) / 9;
