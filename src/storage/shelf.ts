// The shelf of records. A record and its summary are written in one transaction; what is written is always a set of
// changes on top of what is stored, so that two tabs cannot overwrite one another.
import { promisifyRequest } from 'idb-keyval';
import { applyChanges, type Change } from '../record/change.ts';
import { type ReadResult, readRecord } from '../record/read.ts';
import { type InstrumentRecord, type RecordSummary, summarise } from '../record/record.ts';
import { Database } from './database.ts';

const database = new Database('platewright-records');
const recordKey = (id: string): string => `record:${id}`;
const summaryKey = (id: string): string => `summary:${id}`;
const all = (prefix: string): IDBKeyRange => IDBKeyRange.bound(`${prefix}:`, `${prefix}:\uffff`);

/** What came of saving. */
export type SaveResult =
  | { readonly kind: 'saved'; readonly record: InstrumentRecord }
  | { readonly kind: 'conflict'; readonly path: readonly string[] }
  | { readonly kind: 'gone' };

/** Summaries of every record, in no order. */
export async function listSummaries(): Promise<readonly RecordSummary[]> {
  return database.run('readonly', (store) => promisifyRequest<RecordSummary[]>(store.getAll(all('summary'))));
}

/** The record, or why it cannot be read; undefined where there is none. What is stored is never altered by reading. */
export async function loadRecord(id: string): Promise<ReadResult | undefined> {
  const stored = await database.run('readonly', (store) => promisifyRequest<unknown>(store.get(recordKey(id))));
  return stored === undefined ? undefined : readRecord(stored);
}

/** Puts a whole record on the shelf: a new one, or one that was imported. */
export async function putRecord(record: InstrumentRecord, nowIso: string): Promise<void> {
  await database.run('readwrite', (store) => {
    store.put(record, recordKey(record.id));
    store.put(summarise(record, nowIso), summaryKey(record.id));
    return promisifyRequest(store.transaction);
  });
}

/**
 * Applies changes to the stored record.
 * @returns the record as it now stands, with what other tabs changed elsewhere in it
 */
export async function saveChanges(id: string, changes: readonly Change[], nowIso: string): Promise<SaveResult> {
  return database.update(recordKey(id), (stored, store): SaveResult => {
    if (stored === undefined) return { kind: 'gone' };
    const applied = applyChanges(stored as InstrumentRecord, changes);
    if (applied.kind === 'conflict') return applied;
    store.put(applied.document, recordKey(id));
    store.put(summarise(applied.document, nowIso), summaryKey(id));
    return { kind: 'saved', record: applied.document };
  });
}

/** Ids of every stored record, whether it can be read or not. */
export async function recordIds(): Promise<readonly string[]> {
  const keys = await database.run('readonly', (store) => promisifyRequest(store.getAllKeys(all('record'))));
  return keys.map((key) => String(key).slice(recordKey('').length));
}

/** What is stored under the id, as it is. */
export async function rawRecord(id: string): Promise<unknown> {
  return database.run('readonly', (store) => promisifyRequest<unknown>(store.get(recordKey(id))));
}

/** Puts a mended record in the place of one that cannot be read; what stood there is kept aside. */
export async function replaceDamaged(record: InstrumentRecord, nowIso: string): Promise<void> {
  await database.update(recordKey(record.id), (stored, store) => {
    store.put(stored, `aside:${record.id}:${nowIso}`);
    store.put(record, recordKey(record.id));
    store.put(summarise(record, nowIso), summaryKey(record.id));
  });
}

/** Every document that was kept aside when a record was mended, as it was. */
export async function keptAside(): Promise<readonly unknown[]> {
  return database.run('readonly', (store) => promisifyRequest<unknown[]>(store.getAll(all('aside'))));
}

/** Removes a record for good. Its sounds are removed by the caller. */
export async function removeRecord(id: string): Promise<void> {
  await database.run('readwrite', (store) => {
    store.delete(recordKey(id));
    store.delete(summaryKey(id));
    return promisifyRequest(store.transaction);
  });
}
