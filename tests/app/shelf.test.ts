import { describe, expect, test } from 'vitest';
import { createNotices } from '../../src/app/notices.ts';
import { Shelf, type ShelfPorts } from '../../src/app/shelf.ts';
import { applyChanges } from '../../src/record/change.ts';
import { type InstrumentRecord, type RecordSummary, summarise } from '../../src/record/record.ts';
import { StorageError } from '../../src/storage/database.ts';

/** A machine that keeps records in memory and can be made to fail. */
function machine() {
  const stored = new Map<string, InstrumentRecord>();
  const state = { failing: false, ids: 0 };
  const ports: ShelfPorts = {
    listSummaries: async () =>
      [...stored.values()].map((record): RecordSummary => summarise(record, '2026-11-25T08:00:00.000Z')),
    loadRecord: async (id) => {
      const record = stored.get(id);
      return record === undefined ? undefined : { kind: 'record', record };
    },
    putRecord: async (record) => {
      stored.set(record.id, record);
    },
    saveChanges: async (id, changes) => {
      if (state.failing) throw new StorageError('full', undefined);
      const record = stored.get(id);
      if (record === undefined) return { kind: 'gone' };
      const result = applyChanges(record, changes);
      if (result.kind === 'conflict') return result;
      stored.set(id, result.document);
      return { kind: 'saved', record: result.document };
    },
    announce: () => undefined,
    countDeed: () => undefined,
    nowIso: () => '2026-11-25T08:00:00.000Z',
    newId: () => `id${++state.ids}`,
  };
  return { ports, stored, state };
}

async function shelfWithOne() {
  const made = machine();
  const notices = createNotices();
  const shelf = new Shelf(made.ports, notices);
  const id = await shelf.create({ name: 'One' });
  return { ...made, notices, shelf, id };
}

const rename = (name: string) => (record: InstrumentRecord) => ({ ...record, name });

describe('the open record', () => {
  test('an edit is shown at once and stored without being asked', async () => {
    const { shelf, stored, id } = await shelfWithOne();
    void shelf.edit(id, 'name', rename('Two'));
    expect(shelf.record.value?.name).toBe('Two');
    await shelf.flush();
    expect(stored.get(id)?.name).toBe('Two');
    expect(shelf.saving.value).toBe('saved');
  });

  test('undo and redo go back and forth, also in what is stored', async () => {
    const { shelf, stored, id } = await shelfWithOne();
    void shelf.edit(id, 'name', rename('Two'));
    void shelf.edit(id, 'name', rename('Three'));
    await shelf.undo();
    await shelf.undo();
    await shelf.flush();
    expect(stored.get(id)?.name).toBe('One');
    expect(shelf.toRedo.value).toBe('name');
    await shelf.redo();
    await shelf.flush();
    expect(stored.get(id)?.name).toBe('Two');
  });

  test('undo of a deed on another record opens that record', async () => {
    const { shelf, id } = await shelfWithOne();
    void shelf.edit(id, 'name', rename('Two'));
    await shelf.create({ name: 'Other' });
    await shelf.undo();
    expect(shelf.record.value).toMatchObject({ id, name: 'One' });
  });

  test('a deed in two records is taken back in both and done again in both, and the open one stays open', async () => {
    const { shelf, stored, id } = await shelfWithOne();
    const otherId = await shelf.create({ name: 'Stock', kind: 'stock' });
    await shelf.open(id);
    expect(await shelf.editBoth('move-piece', id, otherId, rename('Stock, fuller'), rename('One, emptier'))).toBe(true);
    await shelf.flush();
    const names = () => [stored.get(otherId)?.name, stored.get(id)?.name];
    expect(names()).toEqual(['Stock, fuller', 'One, emptier']);
    expect(shelf.record.value?.id).toBe(id);
    await shelf.undo();
    await shelf.flush();
    expect(names()).toEqual(['Stock', 'One']);
    await shelf.redo();
    await shelf.flush();
    expect(names()).toEqual(['Stock, fuller', 'One, emptier']);
    expect(await shelf.editBoth('move-piece', id, 'nowhere', rename('x'), rename('y'))).toBe(false);
    expect(shelf.record.value?.name).toBe('One, emptier');
  });

  test('when the disk is full the edit stays on screen, the page says so, and the next edit stores both', async () => {
    const { shelf, stored, state, notices, id } = await shelfWithOne();
    state.failing = true;
    void shelf.edit(id, 'name', rename('Two'));
    await shelf.flush();
    expect(shelf.saving.value).toBe('not-saved');
    expect(notices.current.value).toEqual({ kind: 'storage', reason: 'full' });
    expect(shelf.record.value?.name).toBe('Two');
    state.failing = false;
    void shelf.edit(id, 'notes', (record) => ({ ...record, notes: 'later' }));
    await shelf.flush();
    expect(stored.get(id)).toMatchObject({ name: 'Two', notes: 'later' });
    expect(shelf.saving.value).toBe('saved');
  });

  test('the same field changed in another tab: theirs is shown and the loss is said', async () => {
    const { shelf, stored, notices, id } = await shelfWithOne();
    stored.set(id, { ...stored.get(id)!, name: 'Theirs' });
    void shelf.edit(id, 'name', rename('Mine'));
    await shelf.flush();
    expect(shelf.record.value?.name).toBe('Theirs');
    expect(notices.current.value).toEqual({ kind: 'changed-elsewhere' });
  });

  test('a newer record is left alone and said to be newer', async () => {
    const { shelf, notices, ports } = await shelfWithOne();
    const before = shelf.record.value;
    ports.loadRecord = async () => ({ kind: 'refused', because: 'newer-version', version: 9 });
    await shelf.open('x');
    expect(shelf.record.value).toBe(before);
    expect(notices.current.value).toMatchObject({ kind: 'record-unreadable', because: 'newer-version' });
  });
});

