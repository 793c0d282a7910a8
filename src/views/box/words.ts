// The codes of the closed box in the language now spoken, read when they are asked for.
import { nearestNote } from '../../quantity/pitch.ts';
import { noteHz } from '../../strings/tuning.ts';
import { followed } from '../words/codes.ts';
import { box as english } from '../words/en/box.ts';
import { type LaterWords, words } from '../words/language.ts';

/** What the box view says in the language now spoken. Read it while rendering, never at the start of a module. */
export const boxWords = (): LaterWords['box'] => words.box ?? english;

export const partWords = followed(() => boxWords().codes.parts);
export const stateWords = followed(() => boxWords().codes.states);

/** A set of strings or a tuning in words. */
export const stringsNamed = (stored: string): string => boxWords().strings.named(stored);

/** "F♯2" for a note number; 69 is A4. */
export function noteName(note: number): string {
  const { name, octave } = nearestNote(noteHz(note, 440), 440);
  return `${name}${octave}`;
}
