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
    shelf.edit('name', rename('Two'));
    expect(shelf.record.value?.name).toBe('Two');
    await shelf.flush();
    expect(stored.get(id)?.name).toBe('Two');
    expect(shelf.saving.value).toBe('saved');
  });

  test('undo and redo go back and forth, also in what is stored', async () => {
    const { shelf, stored, id } = await shelfWithOne();
    shelf.edit('name', rename('Two'));
    shelf.edit('name', rename('Three'));
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
    shelf.edit('name', rename('Two'));
    await shelf.create({ name: 'Other' });
    await shelf.undo();
    expect(shelf.record.value).toMatchObject({ id, name: 'One' });
  });

  test('a deed in two records is taken back in both and done again in both, and the open one stays open', async () => {
    const { shelf, stored, id } = await shelfWithOne();
    const otherId = await shelf.create({ name: 'Stock', kind: 'stock' });
    await shelf.open(id);
    expect(await shelf.editBoth('move-piece', otherId, rename('Stock, fuller'), rename('One, emptier'))).toBe(true);
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
    expect(await shelf.editBoth('move-piece', 'nowhere', rename('x'), rename('y'))).toBe(false);
    expect(shelf.record.value?.name).toBe('One, emptier');
  });

  test('when the disk is full the edit stays on screen, the page says so, and the next edit stores both', async () => {
    const { shelf, stored, state, notices, id } = await shelfWithOne();
    state.failing = true;
    shelf.edit('name', rename('Two'));
    await shelf.flush();
    expect(shelf.saving.value).toBe('not-saved');
    expect(notices.current.value).toEqual({ kind: 'storage', reason: 'full' });
    expect(shelf.record.value?.name).toBe('Two');
    state.failing = false;
    shelf.edit('notes', (record) => ({ ...record, notes: 'later' }));
    await shelf.flush();
    expect(stored.get(id)).toMatchObject({ name: 'Two', notes: 'later' });
    expect(shelf.saving.value).toBe('saved');
  });

  test('the same field changed in another tab: theirs is shown and the loss is said', async () => {
    const { shelf, stored, notices, id } = await shelfWithOne();
    stored.set(id, { ...stored.get(id)!, name: 'Theirs' });
    shelf.edit('name', rename('Mine'));
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
