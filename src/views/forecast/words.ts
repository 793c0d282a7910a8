import { forecast as english } from '../words/en/forecast.ts';
import { type LaterWords, words } from '../words/language.ts';

/** What the forecast says in the language now spoken. Read it while rendering, never at the start of a module. */
export const forecastWords = (): LaterWords['forecast'] => words.forecast ?? english;
