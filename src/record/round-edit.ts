// Edits of rounds. A round belongs to a step of the instrument or to a piece of wood; everything else is the same.
import type { Change } from './change.ts';
import type { InstrumentRecord, Piece, Round, Step, StoredFit, TapNote } from './record.ts';

/** What a round is a measurement of. */
export type RoundHome = { readonly stepId: string } | { readonly pieceId: string };

/** One round of a record. */
export type RoundPlace = RoundHome & { readonly roundId: string };

/** One round of one of the records on the shelf. */
export type RecordPlace = RoundPlace & { readonly recordId: string };

/** What a round is a measurement of, in one of the records on the shelf. */
export type RecordHome = RoundHome & { readonly recordId: string };

type ToRounds = (rounds: readonly Round[]) => readonly Round[];

function changeRounds(record: InstrumentRecord, home: RoundHome, change: ToRounds): InstrumentRecord {
  const within = <T extends { readonly id: string; readonly rounds: readonly Round[] }>(
    all: readonly T[],
    id: string,
  ) => all.map((one) => (one.id === id ? { ...one, rounds: change(one.rounds) } : one));
  return 'stepId' in home
    ? { ...record, steps: within(record.steps, home.stepId) }
    : { ...record, pieces: within(record.pieces ?? [], home.pieceId) };
}

/** The step or the piece that a round is a measurement of. */
export function homeOf(record: InstrumentRecord, home: RoundHome): Step | Piece | undefined {
  return 'stepId' in home
    ? record.steps.find((step) => step.id === home.stepId)
    : record.pieces?.find((piece) => piece.id === home.pieceId);
}

/** All rounds of a step or a piece. */
export const roundsOf = (record: InstrumentRecord, home: RoundHome): readonly Round[] =>
  homeOf(record, home)?.rounds ?? [];

/** Whether a round may be concluded from: it is over, and modes were read from it. */
export const isConcluded = (round: Round): boolean => round.state === 'closed' && round.fit !== undefined;

/** The spot that most steps were tapped at, and of several the one tapped last: what the steps can be compared by. */
export function usualSpot(record: InstrumentRecord): string | undefined {
  const stepsAt = new Map<string, number>();
  for (const step of record.steps)
    for (const spot of new Set(step.rounds.filter(isConcluded).map((round) => round.spot))) {
      const steps = (stepsAt.get(spot) ?? 0) + 1;
      stepsAt.delete(spot);
      stepsAt.set(spot, steps);
    }
  const most = Math.max(...stepsAt.values());
  return [...stepsAt].findLast(([, steps]) => steps === most)?.[0];
}

/** Where a round stands in the document, as a change names it. */
const pathOfRound = (place: RoundPlace): readonly string[] => [
  ...('stepId' in place ? ['steps', `#${place.stepId}`] : ['pieces', `#${place.pieceId}`]),
  'rounds',
  `#${place.roundId}`,
];

/**
 * What a round that came, or was read again, changed in its document.
 * @param before the round as the document had it; undefined where it had none
 * @param index  its place among the rounds of its home
 */
export const roundChanges = (
  place: RoundPlace,
  before: Round | undefined,
  after: Round,
  index: number,
): readonly Change[] => [{ path: pathOfRound(place), before, after, index }];

/** Replaces a round by what `change` makes of it. */
export function changeRound(
  record: InstrumentRecord,
  place: RoundPlace,
  change: (round: Round) => Round,
): InstrumentRecord {
  return changeRounds(record, place, (rounds) =>
    rounds.map((round) => (round.id === place.roundId ? change(round) : round)),
  );
}

/**
 * Has a record hold a round as it stands, whatever was done to the record meanwhile: a step or a piece that is gone comes
 * back with it, taps that the record has beyond the round's own stay. Done twice it changes nothing more.
 * @param home the step or the piece as it was when the round began
 */
export function keptRound(
  record: InstrumentRecord,
  place: RoundPlace,
  home: Step | Piece,
  round: Round,
): InstrumentRecord {
  if (homeOf(record, place) === undefined) {
    const back = { ...home, rounds: [round] };
    return 'stepId' in place
      ? { ...record, steps: [...record.steps, back as Step] }
      : { ...record, pieces: [...(record.pieces ?? []), back as Piece] };
  }
  return changeRounds(record, place, (rounds) => {
    const known = rounds.find(({ id }) => id === round.id);
    if (known === undefined) return [...rounds, round];
    const own = new Set(round.taps.map(({ id }) => id));
    const taps = [...known.taps.filter(({ id }) => !own.has(id)), ...round.taps];
    return rounds.map((one) => (one === known ? { ...known, ...round, taps } : one));
  });
}

/** The round is over and read. */
export function closeRound(record: InstrumentRecord, place: RoundPlace, fit: StoredFit | undefined): InstrumentRecord {
  return changeRound(record, place, (round) => ({
    ...round,
    state: 'closed',
    ...(fit === undefined ? {} : { fit }),
  }));
}

export function removeRound(record: InstrumentRecord, place: RoundPlace): InstrumentRecord {
  return changeRounds(record, place, (rounds) => rounds.filter((round) => round.id !== place.roundId));
}

/** Gives a round to another step of the instrument, among its rounds by time; where either is missing nothing changes. */
export function moveRound(record: InstrumentRecord, place: RoundPlace, toStepId: string): InstrumentRecord {
  const round = roundsOf(record, place).find(({ id }) => id === place.roundId);
  const to = { stepId: toStepId };
  if (round === undefined || homeOf(record, to) === undefined) return record;
  return changeRounds(removeRound(record, place), to, (rounds) =>
    [...rounds, round].toSorted((a, b) => a.atIso.localeCompare(b.atIso)),
  );
}

/** Of some taps the one that stands most above the room: the best to hear. */
export const bestTap = (taps: readonly TapNote[]): TapNote | undefined =>
  taps.toSorted((a, b) => b.aboveRoomDb - a.aboveRoomDb)[0];
