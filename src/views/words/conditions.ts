// How a signature was taken, in words.
import type { Series } from '../../compare/series.ts';
import type { Support } from '../../record/record.ts';
import { number } from '../parts/figures.ts';
import { bridgeWords, holdWords, midSentence, stageWords } from './codes.ts';
import { words } from './language.ts';

/** "Braced, clamped in the mould, bridge taped". */
export const conditionsWords = ({ stage, support }: Series): string =>
  [
    stageWords[stage],
    midSentence(holdWords[support.hold]),
    midSentence(bridgeWords[support.bridge]),
    ...(support.strung ? [words.fields.strung] : []),
    ...lumpWords(support),
  ].join(', ');

/** "10.0 g at the bridge" where a lump was fixed for the round. */
const lumpWords = ({ addedMassG, addedMassOnBackG }: Support): readonly string[] => [
  ...(addedMassG === undefined ? [] : [words.fields.atTheBridge(`${number(addedMassG, 1)} g`)]),
  ...(addedMassOnBackG === undefined ? [] : [words.fields.onTheBack(`${number(addedMassOnBackG, 1)} g`)]),
];
