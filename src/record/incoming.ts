// What taking in a record from outside would do to the shelf, found out before anything is stored.
import { sameValue } from './change.ts';
import { longestLine } from './fields.ts';
import { type MergeConflict, mergeRecords } from './merge.ts';
import type { ReadResult } from './read.ts';
import type { InstrumentRecord, Round } from './record.ts';
import type { RoundPlace } from './round-edit.ts';

/** How the id of a record begins that came out of a universal file. */
export const universalPrefix = 'universal-';

const isUniversal = ({ id }: InstrumentRecord): boolean => id.startsWith(universalPrefix);

/** How much a record holds. */
export interface RecordCounts {
  readonly steps: number;
  readonly rounds: number;
  readonly taps: number;
  readonly pieces: number;
}

/** A record that is to come in, and how it will stand afterwards. */
export interface Incoming {
  /**
   * `new`: none of its id is here. `adds`: it brings something to the one that is here. `nothing-new`: all of it is here.
   * `beside`: the one here cannot be read, so that this one comes to lie beside it under an id of its own.
   */
  readonly fate: 'new' | 'adds' | 'nothing-new' | 'beside';
  readonly record: InstrumentRecord;
  /** what it brings beyond what is here */
  readonly brings: RecordCounts;
  /** what both say differently; what is here is kept */
  readonly conflicts: readonly MergeConflict[];
  /** rounds whose taps came together from both sides, so that their modes have to be read again */
  readonly toRead: readonly RoundPlace[];
  /** true where the one here lies in the bin and comes back */
  readonly fromBin: boolean;
}

/** The record that would stand on the shelf. @param copyId id for a record that cannot be joined with the one here */
export function incoming(given: InstrumentRecord, here: ReadResult | undefined, copyId: string): Incoming {
  const none = { conflicts: [], toRead: [], fromBin: false };
  if (here === undefined)
    return { ...none, fate: 'new', record: given, brings: amounts(given), toRead: neverRead(given) };
  if (here.kind === 'refused')
    return { ...none, fate: 'beside', record: beside(given, copyId), brings: amounts(given) };
  const { record: merged, conflicts } = mergeRecords(here.record, given);
  const fromBin = here.record.deletedAtIso !== undefined && given.deletedAtIso === undefined;
  const { deletedAtIso: _deleted, ...restored } = merged;
  const record = fromBin ? restored : merged;
  const had = amounts(here.record);
  const has = amounts(record);
  return {
    fate: sameValue(here.record, record) ? 'nothing-new' : 'adds',
    record,
    brings: {
      steps: has.steps - had.steps,
      rounds: has.rounds - had.rounds,
      taps: has.taps - had.taps,
      pieces: has.pieces - had.pieces,
    },
    // Under what name a universal file came is no word of the maker's.
    conflicts: isUniversal(given) ? conflicts.filter(({ path }) => path.at(-1) !== 'source') : conflicts,
    toRead: unreadJoined(record, [
      ...[here.record, given].flatMap(fittedRounds),
      ...neverRead(given).map(({ roundId }) => roundId),
    ]),
    fromBin,
  };
}

const besideSuffix = ' (imported)';

const beside = (given: InstrumentRecord, id: string): InstrumentRecord => ({
  ...given,
  id,
  name: `${given.name.slice(0, longestLine - besideSuffix.length)}${besideSuffix}`,
});

/** How much a record holds. */
export function amounts(record: InstrumentRecord): RecordCounts {
  const rounds = roundPlaces(record).map(({ round }) => round);
  return {
    steps: record.steps.length,
    rounds: rounds.length,
    taps: rounds.reduce((sum, round) => sum + round.taps.length, 0),
    pieces: record.pieces?.length ?? 0,
  };
}

/** Every round of a record with its place. */
export function roundPlaces(
  record: InstrumentRecord,
): readonly { readonly place: RoundPlace; readonly round: Round }[] {
  return [
    ...record.steps.flatMap((step) =>
      step.rounds.map((round) => ({ round, place: { stepId: step.id, roundId: round.id } })),
    ),
    ...(record.pieces ?? []).flatMap((piece) =>
      piece.rounds.map((round) => ({ round, place: { pieceId: piece.id, roundId: round.id } })),
    ),
  ];
}

/** Whether a round still has to be read; a roving one is read with the modes of another, and keeps none of its own. */
export const lacksFit = ({ fit, roving }: Round): boolean => fit === undefined && roving === undefined;

const fittedRounds = (record: InstrumentRecord): readonly string[] =>
  roundPlaces(record).flatMap(({ round }) => (round.fit === undefined ? [] : [round.id]));

/** Rounds that a universal file brings: closed, and nobody has read them yet. */
const neverRead = (record: InstrumentRecord): readonly RoundPlace[] =>
  isUniversal(record) ? roundPlaces(record).flatMap(({ round, place }) => (lacksFit(round) ? [place] : [])) : [];

/** Rounds without a fit among those that one of the two sides had read, or that come to be read. */
function unreadJoined(record: InstrumentRecord, wanted: readonly string[]): readonly RoundPlace[] {
  const read = new Set(wanted);
  return roundPlaces(record).flatMap(({ round, place }) =>
    lacksFit(round) && round.taps.length > 0 && read.has(round.id) ? [place] : [],
  );
}
