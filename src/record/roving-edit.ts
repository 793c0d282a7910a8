// A roving round: the finger goes from spot to spot while microphone and plate stay as they are. What may be put right later.
import type { InstrumentRecord, Round, Step, TapNote } from './record.ts';
import { changeRound, isConcluded, type RoundPlace } from './round-edit.ts';

/** A round that goes from spot to spot. */
export type RovingRound = Round & { readonly roving: NonNullable<Round['roving']> };

export const isRoving = (round: Round): round is RovingRound => round.roving !== undefined;

/** The roving rounds of a step that are over and concluded from, the latest last. */
export const rovingRounds = (step: Step): readonly RovingRound[] =>
  step.rounds.filter(isRoving).filter(({ state, taps }) => state === 'closed' && taps.length > 0);

/** The ordinary round that tells the modes of a roving one: the last of its step that was held alike; undefined where there is none. */
export const roundOfModes = (step: Step, isAlike: (round: Round) => boolean): Round | undefined =>
  step.rounds.findLast((round) => isConcluded(round) && (round.fit?.modes.length ?? 0) > 0 && isAlike(round));

/** Taps of a spot that count. */
export const tapsAt = ({ taps }: Round, spot: number): readonly TapNote[] =>
  taps.filter(({ rovingSpot, leftOut }) => rovingSpot === spot && leftOut === undefined);

const changeTap = (
  record: InstrumentRecord,
  place: RoundPlace,
  tapId: string,
  change: (tap: TapNote) => TapNote,
): InstrumentRecord =>
  changeRound(record, place, (round) => ({
    ...round,
    taps: round.taps.map((tap) => (tap.id === tapId ? change(tap) : tap)),
  }));

/** The tap was made at another spot. @param spot counted from 0 */
export const moveTap = (record: InstrumentRecord, place: RoundPlace, tapId: string, spot: number): InstrumentRecord =>
  changeTap(record, place, tapId, (tap) => ({ ...tap, rovingSpot: spot }));

/** Leaves a tap out, or takes it back in. */
export const leaveTapOut = (
  record: InstrumentRecord,
  place: RoundPlace,
  tapId: string,
  isOut: boolean,
): InstrumentRecord =>
  changeTap(record, place, tapId, ({ leftOut: _, ...tap }) => (isOut ? { ...tap, leftOut: true } : tap));
