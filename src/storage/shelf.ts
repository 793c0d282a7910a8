// The shelf of records. A record and its summary are written in one transaction; what is written is always a set of
// changes on top of what is stored, so that two tabs cannot overwrite one another. A record of an older format is led
// forward where it lies when it is first read; one of a newer format is never written to.
import { promisifyRequest } from 'idb-keyval';
import { applyChanges, type Change } from '../record/change.ts';
import { faultOf } from '../record/check.ts';
import { currentFormat, type ReadResult, type RecordFormat } from '../record/read.ts';
import { type InstrumentRecord, type RecordSummary, summarise } from '../record/record.ts';
import { Database } from './database.ts';

const recordKey = (id: string): string => `record:${id}`;
const summaryKey = (id: string): string => `summary:${id}`;
/** The document as it was, until the one led forward has been read back. */
const beforeKey = (id: string): string => `before:${id}`;
const takenOverKey = 'taken-over';
const all = (prefix: string): IDBKeyRange => IDBKeyRange.bound(`${prefix}:`, `${prefix}:\uffff`);

/** What came of saving. */
export type SaveResult =
  | { readonly kind: 'saved'; readonly record: InstrumentRecord }
  | { readonly kind: 'conflict'; readonly path: readonly string[] }
  /** a page of a later version has stored the record in its own format */
  | { readonly kind: 'newer' }
  | { readonly kind: 'gone' };

export class RecordStore {
  private readonly database: Database;
  private readonly older: Database;
  private readonly format: RecordFormat;
  private ready: Promise<void> | undefined;

  /**
   * @param older  where pages wrote that do not look at the version of what is stored: read once, then left alone. Such a
   *               page may still be open and go on writing there
   * @param format of the records that this page reads and writes
   */
  constructor(database: Database, older: Database, format: RecordFormat = currentFormat) {
    this.database = database;
    this.older = older;
    this.format = format;
  }

  /** Summaries of every record, in no order. */
  readonly listSummaries = (): Promise<readonly RecordSummary[]> =>
    this.run('readonly', (store) => promisifyRequest<RecordSummary[]>(store.getAll(all('summary'))));

  /** The record, or why it cannot be read; undefined where there is none. */
  readonly loadRecord = async (id: string): Promise<ReadResult | undefined> => {
    const stored = await this.rawRecord(id);
    if (stored === undefined) return undefined;
    const read = this.format.read(stored);
    if (read.kind === 'record' && this.isOlder(stored)) await this.leadForward(id);
    return read;
  };

  /**
   * Puts a whole record on the shelf: a new one, or one that was imported.
   * @throws RangeError where it could not be read again
   */
  readonly putRecord = async (record: InstrumentRecord, nowIso: string): Promise<void> => {
    const read = this.format.read(record);
    mustBeReadable('putRecord', read.kind === 'record' ? undefined : read.because);
    await this.run('readwrite', (store) => {
      store.put(record, recordKey(record.id));
      store.put(summarise(record, nowIso), summaryKey(record.id));
      return promisifyRequest(store.transaction);
    });
  };

  /**
   * Applies changes to the stored record.
   * @throws RangeError where the record could not be read again; nothing is written then
   * @returns the record as it now stands, with what other tabs changed elsewhere in it
   */
  readonly saveChanges = async (id: string, changes: readonly Change[], nowIso: string): Promise<SaveResult> => {
    await this.takeOver();
    return this.database.update(recordKey(id), (stored, store): SaveResult => {
      if (stored === undefined) return { kind: 'gone' };
      const version = this.format.versionOf(stored);
      if (version !== undefined && version > this.format.version) return { kind: 'newer' };
      const read = this.isOlder(stored) ? this.format.read(stored) : undefined;
      const document = read?.kind === 'record' ? read.record : (stored as InstrumentRecord);
      const applied = applyChanges(document, changes);
      if (applied.kind === 'conflict') return applied;
      mustBeReadable('saveChanges', faultOf(applied.document, changes));
      store.put(applied.document, recordKey(id));
      store.put(summarise(applied.document, nowIso), summaryKey(id));
      return { kind: 'saved', record: applied.document };
    });
  };

