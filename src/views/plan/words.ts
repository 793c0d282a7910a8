// What the plan and the forecast say of the open record.
import type { BelowFloor } from '../../brace/floor.ts';
import type { PlateFault } from '../../plate/plate-check.ts';
import type { BraceReading, NamedCut } from '../../record/cut-place.ts';
import { measuredOn } from '../../record/plan-wood.ts';
import type { InstrumentRecord, Plan, PlanWood } from '../../record/record.ts';
import { speciesById } from '../../wood/species.ts';
import { useLength, useStretch } from '../parts/own-units.ts';
import { speciesWord } from '../wood/words.ts';
import { plan as english } from '../words/en/plan.ts';
import { type LaterWords, words } from '../words/language.ts';
import type { Face } from './face.ts';

/** What the plan view says in the language now spoken. Read it while rendering, never at the start of a module. */
export const planWords = (): LaterWords['plan'] => words.plan ?? english;

/** A brace below its floor, in the maker's own units: what is left, on which stretch as it is read, and the floor. */
export function useLowPlaceWords(): (
  reading: BraceReading,
  low: BelowFloor,
) => readonly [height: string, from: string, to: string, floor: string] {
  const [height, place] = [useLength(3), useLength()];
  return (reading, { fromMm, toMm, heightMm, floorMm }) => {
    const [from, to] = reading.stretch(fromMm, toMm);
    return [height(heightMm), place(from), place(to), height(floorMm)];
  };
}

/** A cut as a sentence in the maker's own units. */
export function useCutWords(): (cut: NamedCut) => string {
  const [off, place, stretch] = [useLength(3), useLength('rule', 0), useStretch()];
  return (cut) => planWords().cut(cut, { off, place, stretch });
}

/** Which side of the screen carries the bass strings: on the left from outside for a right-handed player. */
export function sideWords(hand: InstrumentRecord['hand'], face: Face): readonly [left: string, right: string] {
  const { bass, treble } = planWords().sides;
  return (hand === 'right') === (face === 'outside') ? [bass, treble] : [treble, bass];
}

/** A wood of the plan: one of the handbook in the language now spoken, else what the maker called it. */
export const planWoodWord = ({ name, speciesId }: PlanWood): string =>
  name === '' || name === speciesById(speciesId)?.name ? speciesWord(speciesId) : name;

/** Where the constants of a wood come from. */
export function woodSourceWords(record: InstrumentRecord, wood: PlanWood): string {
  const piece = record.pieces?.find(({ id }) => id === wood.pieceId);
  const other = record.pieces?.find(({ id }) => id === wood.otherPieceId);
  if (piece !== undefined && other !== undefined) return planWords().top.fromHalves(piece.name, other.name);
  return piece === undefined
    ? planWords().top.fromHandbook(planWoodWord(wood))
    : planWords().top.fromPiece(piece.name, measuredOn(piece));
}

/** A fault of the drawing as a sentence. */
export function faultWords(fault: PlateFault, plan: Plan): string {
  const brace = fault.part === 'brace' ? (plan.braces.find(({ id }) => id === fault.id)?.name ?? fault.id) : '';
  return planWords().top.fault(fault, brace);
}