describe('an edit names the record it is for', () => {
  test('another record than the open one is changed where it is stored, and the open one stays open', async () => {
    const { shelf, stored, id } = await shelfWithOne();
    const otherId = await shelf.create({ name: 'Other' });
    await shelf.edit(id, 'name', rename('Changed from afar'));
    await shelf.flush();
    expect(stored.get(id)?.name).toBe('Changed from afar');
    expect(stored.get(otherId)?.name).toBe('Other');
    expect(shelf.record.value?.id).toBe(otherId);
    await shelf.undo();
    await shelf.flush();
    expect(stored.get(id)?.name).toBe('One');
  });

  test('edits of a record that is not open follow one another, however fast they come', async () => {
    const { shelf, stored, id } = await shelfWithOne();
    await shelf.create({ name: 'Other' });
    const add = (text: string) => (record: InstrumentRecord) => ({ ...record, notes: record.notes + text });
    await Promise.all(['a', 'b', 'c'].map((text) => shelf.edit(id, 'notes', add(text))));
    await shelf.flush();
    expect(stored.get(id)?.notes).toBe('abc');
  });

  test('of two records asked for at once the last one opens, whichever is read first', async () => {
    const { shelf, ports, id } = await shelfWithOne();
    const otherId = await shelf.create({ name: 'Other' });
    const { loadRecord } = ports;
    ports.loadRecord = async (asked) => {
      if (asked === id) await new Promise((resolve) => setTimeout(resolve, 20));
      return loadRecord(asked);
    };
    await Promise.all([shelf.open(id), shelf.open(otherId)]);
    expect(shelf.record.value?.id).toBe(otherId);
  });

  test('a deed in a record that cannot be read now stays to be undone later', async () => {
    const { shelf, ports, stored, id } = await shelfWithOne();
    void shelf.edit(id, 'name', rename('Two'));
    await shelf.create({ name: 'Other' });
    const { loadRecord } = ports;
    ports.loadRecord = async () => {
      throw new StorageError('unknown', undefined);
    };
    await shelf.undo();
    expect(shelf.toUndo.value).toBe('name');
    ports.loadRecord = loadRecord;
    await shelf.undo();
    await shelf.flush();
    expect(stored.get(id)?.name).toBe('One');
  });
});

