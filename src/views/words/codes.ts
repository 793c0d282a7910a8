// The codes of the program in the language now spoken. They are read when they are asked for, so that they may be taken
// up at the start of a module and follow the language all the same.
import type { Estimate } from '../../quantity/estimate.ts';
import type { Weight } from '../../record/cuts.ts';
import { type Words, words } from './language.ts';

type Codes = Words['codes'];

/** An object of words with the same keys, each looked up anew. */
export function followed<T extends object>(of: () => T): T {
  const made = {};
  for (const key of Object.keys(of()) as (keyof T)[])
    Object.defineProperty(made, key, { enumerable: true, get: () => of()[key] });
  return made as T;
}

export const stageWords = followed(() => words.codes.stages);
export const holdWords = followed(() => words.codes.holds);
export const bridgeWords = followed(() => words.codes.bridges);
export const spotWords = followed(() => words.codes.spots);
/** A spot of the page in words, or the maker's own words. */
export const spotWord = (spot: string): string => spotWords[spot] ?? spot;
export const refusalWords: Codes['refusal'] = (refusal) => words.codes.refusal(refusal);
export const obstacleWords: Codes['obstacle'] = (obstacle) => words.codes.obstacle(obstacle);
/** A weight that was carried over, with where from and what was cut since. */
export const carriedWords = (
  { massG, sigmaG, weighedG, weighedAt, offG }: Extract<Weight, { kind: 'carried' }>,
  mass: (g: number) => string,
  massEstimate: (g: Estimate) => string,
): string => words.steps.carried(massEstimate({ value: massG, sigma: sigmaG }), mass(weighedG), weighedAt, mass(offG));

export const circumstanceWords: Codes['circumstance'] = (circumstance, degreesOff) =>
  words.codes.circumstance(circumstance, degreesOff);
export const missingWords: Codes['missing'] = (missing) => words.codes.missing(missing);
/** A word of these lists as it stands within a sentence. */
export const midSentence: Codes['midSentence'] = (word) => words.codes.midSentence(word);
/** A notice as a sentence, and whether something needs the maker's attention. */
export const noticeWords: Codes['notice'] = (notice) => words.codes.notice(notice);

/**
 * Mode names offered: plain words, because the sources contradict one another on pairs of numbers. They are stored in
 * records as they are, so they stay the same in every language.
 */
export const modeNames = [
  'monopole',
  'cross dipole',
  'long dipole',
  'cross tripole',
  'long-grain bending',
  'cross-grain bending',
  'twist',
  'ring-and-a-half',
  'air',
  'top',
  'back',
] as const;
