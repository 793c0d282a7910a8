// The inside outline of a body from four measures of the ruler, for its air volume and plan area.

/** What a ruler reads across a body, inside, m, all > 0. */
export interface BodyMeasures {
  readonly lengthM: number;
  readonly lowerBoutM: number;
  readonly waistM: number;
  readonly upperBoutM: number;
}

/** Where bouts and waist lie along the body, as shares of its length from the tail. Common practice, no source. */
const LOWER_AT = 0.28;
const WAIST_AT = 0.6;
const UPPER_AT = 0.83;
/** Exponents of the rounded ends: 2 is an ellipse; the shoulders are squarer. Common practice, no source. */
const TAIL_POWER = 2.3;
const NECK_POWER = 2.6;
const STATIONS = 120;

/**
 * Closed outline through the measures: superellipses at the ends, half cosines between bouts and waist, smooth throughout.
 * @returns [x, y] in m, (n,); x from the tail to the neck, y = 0 on the centre line; its area is within a few per cent of a
 *          traced one
 * @throws RangeError if a measure is not > 0
 * Source: superellipse: Lamé 1818; that four measures give the area: our derivation, see tests/box/body-outline.test.ts.
 */
export function outlineOfMeasures(measures: BodyMeasures): readonly (readonly [number, number])[] {
  const { lengthM, lowerBoutM, waistM, upperBoutM } = measures;
  if (!(lengthM > 0 && lowerBoutM > 0 && waistM > 0 && upperBoutM > 0))
    throw new RangeError(`outlineOfMeasures: ${JSON.stringify(measures)}, need > 0`);
  const half = (share: number): number => {
    if (share < LOWER_AT) return (lowerBoutM / 2) * rounded(1 - share / LOWER_AT, TAIL_POWER);
    if (share < WAIST_AT) return (lowerBoutM + (waistM - lowerBoutM) * eased(share, LOWER_AT, WAIST_AT)) / 2;
    if (share < UPPER_AT) return (waistM + (upperBoutM - waistM) * eased(share, WAIST_AT, UPPER_AT)) / 2;
    return (upperBoutM / 2) * rounded((share - UPPER_AT) / (1 - UPPER_AT), NECK_POWER);
  };
  // stations crowd toward the ends, where the outline turns
  const shares = Array.from({ length: STATIONS + 1 }, (_, i) => (1 - Math.cos((Math.PI * i) / STATIONS)) / 2);
  const side = (sign: 1 | -1) => shares.map((share) => [share * lengthM, sign * half(share)] as const);
  return [...side(1), ...side(-1).reverse().slice(1, -1)];
}

/** Superellipse: 1 at t = 0, 0 at t = 1. */
function rounded(t: number, power: number): number {
  return Math.max(0, 1 - Math.min(t, 1) ** power) ** (1 / power);
}

/** 0 at `from`, 1 at `to`, level at both. */
function eased(share: number, from: number, to: number): number {
  return (1 - Math.cos((Math.PI * (share - from)) / (to - from))) / 2;
}
