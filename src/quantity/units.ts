// Conversions between the workshop's units and SI, done once. Pure numbers in, numbers out; text only where a maker
// types a length.

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

const NUMBER = String.raw`(?:\d+(?:[.,]\d+)?|[.,]\d+)`;
const INCHES = new RegExp(String.raw`^(?:(${NUMBER})|(?:(\d+)[ -])?(\d+)\/(\d+))\s*(?:"|″|in)?$`);
const MILLIMETRES = new RegExp(String.raw`^(${NUMBER})\s*(?:mm)?$`);

/**
 * Inches as a maker types them: `3/64`, `1 3/8`, `1-3/8`, `0.110`, with or without `"` or `in`.
 * @returns mm, or undefined where the text is no length (a view then marks the field; nothing is guessed)
 */
export function parseInchToMm(text: string): number | undefined {
  const match = INCHES.exec(text.trim());
  if (match === null) return undefined;
  const [, decimal, whole, numerator, denominator] = match;
  if (decimal !== undefined) return inchToMm(Number(decimal.replace(',', '.')));
  const below = Number(denominator);
  return below === 0 ? undefined : inchToMm(Number(whole ?? 0) + Number(numerator) / below);
}

/**
 * Millimetres as a maker types them: `2.8`, `2,8`, `2.8 mm`; anything that is written as inches is read as inches.
 * @returns mm, or undefined where the text is no length
 */
export function parseMm(text: string): number | undefined {
  const match = MILLIMETRES.exec(text.trim());
  if (match !== null) return Number(match[1]!.replace(',', '.'));
  return parseInchToMm(text);
}
