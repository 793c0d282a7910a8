// Strings: what they are tuned to, what they weigh, how hard they pull and where on the box.

/** Note numbers of the open strings, from the highest sounding course to the lowest as strung; 69 is A4. */
export interface Tuning {
  readonly name: string;
  /** (strings,), 1st string first */
  readonly openNotes: readonly number[];
}

/** Note number of A4. Source: MIDI 1.0 specification, note numbers; A4 = 440 Hz: ISO 16:1975. */
const A4_NOTE = 69;

const SEMITONES: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/**
 * Note number of a written note, 69 for A4.
 * @param text letter, then # or b or ♯ or ♭ or nothing, then the octave: 'F#2', 'Bb3'
 * @returns undefined if it is not a note
 */
export function noteNumber(text: string): number | undefined {
  const [, letter, accidental, octave] = /^([A-Ga-g])([#b♯♭]?)(-?\d)$/.exec(text.trim()) ?? [];
  if (letter === undefined || octave === undefined) return undefined;
  const shift = accidental === '#' || accidental === '♯' ? 1 : accidental === 'b' || accidental === '♭' ? -1 : 0;
  return 12 * (Number(octave) + 1) + SEMITONES[letter.toUpperCase()]! + shift;
}

/**
 * Frequency of a note in equal temperament, Hz: a4 x 2^((n - 69) / 12).
 * @param a4Hz tuning pitch, Hz, > 0
 */
export function noteHz(note: number, a4Hz: number): number {
  if (!(a4Hz > 0)) throw new RangeError(`noteHz: A4 at ${a4Hz} Hz, need > 0`);
  return a4Hz * 2 ** ((note - A4_NOTE) / 12);
}

/**
 * A tuning from written notes, 1st string first.
 * @throws RangeError if a note cannot be read
 */
export function tuning(name: string, notes: readonly string[]): Tuning {
  const openNotes = notes.map((text) => {
    const note = noteNumber(text);
    if (note === undefined) throw new RangeError(`tuning: '${text}' is not a note, need such as F#2`);
    return note;
  });
  return { name, openNotes };
}

/** Tunings in use, common practice, no source. */
export const TUNINGS: readonly Tuning[] = [
  tuning('standard', ['E4', 'B3', 'G3', 'D3', 'A2', 'E2']),
  tuning('drop D', ['E4', 'B3', 'G3', 'D3', 'A2', 'D2']),
  tuning('double drop D', ['D4', 'B3', 'G3', 'D3', 'A2', 'D2']),
  tuning('D A D G A D', ['D4', 'A3', 'G3', 'D3', 'A2', 'D2']),
  tuning('open D', ['D4', 'A3', 'F#3', 'D3', 'A2', 'D2']),
  tuning('open G', ['D4', 'B3', 'G3', 'D3', 'G2', 'D2']),
  tuning('open C', ['E4', 'C4', 'G3', 'C3', 'G2', 'C2']),
  tuning('half step down', ['D#4', 'A#3', 'F#3', 'C#3', 'G#2', 'D#2']),
  tuning('whole step down', ['D4', 'A3', 'F3', 'C3', 'G2', 'D2']),
  tuning('twelve strings', ['E4', 'E4', 'B3', 'B3', 'G3', 'G4', 'D3', 'D4', 'A2', 'A3', 'E2', 'E3']),
];
