// Lengths as text: how inches are written and how lengths are typed, done once.
import { inchToMm, mmToInch } from './units.ts';

/**
 * How a length reads in inches: off a rule that is divided to 1/64 in, or with so many decimals, as a caliper shows it.
 * Common practice, no source.
 */
export type InchReading = 'rule' | 3 | 4;

const PARTS_OF_INCH = 64;
/** From here on a rule is read; below it a 64th is too coarse, and the caliper's thousandths are read. Common practice, no source. */
const RULED_FROM_INCH = 0.5;
/** A length below that is written as a fraction where it is one to within a thousandth. */
const IS_THAT_FRACTION_INCH = 0.001;
const nbsp = '\u00a0';

/**
 * A length in inches, without its unit: "15 9/32" off a rule, "0.110" in thousandths.
 * @param mm      length, mm
 * @param reading off a rule, or the decimals
 * @param decimal how a decimal number is written; with a point where nothing is given
 */
export function inchText(
  mm: number,
  reading: InchReading,
  decimal: (value: number, decimals: number) => string = (value, decimals) => value.toFixed(decimals),
): string {
  const inch = mmToInch(mm);
  if (reading !== 'rule') return decimal(inch, reading);
  const size = Math.abs(inch);
  const parts = Math.round(size * PARTS_OF_INCH);
  if (size < RULED_FROM_INCH && Math.abs(size - parts / PARTS_OF_INCH) > IS_THAT_FRACTION_INCH) return decimal(inch, 3);
  const whole = Math.floor(parts / PARTS_OF_INCH);
  const written = [...(whole === 0 ? [] : [String(whole)]), ...fraction(parts % PARTS_OF_INCH)].join(nbsp);
  return written === '' ? '0' : `${inch < 0 ? '\u2212' : ''}${written}`;
}

/** 64ths in lowest terms; none where there is nothing to write. */
function fraction(parts: number): readonly string[] {
  if (parts === 0) return [];
  // The largest power of two that divides both: 64 is one.
  const shared = Math.min(PARTS_OF_INCH, parts & -parts);
  return [`${parts / shared}/${PARTS_OF_INCH / shared}`];
}

const NUMBER = String.raw`(?:\d+(?:[.,]\d*)?|[.,]\d+)`;
const INCHES = new RegExp(
  String.raw`^(?:(${NUMBER})|(?:(\d+)(?: |-| - ))?(\d+) ?\/ ?(\d+))(?: ?(?:"|”|''|′′|in\.?|inch(?:es)?))?$`,
);
const MILLIMETRES = new RegExp(`^(${NUMBER})(?: ?mm)?$`);

/** One kind of space, one kind of stroke, and signs such as ½ and ″ written out. */
const plainly = (text: string): string =>
  text
    .replace(/(\d)\s*([\u00bc-\u00be\u2150-\u215e])/g, '$1 $2')
    .normalize('NFKC')
    .replaceAll('\u2044', '/')
    .replaceAll(/\s+/g, ' ')
    .trim();

const numberIn = (text: string): number => Number(text.replace(',', '.'));

/**
 * Inches as a maker types them: `3/64`, `1 3/8`, `1-3/8`, `1½`, `0.110`, with or without `"` or `in`.
 * @returns mm, or undefined where the text is no length (a view then marks the field; nothing is guessed)
 */
export function parseInchToMm(text: string): number | undefined {
  const match = INCHES.exec(plainly(text));
  if (match === null) return undefined;
  const [, decimal, whole, numerator, denominator] = match;
  if (decimal !== undefined) return inchToMm(numberIn(decimal));
  const below = Number(denominator);
  return below === 0 ? undefined : inchToMm(Number(whole ?? 0) + Number(numerator) / below);
}

/**
 * Millimetres as a maker types them: `2.8`, `2,8`, `2.8 mm`; anything that is written as inches is read as inches.
 * @returns mm, or undefined where the text is no length
 */
export function parseMm(text: string): number | undefined {
  const match = MILLIMETRES.exec(plainly(text));
  return match === null ? parseInchToMm(text) : numberIn(match[1]!);
}

/**
 * A length as a maker who reads inches types it: inches, unless `mm` stands behind it.
 * @returns mm, or undefined where the text is no length
 */
export const parseInch = (text: string): number | undefined =>
  /mm\s*$/.test(text) ? parseMm(text) : parseInchToMm(text);
