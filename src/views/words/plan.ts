import { plan as english } from './en/plan.ts';
import { type LaterWords, words } from './language.ts';

/** What the plan view says in the language now spoken. Read it while rendering, never at the start of a module. */
export const planWords = (): LaterWords['plan'] => words.plan ?? english;
