// How a signature was taken, in words.
import type { Series } from '../compare/series.ts';
import type { Support } from '../record/record.ts';
import { number } from './figures.ts';
import { bridgeWords, holdWords, stageWords } from './words.ts';

/** "Braced, clamped in the mould, bridge taped". */
export const conditionsWords = ({ stage, support }: Series): string =>
  `${stageWords[stage]}, ${holdWords[support.hold].toLowerCase()}, ${bridgeWords[support.bridge].toLowerCase()}${support.strung ? ', strung' : ''}${lumpWords(support)}`;

/** ", 10.0 g at the bridge" where a lump was fixed for the round, else nothing. */
function lumpWords({ addedMassG, addedMassOnBackG }: Support): string {
  const at = (massG: number | undefined, place: string) =>
    massG === undefined ? '' : `, ${number(massG, 1)} g ${place}`;
  return at(addedMassG, 'at the bridge') + at(addedMassOnBackG, 'on the back');
}
