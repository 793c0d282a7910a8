// Numbers as text. The ± is made here and nowhere else: always the half width of the 95 % interval, with no more
// digits than it deserves (one or two, see decimalsFor).
import { type Estimate, HALF_WIDTH_95 } from '../../quantity/estimate.ts';

const nbsp = '\u00a0';

/** A number in the reader's own notation. */
export function number(value: number, decimals: number): string {
  // Rounds away a negative zero.
  const shown = Number(value.toFixed(decimals)) === 0 ? 0 : value;
  return new Intl.NumberFormat(undefined, {
    minimumFractionDigits: decimals,
    maximumFractionDigits: decimals,
    useGrouping: false,
  })
    .format(shown)
    .replace('-', '\u2212');
}

/**
 * Decimals that a value with this half width deserves: two significant digits of it where they begin with 100
 * to 354, else one.
 * Source: Particle Data Group, Review of Particle Physics, introduction, section 5.3 (rounding).
 */
function decimalsFor(halfWidth: number): number {
  if (!(halfWidth > 0)) return 2;
  const digits = Math.floor(Math.log10(halfWidth));
  const leading = halfWidth / 10 ** digits;
  const significant = leading < 3.545 ? 2 : 1;
  return Math.min(3, Math.max(0, significant - 1 - digits));
}

/** Value and half width as separate texts, so that a view can set them apart. */
export function parts(estimate: Estimate, mostDecimals = 3): { readonly value: string; readonly halfWidth: string } {
  const half = HALF_WIDTH_95 * estimate.sigma;
  const decimals = Math.min(mostDecimals, decimalsFor(half));
  // Rounded up: a shown interval is never narrower than the one that was found, and never nothing.
  const step = 10 ** -decimals;
  return { value: number(estimate.value, decimals), halfWidth: number(Math.ceil(half / step - 1e-9) * step, decimals) };
}

/** "184.6 ± 0.3 Hz". */
export function withHalfWidth(estimate: Estimate, unit: string, mostDecimals?: number): string {
  const { value, halfWidth } = parts(estimate, mostDecimals);
  return plusMinus(value, halfWidth, unit);
}

/** The same for a wish and what will do on either side of it. */
export const withTolerance = (wish: number, tolerance: number, decimals: number, unit: string): string =>
  plusMinus(number(wish, decimals), number(tolerance, decimals), unit);

const plusMinus = (value: string, half: string, unit: string): string =>
  `${value}${nbsp}±${nbsp}${half}${unit === '' ? '' : nbsp}${unit}`;

/** The same with its sign, for moves. */
export function signed(estimate: Estimate, unit: string): string {
  return `${estimate.value > 0 ? '+' : ''}${withHalfWidth(estimate, unit)}`;
}

/** A number with its sign: "+4", "−12", "0". */
export const signedNumber = (value: number, decimals: number): string =>
  `${value > 0 ? '+' : ''}${number(value, decimals)}`;

/** Cents with their sign. */
export const cents = (value: number): string => signedNumber(Math.round(value), 0);

// Notations are made once, and when first wanted: making one takes longer than a hundred dates written in it.
let moments: Intl.DateTimeFormat | undefined;
let days: Intl.DateTimeFormat | undefined;

/** "25 Nov 2026, 08:10" in the reader's own notation. */
export function moment(iso: string): string {
  moments ??= new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'short' });
  return moments.format(new Date(iso));
}

/** "25 Nov 2026" in the reader's own notation. */
export function day(iso: string): string {
  days ??= new Intl.DateTimeFormat(undefined, { dateStyle: 'medium' });
  return days.format(new Date(iso));
}
