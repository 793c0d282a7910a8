// Frequencies as notes of the equal-tempered scale.
import { type Estimate, HALF_WIDTH_95 } from './estimate.ts';

/** A note with how far a frequency lies from it. */
export interface NearestNote {
  /** letter with a sharp where the note has one */
  readonly name: string;
  /** scientific octave: A4 is the pitch reference, C4 the C below it */
  readonly octave: number;
  /** from the note to the frequency, -50 to 50 */
  readonly cents: number;
}

const names = ['C', 'C♯', 'D', 'D♯', 'E', 'F', 'F♯', 'G', 'G♯', 'A', 'A♯', 'B'] as const;
/** Semitones from C0 to A4. */
const a4FromC0 = 57;

/**
 * The note nearest to a frequency.
 * @param frequencyHz > 0
 * @param a4Hz        pitch reference; 440 in ISO 16:1975
 * @throws RangeError if either is not above zero
 * Source: ISO 16:1975 (A4 = 440 Hz); equal temperament, twelve semitones of 100 cents to the octave.
 */
export function nearestNote(frequencyHz: number, a4Hz: number): NearestNote {
  if (!(frequencyHz > 0 && a4Hz > 0))
    throw new RangeError(`nearestNote: ${frequencyHz} Hz at A4 = ${a4Hz} Hz, need both above 0`);
  const semitones = a4FromC0 + 12 * Math.log2(frequencyHz / a4Hz);
  const note = Math.round(semitones);
  return { name: names[((note % 12) + 12) % 12]!, octave: Math.floor(note / 12), cents: 100 * (semitones - note) };
}

/**
 * Whether a frequency is known to its note: the 95 % interval is less than a semitone wide. Above that a figure would
 * say less than an ear does. No source.
 */
export const isNoteKnown = ({ value, sigma }: Estimate): boolean => HALF_WIDTH_95 * sigma < (2 ** (1 / 24) - 1) * value;
