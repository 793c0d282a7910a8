import { shapes as english } from '../words/en/shapes.ts';
import { type LaterWords, words } from '../words/language.ts';

/** What the view of the shapes says in the language now spoken. Read it while rendering, never at the start of a module. */
export const shapesWords = (): LaterWords['shapes'] => words.shapes ?? english;
