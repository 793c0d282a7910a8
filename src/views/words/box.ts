import { box as english } from './en/box.ts';
import { type LaterWords, words } from './language.ts';

/** What the box view says in the language now spoken. Read it while rendering, never at the start of a module. */
export const boxWords = (): LaterWords['box'] => words.box ?? english;
