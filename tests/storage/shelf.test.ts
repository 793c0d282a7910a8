import 'fake-indexeddb/auto';
import { promisifyRequest } from 'idb-keyval';
import { describe, expect, test } from 'vitest';
import { changesBetween } from '../../src/record/change.ts';
import { currentFormat, type RecordFormat } from '../../src/record/read.ts';
import { type InstrumentRecord, newRecord, summarise } from '../../src/record/record.ts';
import { Database } from '../../src/storage/database.ts';
import { RecordStore, records } from '../../src/storage/shelf.ts';
import { getTaps, putPhoto, putTaps } from '../../src/storage/sounds.ts';
import { plant } from '../app/storage-machine.ts';

const {
  keptAside,
  listSummaries,
  loadRecord,
  putRecord,
  rawRecord,
  recordIds,
  removeRecord,
  replaceDamaged,
  saveChanges,
} = records;
const at = '2026-11-25T08:00:00.000Z';
const fresh = (id: string) => newRecord({ id, createdAtIso: at, name: `Instrument ${id}` });

describe('the shelf', () => {
  test('what is put comes back, and its summary is listed', async () => {
    await putRecord(fresh('a'), at);
    expect(await loadRecord('a')).toEqual({ kind: 'record', record: fresh('a') });
    expect((await listSummaries()).map((summary) => summary.name)).toContain('Instrument a');
  });

  test('changes from two tabs to different fields are both kept', async () => {
    const before = fresh('b');
    await putRecord(before, at);
    await saveChanges('b', changesBetween(before, { ...before, notes: 'from tab one' }), at);
    const second = await saveChanges('b', changesBetween(before, { ...before, model: 'from tab two' }), at);
    expect(second).toMatchObject({ kind: 'saved', record: { notes: 'from tab one', model: 'from tab two' } });
  });

  test('a change to a field that another tab has changed is a conflict and alters nothing', async () => {
    const before = fresh('c');
    await putRecord({ ...before, name: 'theirs' }, at);
    expect(await saveChanges('c', changesBetween(before, { ...before, name: 'mine' }), at)).toEqual({
      kind: 'conflict',
      path: ['name'],
    });
    expect(await loadRecord('c')).toMatchObject({ record: { name: 'theirs' } });
  });

  test('a record removed in another tab is gone, not made anew from the changes', async () => {
    const before = fresh('d');
    await putRecord(before, at);
    await removeRecord('d');
    expect(await saveChanges('d', changesBetween(before, { ...before, notes: 'x' }), at)).toEqual({ kind: 'gone' });
    expect(await loadRecord('d')).toBeUndefined();
  });

  test('what is listed follows what is saved, and goes with its record', async () => {
    const before = fresh('listed');
    await putRecord(before, at);
    const later = '2026-11-26T08:00:00.000Z';
    await saveChanges('listed', changesBetween(before, { ...before, name: 'Renamed' }), later);
    const listed = async () => (await listSummaries()).filter(({ id }) => id === 'listed');
    expect(await listed()).toEqual([summarise({ ...before, name: 'Renamed' }, later)]);
    expect(await recordIds()).toContain('listed');
    await removeRecord('listed');
    expect(await listed()).toEqual([]);
    expect(await recordIds()).not.toContain('listed');
    expect(await rawRecord('listed')).toBeUndefined();
  });

  test('what stands where a mended record goes is kept aside, every time, and no record is made of it', async () => {
    const broken = { ...fresh('broken'), name: 7 };
    await plant(broken as never, at);
    expect(await loadRecord('broken')).toMatchObject({ kind: 'refused' });
    await replaceDamaged(fresh('broken'), at);
    await replaceDamaged({ ...fresh('broken'), name: 'Mended again' }, '2026-11-26T08:00:00.000Z');
    expect(await loadRecord('broken')).toMatchObject({ kind: 'record', record: { name: 'Mended again' } });
    expect(await keptAside()).toEqual([broken, fresh('broken')]);
    expect((await listSummaries()).filter(({ id }) => id === 'broken').map(({ name }) => name)).toEqual([
      'Mended again',
    ]);
    expect((await recordIds()).filter((id) => id.includes('broken'))).toEqual(['broken']);
  });

  test('a tap comes back sample by sample; one that was never stored is undefined', async () => {
    const tap = { samples: Float32Array.of(0, 0.5, -0.25), sampleRateHz: 48_000, onsetIndex: 1 };
    await putTaps([['t1', tap]]);
    expect(await getTaps(['t1', 'nowhere'])).toEqual([tap, undefined]);
  });
});

