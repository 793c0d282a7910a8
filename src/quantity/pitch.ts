// Frequencies as notes, for those who tap and listen.

/** A note of the equal-tempered scale and how far a frequency lies from it. */
export interface Note {
  /** C, C#, D .. B */
  readonly name: string;
  /** scientific octave number; middle C is C4 */
  readonly octave: number;
  /** deviation from the note, -50 to 50 */
  readonly cents: number;
}

const NAMES = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'] as const;
/** Standard tuning frequency of A4. Source: ISO 16:1975. */
const STANDARD_A4_HZ = 440;
/** Semitones of A4 above C0. */
const A4_STEP = 57;

/**
 * The nearest note of the equal-tempered scale: 12 log2(f / A4) semitones from A4.
 * @param frequencyHz > 0
 * @param a4Hz        tuning of A4, Hz; 440 by ISO 16:1975
 * @throws RangeError if a frequency is not positive and finite
 */
export function nearestNote(frequencyHz: number, a4Hz: number = STANDARD_A4_HZ): Note {
  for (const f of [frequencyHz, a4Hz]) {
    if (!(f > 0 && Number.isFinite(f))) throw new RangeError(`nearestNote: ${f} Hz, need a positive frequency`);
  }
  const steps = A4_STEP + 12 * Math.log2(frequencyHz / a4Hz);
  const step = Math.round(steps);
  return { name: NAMES[((step % 12) + 12) % 12]!, octave: Math.floor(step / 12), cents: 100 * (steps - step) };
}
