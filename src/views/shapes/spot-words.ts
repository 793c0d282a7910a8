// A spot of a roving round in words: its number, and what lies near it.
import { tapPlaces } from '../../forecast/tap-places.ts';
import { distance } from '../../plate/outline.ts';
import type { InstrumentRecord } from '../../record/record.ts';
import type { RovingRound } from '../../record/roving-edit.ts';
import { useLength } from '../parts/own-units.ts';
import { spotWord } from '../words/codes.ts';
import { shapesWords } from './words.ts';

/** A spot goes by the name of a place so near, mm. */
const NEAR_MM = 30;
/** Nobody finds the centre line more closely with a finger, mm. */
const ON_CENTRE_MM = 5;

type Spot = RovingRound['roving']['spots'][number];

/** How a spot is called, and where it is measured to; the latter is undefined where nothing is drawn. */
export function useSpotWords(record: InstrumentRecord): (
  spot: Spot,
  index: number,
) => {
  readonly name: string;
  readonly place: string | undefined;
} {
  const length = useLength('rule', 0);
  const t = shapesWords();
  const places = record.plan === undefined ? [] : [...tapPlaces(record.plan, record.hand)];
  return ({ xMm, yMm }, index) => {
    if (xMm === undefined || yMm === undefined) return { name: t.spot(index + 1), place: undefined };
    const near = places.find(([, at]) => distance(at, [xMm, yMm]) < NEAR_MM)?.[0];
    const trebleSide = record.hand === 'right' ? yMm > 0 : yMm < 0;
    const side = t.sides[trebleSide ? 'treble' : 'bass'];
    return {
      name: near === undefined ? t.spot(index + 1) : t.spotNear(index + 1, spotWord(near).toLowerCase()),
      place:
        Math.abs(yMm) < ON_CENTRE_MM ? t.placeOnCentre(length(xMm)) : t.place(length(xMm), length(Math.abs(yMm)), side),
    };
  };
}

/** Numbers of spots as people say them, "1, 2, 3". */
export const spotNumbers = (spots: Iterable<number>): string =>
  [...new Set(spots)]
    .toSorted((a, b) => a - b)
    .map((spot) => spot + 1)
    .join(', ');
