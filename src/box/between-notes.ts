// Where a mode lies between the notes that can be played: on a note it is loud and short, midway it does least harm.
// Common practice, and not every maker's.
import { type Estimate, estimate } from '../quantity/estimate.ts';
import { noteHz, type Tuning } from '../strings/tuning.ts';

/** The playable note nearest to a mode on one string. */
export interface NotePlace {
  /** 0 for the 1st string */
  readonly string: number;
  /** 0 for the open string */
  readonly fret: number;
  /** note number, 69 for A4 */
  readonly note: number;
  /** mode above (+) or below the note, cents */
  readonly cents: Estimate;
  /** `near`: within the warning distance; `perhaps`: its uncertainty reaches in; `clear`: two sigma outside */
  readonly warning: 'near' | 'perhaps' | 'clear';
}

/**
 * The nearest note to a mode on each string of a tuning.
 * cents = 1200 log2(f / f_note).
 * @param frequencyHz  the mode, Hz, > 0
 * @param a4Hz         tuning pitch, Hz, > 0
 * @param frets        frets on the neck, >= 0
 * @param warningCents distance within which to warn, cents, 0 to 50. Common practice, no source
 * @returns (strings,), 1st string first; a mode below the open string or above the last fret is far from it and `clear`
 * @throws RangeError if a value is out of range
 * Source: definition of the cent, Ellis 1885.
 */
export function placeBetweenNotes(
  frequencyHz: Estimate,
  a4Hz: number,
  tuning: Tuning,
  frets: number,
  warningCents: number,
): readonly NotePlace[] {
  if (!(frequencyHz.value > 0)) throw new RangeError(`placeBetweenNotes: ${frequencyHz.value} Hz, need > 0`);
  if (!(frets >= 0)) throw new RangeError(`placeBetweenNotes: ${frets} frets, need >= 0`);
  if (!(warningCents >= 0 && warningCents <= 50))
    throw new RangeError(`placeBetweenNotes: warning within ${warningCents} cents, need 0 to 50`);
  const sigma = (1200 / Math.LN2) * (frequencyHz.sigma / frequencyHz.value);
  return tuning.openNotes.map((open, string) => {
    const aboveOpen = 12 * Math.log2(frequencyHz.value / noteHz(open, a4Hz));
    const fret = Math.min(Math.max(Math.round(aboveOpen), 0), frets);
    const cents = 100 * (aboveOpen - fret);
    const distance = Math.abs(cents) - warningCents;
    return {
      string,
      fret,
      note: open + fret,
      cents: estimate(cents, sigma),
      warning: distance <= 0 ? 'near' : distance <= 2 * sigma ? 'perhaps' : 'clear',
    };
  });
}
