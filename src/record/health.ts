// What a record lacks: sounds it speaks of that are not here, and rounds whose modes can be read again from their taps.
import * as v from 'valibot';
import { photoIds, tapIds } from './archive.ts';
import { lacksFit, roundPlaces } from './incoming.ts';
import { inPresentFormat, readRecord } from './read.ts';
import { type InstrumentRecord, newRecord, type Round, recordSchema } from './record.ts';
import type { RoundPlace } from './round-edit.ts';

/** What is not as it should be in one record. */
export interface Health {
  readonly missingSounds: readonly string[];
  readonly missingPhotos: readonly string[];
  /** rounds that are over and have no modes, with the sound of at least one of their taps */
  readonly unread: readonly RoundPlace[];
}

/** By what an open round is told from one that somebody may still go on with. */
export interface RoundsWanted {
  readonly tapsPerHold: number;
  readonly holdsPerRound: number;
  readonly nowIso: string;
}

/** Nobody goes on with a round after this long, ms: the air is another one. Common practice, no source. */
const longestPauseMs = 12 * 3_600_000;

/** Whether no tap will be added to a round: it is closed, has all its taps, or was left long ago. */
function isOver({ state, taps }: Round, wanted: RoundsWanted): boolean {
  if (state !== 'open') return state === 'closed';
  const lastHold = taps.filter(({ hold }) => hold >= wanted.holdsPerRound - 1).length;
  const pauseMs = Date.parse(wanted.nowIso) - Date.parse(taps.at(-1)?.atIso ?? wanted.nowIso);
  return lastHold >= wanted.tapsPerHold || pauseMs > longestPauseMs;
}

export function healthOf(
  record: InstrumentRecord,
  here: Readonly<Record<'taps' | 'photos', Pick<ReadonlySet<string>, 'has'>>>,
  wanted: RoundsWanted,
): Health {
  return {
    missingSounds: tapIds(record).filter((id) => !here.taps.has(id)),
    missingPhotos: photoIds(record).filter((id) => !here.photos.has(id)),
    unread: roundPlaces(record).flatMap(({ round, place }) =>
      lacksFit(round) && isOver(round, wanted) && round.taps.some(({ id }) => here.taps.has(id)) ? [place] : [],
    ),
  };
}

/** Every text anywhere within a document, of whatever version: the ids of its sounds are among them. */
export function textsWithin(document: unknown): ReadonlySet<string> {
  const texts = new Set<string>();
  const waiting: unknown[] = [document];
  while (waiting.length > 0) {
    const value = waiting.pop();
    if (typeof value === 'string') texts.add(value);
    else if (typeof value === 'object' && value !== null) waiting.push(...Object.values(value));
  }
  return texts;
}

/** A record made whole again, with what had to be left out. */
export interface Mended {
  readonly record: InstrumentRecord;
  /** where, as keys joined by points; a fit that was left out can be read again from the taps */
  readonly leftOut: readonly string[];
}

/** Defaults of the fields without which there is no record at all; its name is known from the list of records. */
const bareOf = (name: string): Omit<InstrumentRecord, 'id'> => {
  const { id: _own, ...bare } = newRecord({ id: 'mended', createdAtIso: '1970-01-01T00:00:00.000Z', name });
  return bare;
};

/** More faults than this are no accident; the record is then left alone. */
const mostFaults = 2000;

/**
 * Mends a document that the schema refuses: an older one is led forward, what is wrong is left out, in the smallest part
 * that a record can do without, and the rest is kept as it is.
 * @param name the record's name where its own is damaged
 * @returns undefined where it is no record of this version or an older one at all
 */
export function mended(document: unknown, name: string): Mended | undefined {
  const read = readRecord(document);
  if (read.kind === 'record') return { record: read.record, leftOut: [] };
  if (read.because !== 'damaged') return undefined;
  let current: unknown = inPresentFormat(document);
  const leftOut: string[] = [];
  const bare = bareOf(name);
  for (let fault = 0; fault < mostFaults; fault++) {
    const parsed = v.safeParse(recordSchema, current, { abortEarly: true });
    if (parsed.success) return { record: parsed.output, leftOut };
    const path = (parsed.issues[0].path ?? []).map(({ key }) => key as string | number);
    leftOut.push(path.join('.'));
    current = without(current, path, bare);
    if (current === undefined) return undefined;
  }
  return undefined;
}

type Key = string | number;
type Obj = Record<Key, unknown>;

/**
 * The document without the fault at a path. A fit stands or falls as a whole; else the faulty value goes, or where it
 * cannot be missing, the element of the innermost list that it lies in.
 */
function without(document: unknown, path: readonly Key[], bare: Omit<InstrumentRecord, 'id'>): unknown {
  const fit = path.indexOf('fit');
  if (fit >= 0) return removed(document, path.slice(0, fit + 1));
  const [first] = path;
  if (first === undefined || first === 'id') return undefined;
  if (path.length === 1) {
    const rest = removed(document, path) as Obj;
    return first in bare ? { ...rest, [first]: bare[first as keyof typeof bare] } : rest;
  }
  if (at(document, path) !== undefined) return removed(document, path);
  // What is missing and may not be takes the element of its list with it, or the part of the record that it lies in.
  const element = path.findLastIndex((key) => typeof key === 'number');
  return removed(document, path.slice(0, element >= 0 ? element + 1 : -1));
}

const at = (document: unknown, path: readonly Key[]): unknown =>
  path.reduce<unknown>(
    (node, key) => (typeof node === 'object' && node !== null ? (node as Obj)[key] : undefined),
    document,
  );

function removed(document: unknown, path: readonly Key[]): unknown {
  const [key, ...rest] = path;
  if (key === undefined || typeof document !== 'object' || document === null) return undefined;
  if (Array.isArray(document)) {
    const index = Number(key);
    return rest.length === 0 ? document.toSpliced(index, 1) : document.with(index, removed(document[index], rest));
  }
  const { [key]: value, ...others } = document as Obj;
  return rest.length === 0 ? others : { ...others, [key]: removed(value, rest) };
}
