import type { TopAdvice } from '../../forecast/top-advice.ts';
import { number } from '../parts/figures.ts';
import { forecast as english } from '../words/en/forecast.ts';
import { type LaterWords, words } from '../words/language.ts';

/** What the forecast says in the language now spoken. Read it while rendering, never at the start of a module. */
export const forecastWords = (): LaterWords['forecast'] => words.forecast ?? english;

/** Odds as people say them, "12 in 100". */
export function chanceWords(chance: number): string {
  const t = forecastWords().advice;
  return chance < 0.01 ? t.chanceSmall : t.chance(number(100 * chance, 0));
}

/** Why no way is advised. */
export function noAdviceWords(answer: Exclude<TopAdvice, { kind: 'advice' }>): string {
  const t = forecastWords().advice;
  switch (answer.kind) {
    case 'nothing-to-do':
      return t.reachedAll;
    case 'no-such-mode':
      return t.noSuchMode(answer.name);
    case 'not-tapped':
      return t.notTapped(answer.name);
    case 'cannot':
      return t.cannot[answer.because];
  }
}
