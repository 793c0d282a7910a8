// The codes of the wood's physics in the language now spoken, read when they are asked for.
import { SPECIES } from '../../wood/species.ts';
import { followed } from '../words/codes.ts';
import { wood as english } from '../words/en/wood.ts';
import { type LaterWords, words } from '../words/language.ts';

/** What the wood view says in the language now spoken. Read it while rendering, never at the start of a module. */
export const woodWords = (): LaterWords['wood'] => words.wood ?? english;

export const pieceKindWords = followed(() => woodWords().codes.pieceKinds);
export const tapWords = followed(() => woodWords().codes.taps);

/** A species in words: a listed one by its id, else what the maker typed. */
export const speciesWord = (species: string): string => woodWords().codes.species[species] ?? species;

export const speciesNames = (): readonly string[] => SPECIES.map(({ id }) => speciesWord(id));

/** What is stored for a species as typed: the id of a listed one, else the maker's words. */
export const speciesTyped = (text: string): string =>
  SPECIES.find(({ id }) => speciesWord(id).toLowerCase() === text.toLowerCase())?.id ?? text;
