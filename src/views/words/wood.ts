import { wood as english } from './en/wood.ts';
import { type LaterWords, words } from './language.ts';

/** What the wood view says in the language now spoken. Read it while rendering, never at the start of a module. */
export const woodWords = (): LaterWords['wood'] => words.wood ?? english;
