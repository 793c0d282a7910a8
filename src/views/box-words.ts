// The codes of the closed box in the language now spoken, read when they are asked for.
import { nearestNote } from '../quantity/pitch.ts';
import { noteHz } from '../strings/tuning.ts';
import { boxWords } from './words/box.ts';
import { followed } from './words.ts';

export const partWords = followed(() => boxWords().codes.parts);
export const stateWords = followed(() => boxWords().codes.states);

/** A set of strings or a tuning in words. */
export const stringsNamed = (stored: string): string => boxWords().strings.named(stored);

/** "F♯2" for a note number; 69 is A4. */
export function noteName(note: number): string {
  const { name, octave } = nearestNote(noteHz(note, 440), 440);
  return `${name}${octave}`;
}
