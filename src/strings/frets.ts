// Where the frets and the saddle go.
import { type Estimate, estimate } from '../quantity/estimate.ts';

/**
 * Distances from the nut to each fret, mm: x_n = L (1 - 2^(-n / 12)).
 * @param scaleMm scale length (nut to saddle without compensation), mm, > 0
 * @param frets   how many, >= 1
 * @returns (frets,)
 * Source: equal temperament; Byers 1995, Classical guitar intonation, American Lutherie 47, uses the same.
 */
export function fretPositionsMm(scaleMm: number, frets: number): readonly number[] {
  if (!(scaleMm > 0)) throw new RangeError(`fretPositionsMm: scale ${scaleMm} mm, need > 0`);
  if (!(Number.isInteger(frets) && frets >= 1)) throw new RangeError(`fretPositionsMm: ${frets} frets, need 1 or more`);
  return Array.from({ length: frets }, (_, i) => scaleMm * (1 - 2 ** (-(i + 1) / 12)));
}

/**
 * The same by the old rule of eighteen, found on old instruments: each fret at 1/18 of what is left, mm.
 * Source: Galilei 1581, Dialogo della musica antica et della moderna (17:18).
 */
export function ruleOfEighteenMm(scaleMm: number, frets: number): readonly number[] {
  return Array.from({ length: frets }, (_, i) => scaleMm * (1 - (17 / 18) ** (i + 1)));
}

/** What sets how sharp a string sounds when fretted. */
export interface FrettedString {
  readonly scaleMm: number;
  /** string above the 12th fret, mm, >= 0 */
  readonly action12Mm: number;
  readonly tensionN: number;
  /** what carries the load and bends: the whole of a plain string, the core of a wound one, mm, > 0 */
  readonly coreDiameterMm: number;
  /** Young's modulus of that, GPa, > 0: steel about 200, nylon about 4 (from memory) */
  readonly eGpa: number;
}

/**
 * How far behind the scale length the saddle must stand for a true octave at the 12th fret, mm.
 * Pressing a string down by h at the middle lengthens it by 2 h² / L and raises the tension by E A 2 h² / L²; a stiff string
 * sounds as if shortened by sqrt(E I / T) at each end. True octave: setback = L E A h² / (T L²) + 2 sqrt(E I / T).
 * @returns mm; 25 % for the fret's dip, the friction at the nut and cores that are not round
 * Source: our derivation after the two causes named in Byers 1995, American Lutherie 47; end shortening: Fletcher 1964,
 * J. Acoust. Soc. Am. 36:203 (clamped stiff string).
 */
export function saddleSetbackMm(string: FrettedString): Estimate {
  const { scaleMm, action12Mm, tensionN, coreDiameterMm, eGpa } = string;
  if (!(scaleMm > 0 && action12Mm >= 0 && tensionN > 0 && coreDiameterMm > 0 && eGpa > 0))
    throw new RangeError(`saddleSetbackMm: ${JSON.stringify(string)}, need > 0`);
  const eNPerMm2 = 1000 * eGpa;
  const area = (Math.PI * coreDiameterMm ** 2) / 4;
  const inertia = (Math.PI * coreDiameterMm ** 4) / 64;
  const stretch = (eNPerMm2 * area * action12Mm ** 2) / (tensionN * scaleMm);
  const stiffness = 2 * Math.sqrt((eNPerMm2 * inertia) / tensionN);
  return estimate(stretch + stiffness, 0.25 * (stretch + stiffness));
}
