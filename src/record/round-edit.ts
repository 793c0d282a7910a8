// Edits of rounds. A round belongs to a step of the instrument or to a piece of wood; everything else is the same.
import type { InstrumentRecord, Round, StoredFit, TapNote } from './record.ts';

/** What a round is a measurement of. */
export type RoundHome = { readonly stepId: string } | { readonly pieceId: string };

/** One round of a record. */
export type RoundPlace = RoundHome & { readonly roundId: string };

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

/** All rounds of a step or a piece. */
export function roundsOf(record: InstrumentRecord, home: RoundHome): readonly Round[] {
  const one =
    'stepId' in home
      ? record.steps.find((step) => step.id === home.stepId)
      : record.pieces?.find((piece) => piece.id === home.pieceId);
  return one?.rounds ?? [];
}

/** Whether a round may be concluded from: it is over, and modes were read from it. */
export const isConcluded = (round: Round): boolean => round.state === 'closed' && round.fit !== undefined;

/** The last round of the steps that anything was concluded from. */
export function lastRound(record: InstrumentRecord): Round | undefined {
  return record.steps.flatMap((step) => step.rounds).findLast(isConcluded);
}

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
export const pathOfRound = (place: RoundPlace): readonly string[] => [
  ...('stepId' in place ? ['steps', `#${place.stepId}`] : ['pieces', `#${place.pieceId}`]),
  'rounds',
  `#${place.roundId}`,
];

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

export function appendRound(record: InstrumentRecord, home: RoundHome, round: Round): InstrumentRecord {
  return changeRounds(record, home, (rounds) => [...rounds, round]);
}

export function appendTap(record: InstrumentRecord, place: RoundPlace, tap: TapNote): InstrumentRecord {
  return changeRound(record, place, (round) => ({ ...round, taps: [...round.taps, tap] }));
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