/** A format of our own for the test: the version after this one writes the name in capitals. */
const next = currentFormat.version + 1;
const nextSchema = `platewright-record/${next}`;
const second: RecordFormat = {
  version: next,
  versionOf: (document) => Number(String((document as { schema?: unknown }).schema).split('/')[1]),
  read: (document) => {
    const { schema, name } = document as { schema: string; name: string };
    if (schema === nextSchema) return { kind: 'record', record: document as InstrumentRecord };
    if (name === 'cannot be led') return { kind: 'refused', because: 'damaged', where: 'name', problem: '' };
    const led = { ...(document as InstrumentRecord), schema: nextSchema, name: name.toUpperCase() };
    return { kind: 'record', record: led as unknown as InstrumentRecord };
  },
};

describe('the format of what is stored', () => {
  const stores = (name: string) => {
    const older = new Database(`${name}-older`);
    const database = new Database(name, 'strict');
    return {
      older,
      database,
      first: new RecordStore(database, older),
      second: new RecordStore(database, older, second),
    };
  };
  const keysOf = (database: Database) =>
    database.run('readonly', (store) => promisifyRequest(store.getAllKeys())).then((keys) => keys.map(String));

  test('an older record is led forward where it lies, once, and the old document goes when the new one was read back', async () => {
    const { first, second, database } = stores('lead');
    await first.putRecord(fresh('old'), at);
    expect(await second.loadRecord('old')).toMatchObject({ kind: 'record', record: { name: 'INSTRUMENT OLD' } });
    expect(await second.rawRecord('old')).toMatchObject({ schema: nextSchema, name: 'INSTRUMENT OLD' });
    expect((await keysOf(database)).filter((key) => key.startsWith('before:'))).toEqual([]);
  });

  test('two pages that read an older record at once lead it forward once', async () => {
    const { older, database, first, second: one } = stores('at-once');
    const other = new RecordStore(database, older, second);
    await first.putRecord(fresh('old'), at);
    const read = await Promise.all([one.loadRecord('old'), other.loadRecord('old')]);
    expect(read.map((result) => result?.kind)).toEqual(['record', 'record']);
    expect(await one.rawRecord('old')).toMatchObject({ schema: nextSchema, name: 'INSTRUMENT OLD' });
    expect((await keysOf(database)).filter((key) => key.startsWith('before:'))).toEqual([]);
  });

  test('one that cannot be read when it was led forward is put back as it was, and nothing is left beside it', async () => {
    const { older, database, first } = stores('put-back');
    await first.putRecord(fresh('back'), at);
    const forgetful: RecordFormat = {
      ...second,
      read: (document) =>
        (document as { schema: string }).schema === nextSchema
          ? { kind: 'refused', because: 'damaged', where: 'name', problem: '' }
          : second.read(document),
    };
    await new RecordStore(database, older, forgetful).loadRecord('back');
    expect(await first.rawRecord('back')).toEqual(fresh('back'));
    expect((await keysOf(database)).filter((key) => key.startsWith('before:'))).toEqual([]);
  });

  test('a record removed for good takes what was left of its leading forward with it', async () => {
    const { first, database } = stores('left-over');
    await first.putRecord(fresh('half'), at);
    await database.update('before:half', (_, store) => store.put(fresh('half'), 'before:half'));
    await first.removeRecord('half');
    expect(await keysOf(database)).toEqual(['taken-over']);
  });

  test('a record of this format is read without a write', async () => {
    const { first, database } = stores('quiet');
    await first.putRecord(fresh('same'), at);
    const { update } = database;
    let updates = 0;
    database.update = (...given) => {
      updates++;
      return update.apply(database, given) as never;
    };
    await first.loadRecord('same');
    expect(updates).toBe(0);
  });

  test('a browser that refuses while older records are taken over is asked again with the next call', async () => {
    const { first, older } = stores('again');
    await older.update('record:kept', (_, store) => store.put(fresh('kept'), 'record:kept'));
    const { run } = older;
    older.run = () => Promise.reject(new Error('not now'));
    await expect(first.recordIds()).rejects.toThrow('not now');
    older.run = run;
    expect(await first.saveChanges('kept', [], at)).toMatchObject({ kind: 'saved' });
    expect(await first.recordIds()).toEqual(['kept']);
  });

  test('one that cannot be led forward is left as it was', async () => {
    const { first, second } = stores('stay');
    const record = { ...fresh('bad'), name: 'cannot be led' };
    await first.putRecord(record, at);
    expect(await second.loadRecord('bad')).toMatchObject({ kind: 'refused', because: 'damaged' });
    expect(await second.rawRecord('bad')).toEqual(record);
  });

  test('a page of the older format that is still open writes nothing over a record that was led forward', async () => {
    const { first, second } = stores('open');
    const before = fresh('both');
    await first.putRecord(before, at);
    await second.loadRecord('both');
    const led = await second.rawRecord('both');
    const changes = changesBetween(before, { ...before, notes: 'from the old page' });
    expect(await first.saveChanges('both', changes, at)).toEqual({ kind: 'newer' });
    expect(await second.rawRecord('both')).toEqual(led);
    expect(await first.loadRecord('both')).toMatchObject({ kind: 'refused', because: 'newer-version', version: next });
  });

  test('a change made on an older record leads it forward with it', async () => {
    const { first, second } = stores('change');
    const before = fresh('c');
    await first.putRecord(before, at);
    const changes = changesBetween({ notes: before.notes }, { notes: 'new' });
    expect(await second.saveChanges('c', changes, at)).toMatchObject({ kind: 'saved', record: { notes: 'new' } });
    expect(await second.rawRecord('c')).toMatchObject({ schema: nextSchema, name: 'INSTRUMENT C' });
  });

  test('what pages stored that know of no versions is taken over once; what they store later stays with them', async () => {
    const { older, first } = stores('over');
    const putOld = (record: InstrumentRecord) =>
      older.run('readwrite', (store) => {
        store.put(record, `record:${record.id}`);
        store.put(summarise(record, at), `summary:${record.id}`);
        return promisifyRequest(store.transaction);
      });
    await putOld(fresh('kept'));
    // Two tabs open at once.
    const again = new RecordStore(new Database('over', 'strict'), older);
    await Promise.all([first.listSummaries(), again.listSummaries()]);
    expect((await first.listSummaries()).map(({ id }) => id)).toEqual(['kept']);
    expect(await first.loadRecord('kept')).toEqual({ kind: 'record', record: fresh('kept') });
    // The old page is still open, and goes on.
    await putOld({ ...fresh('kept'), name: 'changed by the old page' });
    const later = new RecordStore(new Database('over', 'strict'), older);
    expect(await later.loadRecord('kept')).toEqual({ kind: 'record', record: fresh('kept') });
    expect(await older.run('readonly', (store) => promisifyRequest(store.getKey('record:kept')))).toBe('record:kept');
  });

  test('what could not be read again is not written, whoever asks for it', async () => {
    const { first } = stores('door');
    const before = fresh('door');
    const long = { ...before, name: 'x'.repeat(501) };
    await expect(first.putRecord(long, at)).rejects.toThrow(/putRecord: .*could not be read again/);
    await first.putRecord(before, at);
    await expect(first.saveChanges('door', changesBetween(before, long), at)).rejects.toThrow(/saveChanges: .*name/);
    expect(await first.loadRecord('door')).toEqual({ kind: 'record', record: before });
  });
});

describe('durability', () => {
  test('taps, photographs and records are written to the disk before they are called stored', async () => {
    const asked: (IDBTransactionDurability | undefined)[] = [];
    const { transaction } = IDBDatabase.prototype;
    IDBDatabase.prototype.transaction = function (this: IDBDatabase, names, mode, options) {
      if (mode === 'readwrite') asked.push(options?.durability);
      return transaction.call(this, names, mode, options);
    };
    try {
      await putTaps([['d', { samples: Float32Array.of(1), sampleRateHz: 48_000, onsetIndex: 0 }]]);
      await putPhoto('d', new Blob(['x']));
      await putRecord(fresh('d1'), at);
      await saveChanges('d1', changesBetween({ notes: '' }, { notes: 'x' }), at);
    } finally {
      IDBDatabase.prototype.transaction = transaction;
    }
    expect(asked).toEqual(['strict', 'strict', 'strict', 'strict']);
  });
});