  /** Ids of every stored record, whether it can be read or not. */
  readonly recordIds = async (): Promise<readonly string[]> => {
    const keys = await this.run('readonly', (store) => promisifyRequest(store.getAllKeys(all('record'))));
    return keys.map((key) => String(key).slice(recordKey('').length));
  };

  /** What is stored under the id, as it is. */
  readonly rawRecord = (id: string): Promise<unknown> =>
    this.run('readonly', (store) => promisifyRequest<unknown>(store.get(recordKey(id))));

  /** Puts a mended record in the place of one that cannot be read; what stood there is kept aside. */
  readonly replaceDamaged = async (record: InstrumentRecord, nowIso: string): Promise<void> => {
    await this.database.update(recordKey(record.id), (stored, store) => {
      store.put(stored, `aside:${record.id}:${nowIso}`);
      store.put(record, recordKey(record.id));
      store.put(summarise(record, nowIso), summaryKey(record.id));
    });
  };

  /** Every document that was kept aside when a record was mended, as it was. */
  readonly keptAside = (): Promise<readonly unknown[]> =>
    this.run('readonly', (store) => promisifyRequest<unknown[]>(store.getAll(all('aside'))));

  /** Removes a record for good. Its sounds are removed by the caller. */
  readonly removeRecord = async (id: string): Promise<void> => {
    await this.run('readwrite', (store) => {
      for (const key of [recordKey(id), summaryKey(id), beforeKey(id)]) store.delete(key);
      return promisifyRequest(store.transaction);
    });
  };

  private isOlder(stored: unknown): boolean {
    const version = this.format.versionOf(stored);
    return version !== undefined && version < this.format.version;
  }

  /** The stored document in this page's format, in one transaction; the old one goes when the new one was read back. */
  private async leadForward(id: string): Promise<void> {
    await this.database.update(recordKey(id), (stored, store) => {
      const read = this.isOlder(stored) ? this.format.read(stored) : undefined;
      if (read?.kind !== 'record') return;
      store.put(stored, beforeKey(id));
      store.put(read.record, recordKey(id));
    });
    const isReadBack = this.format.read(await this.rawRecord(id)).kind === 'record';
    await this.database.update(beforeKey(id), (before, store) => {
      if (before === undefined) return;
      if (!isReadBack) store.put(before, recordKey(id));
      store.delete(beforeKey(id));
    });
  }

  private async run<T>(mode: IDBTransactionMode, work: (store: IDBObjectStore) => T | PromiseLike<T>): Promise<T> {
    await this.takeOver();
    return this.database.run(mode, work);
  }

  /** Takes over what pages stored that do not look at versions, once for this browser. */
  private takeOver(): Promise<void> {
    this.ready ??= this.takeOverOnce().catch((cause: unknown) => {
      this.ready = undefined;
      throw cause;
    });
    return this.ready;
  }

  private async takeOverOnce(): Promise<void> {
    const isDone = await this.database.run('readonly', (store) => promisifyRequest(store.getKey(takenOverKey)));
    if (isDone !== undefined) return;
    const [keys, values] = await this.older.run('readonly', (store) =>
      Promise.all([promisifyRequest(store.getAllKeys()), promisifyRequest<unknown[]>(store.getAll())]),
    );
    await this.database.update(takenOverKey, (done, store) => {
      // Two tabs may begin at once: the first to get here takes all.
      if (done !== undefined) return;
      for (const [i, key] of keys.entries()) store.put(values[i], key);
      store.put(true, takenOverKey);
    });
  }
}

/** The last door: what comes here was asked about where it was typed. */
function mustBeReadable(caller: string, fault: string | undefined): void {
  if (fault !== undefined) throw new RangeError(`${caller}: the record could not be read again (${fault})`);
}

export const records = new RecordStore(
  new Database('platewright-shelf', 'strict'),
  new Database('platewright-records'),
);