describe('another tab was quicker', () => {
  const note = (text: string) => (record: InstrumentRecord) => ({ ...record, notes: text });

  test('only the change of the same place is lost: what waits behind it is stored', async () => {
    const { shelf, stored, id } = await shelfWithOne();
    stored.set(id, { ...stored.get(id)!, name: 'Theirs' });
    void shelf.edit(id, 'name', rename('Mine'));
    void shelf.edit(id, 'notes', note('mine too'));
    await shelf.flush();
    expect(stored.get(id)).toMatchObject({ name: 'Theirs', notes: 'mine too' });
    expect(shelf.record.value).toEqual(stored.get(id));
  });

  test('an edit that is kept is done again on what the other tab stored', async () => {
    const { shelf, stored, notices, id } = await shelfWithOne();
    stored.set(id, { ...stored.get(id)!, notes: 'theirs' });
    await shelf.keep(id, (record) => ({
      ...record,
      notes: record.notes.includes('mine') ? record.notes : `${record.notes} and mine`,
    }));
    await shelf.flush();
    expect(stored.get(id)?.notes).toBe('theirs and mine');
    expect(notices.current.value).toBeUndefined();
  });

  test('a record erased there while it is worked on here is stored again with everything done here, and this is said', async () => {
    const { shelf, stored, notices, id } = await shelfWithOne();
    stored.delete(id);
    void shelf.edit(id, 'notes', note('first'));
    void shelf.edit(id, 'name', rename('Still here'));
    await shelf.flush();
    expect(stored.get(id)).toMatchObject({ name: 'Still here', notes: 'first' });
    expect(shelf.saving.value).toBe('saved');
    expect(notices.current.value).toEqual({ kind: 'put-back', name: 'Still here' });
    expect(shelf.putBackLast.value).toEqual({ recordId: id });
  });

  test('a record erased there is kept here too when it is no longer the open one', async () => {
    const { shelf, stored, id } = await shelfWithOne();
    await shelf.keep(id, note('round begun'));
    await shelf.create({ name: 'Other' });
    stored.delete(id);
    await shelf.keep(id, note('round begun, tap taken'));
    await shelf.flush();
    expect(stored.get(id)?.notes).toBe('round begun, tap taken');
  });

  test('a record that was erased and is not worked on is said to be gone', async () => {
    const { shelf, stored, notices, id } = await shelfWithOne();
    stored.delete(id);
    await shelf.changedElsewhere(id);
    expect(notices.current.value).toEqual({ kind: 'erased-elsewhere', name: 'One' });
  });

  test('a page of a later version has stored the record: nothing is written over it, and the maker is told to reload', async () => {
    const { shelf, ports, notices, stored, id } = await shelfWithOne();
    ports.saveChanges = async () => ({ kind: 'newer' });
    void shelf.edit(id, 'name', rename('Mine'));
    await shelf.flush();
    expect(notices.current.value).toEqual({ kind: 'newer-elsewhere' });
    expect(stored.get(id)?.name).toBe('One');
  });
});

describe('what could not be read again is not stored', () => {
  test.each<readonly [string, (record: InstrumentRecord) => InstrumentRecord]>([
    [
      'a number too large',
      (record) => ({ ...record, box: { cavity: { from: 'outline', volumeL: Number.POSITIVE_INFINITY } } }),
    ],
    ['a text too long', (record) => ({ ...record, model: 'x'.repeat(501) })],
  ])('%s is refused where it was typed, and everything else stays as it was', async (_what, edit) => {
    const { shelf, stored, notices, id } = await shelfWithOne();
    const before = shelf.record.value;
    expect(await shelf.edit(id, 'notes', edit)).toEqual([]);
    await shelf.flush();
    expect(shelf.record.value).toEqual(before);
    expect(stored.get(id)).toEqual(before);
    expect(shelf.toUndo.value).toBeUndefined();
    expect(notices.current.value).toMatchObject({ kind: 'not-storable' });
  });

  test('a whole record likewise', async () => {
    const { shelf, stored, notices } = await shelfWithOne();
    const record = { ...shelf.record.value!, id: 'copy', name: 'x'.repeat(501) };
    expect(await shelf.put(record)).toBe(false);
    expect(stored.has('copy')).toBe(false);
    expect(notices.current.value).toEqual({ kind: 'not-storable', where: 'name' });
  });
});
