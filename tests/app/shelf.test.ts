import { describe, expect, test } from 'vitest';
import { Notices } from '../../src/app/notices.ts';
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
    countEdit: () => undefined,
    nowIso: () => '2026-11-25T08:00:00.000Z',
    newId: () => `id${++state.ids}`,
  };
  return { ports, stored, state };
}

async function shelfWithOne() {
  const made = machine();
  const notices = new Notices();
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

  test('undo of an edit on another record opens that record', async () => {
    const { shelf, id } = await shelfWithOne();
    void shelf.edit(id, 'name', rename('Two'));
    await shelf.create({ name: 'Other' });
    await shelf.undo();
    expect(shelf.record.value).toMatchObject({ id, name: 'One' });
  });

  test('an edit in two records is taken back in both and done again in both, and the open one stays open', async () => {
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
    const { shelf, notices, ports, id } = await shelfWithOne();
    await shelf.create({ name: 'Two' });
    await shelf.flush();
    const before = shelf.record.value;
    ports.loadRecord = async () => ({ kind: 'refused', because: 'newer-version', version: 9 });
    for (const [unread, name] of [
      [id, 'One'],
      ['x', 'x'],
    ] as const) {
      await shelf.open(unread);
      expect(shelf.record.value).toBe(before);
      expect(notices.current.value).toEqual({ kind: 'record-unreadable', name, because: 'newer-version' });
    }
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

  test('an edit in a record that cannot be read now stays to be undone later', async () => {
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

describe('what the machine is told', () => {
  test('every record that was stored or erased is announced to other tabs, every edit counted once', async () => {
    const { ports } = machine();
    const announced: string[] = [];
    let edits = 0;
    ports.announce = (id) => announced.push(id);
    ports.countEdit = () => edits++;
    const shelf = new Shelf(ports, new Notices());
    const id = await shelf.create({ name: 'One', model: 'OM', hand: 'left' });
    expect(shelf.record.value).toMatchObject({ id, name: 'One', model: 'OM', hand: 'left' });
    expect([announced, edits]).toEqual([[id], 1]);
    await shelf.edit(id, 'name', rename('Two'));
    await shelf.flush();
    expect([announced, edits]).toEqual([[id, id], 2]);
    // A part of a larger edit is counted with that edit, and what changes nothing is none.
    await shelf.edit(id, undefined, rename('Three'));
    await shelf.edit(id, 'name', (record) => ({ ...record }));
    await shelf.flush();
    expect([announced.length, edits]).toEqual([3, 2]);
    await shelf.undo();
    await shelf.flush();
    expect(edits).toBe(2);
    shelf.forget(id);
    expect(announced.at(-1)).toBe(id);
  });

  test('the list shows a record as it was last changed, and each once', async () => {
    const { shelf, id, stored, ports } = await shelfWithOne();
    await shelf.edit(id, 'name', rename('Two'));
    await shelf.put({ ...stored.get(id)!, name: 'Three' });
    await shelf.create({ name: 'Other' });
    expect(shelf.summaries.value.map(({ name }) => name)).toEqual(['Three', 'Other']);
    const listed = await ports.listSummaries();
    ports.listSummaries = async () => listed.slice(0, 1);
    await shelf.refresh();
    expect(shelf.summaries.value).toEqual(listed.slice(0, 1));
  });
});

describe('what is erased', () => {
  test('leaves the list and the screen, and its edits cannot be turned any more, nor those it had a part in', async () => {
    const { shelf, id } = await shelfWithOne();
    const otherId = await shelf.create({ name: 'Other' });
    await shelf.edit(otherId, 'name', rename('Other, renamed'));
    await shelf.editBoth('move-piece', otherId, id, rename('One, fuller'), rename('Other, emptier'));
    await shelf.edit(id, 'notes', (record) => ({ ...record, notes: 'x' }));
    await shelf.undo();
    await shelf.open(otherId);
    expect([shelf.toUndo.value, shelf.toRedo.value]).toEqual(['move-piece', 'notes']);
    shelf.forget(id);
    expect(shelf.summaries.value.map((summary) => summary.id)).toEqual([otherId]);
    expect(shelf.record.value?.id).toBe(otherId);
    expect([shelf.toUndo.value, shelf.toRedo.value]).toEqual(['name', undefined]);
    shelf.forget(otherId);
    expect(shelf.record.value).toBeUndefined();
    expect(shelf.toUndo.value).toBeUndefined();
  });
});

describe('what is erased while nothing is open', () => {
  test('leaves the list all the same, and other tabs are told', async () => {
    const { ports, id, notices } = await shelfWithOne();
    const announced: string[] = [];
    const fresh = new Shelf({ ...ports, announce: (recordId) => void announced.push(recordId) }, notices);
    await fresh.refresh();
    expect(fresh.record.value).toBeUndefined();
    fresh.forget(id);
    expect(fresh.summaries.value).toEqual([]);
    expect(fresh.record.value).toBeUndefined();
    expect([fresh.toUndo.value, fresh.toRedo.value]).toEqual([undefined, undefined]);
    expect(announced).toEqual([id]);
    // Of what was never on the list, too.
    fresh.forget('nowhere');
    expect(announced).toEqual([id, 'nowhere']);
  });
});

describe('undo and redo', () => {
  test('are named by what they would turn, and a new edit ends what could be done again', async () => {
    const { shelf, id } = await shelfWithOne();
    expect([shelf.toUndo.value, shelf.toRedo.value]).toEqual([undefined, undefined]);
    await shelf.undo();
    await shelf.redo();
    await shelf.edit(id, 'name', rename('Two'));
    await shelf.edit(id, 'notes', (record) => ({ ...record, notes: 'x' }));
    expect([shelf.toUndo.value, shelf.toRedo.value]).toEqual(['notes', undefined]);
    await shelf.undo();
    expect([shelf.toUndo.value, shelf.toRedo.value]).toEqual(['name', 'notes']);
    await shelf.edit(id, 'model', (record) => ({ ...record, model: 'OM' }));
    expect([shelf.toUndo.value, shelf.toRedo.value]).toEqual(['model', undefined]);
  });

  test('go back two hundred edits and no further', async () => {
    const { shelf, id } = await shelfWithOne();
    for (let n = 1; n <= 201; n++) void shelf.edit(id, 'name', rename(`Name ${n}`));
    for (let n = 0; n < 201; n++) await shelf.undo();
    expect(shelf.record.value?.name).toBe('Name 1');
    expect(shelf.toUndo.value).toBeUndefined();
  });

  test('an edit that another tab has changed since cannot be undone, is said so and gives way to the one before', async () => {
    const { shelf, stored, notices, id } = await shelfWithOne();
    await shelf.edit(id, 'notes', (record) => ({ ...record, notes: 'mine' }));
    await shelf.edit(id, 'name', rename('Mine'));
    await shelf.flush();
    stored.set(id, { ...stored.get(id)!, name: 'Theirs' });
    await shelf.changedElsewhere(id);
    await shelf.undo();
    expect(notices.current.value).toEqual({ kind: 'cannot-undo' });
    expect(shelf.record.value).toMatchObject({ name: 'Theirs', notes: 'mine' });
    expect([shelf.toUndo.value, shelf.toRedo.value]).toEqual(['notes', undefined]);
    await shelf.undo();
    expect(shelf.record.value).toMatchObject({ name: 'Theirs', notes: '' });
  });

  test('two presses at once turn one edit', async () => {
    const { shelf, id } = await shelfWithOne();
    await shelf.edit(id, 'name', rename('Two'));
    await shelf.edit(id, 'name', rename('Three'));
    await Promise.all([shelf.undo(), shelf.undo()]);
    expect(shelf.record.value?.name).toBe('Two');
    await shelf.undo();
    expect(shelf.record.value?.name).toBe('One');
  });

  test('of an edit in two records, where one part no longer fits, turns neither', async () => {
    const { shelf, stored, notices, id } = await shelfWithOne();
    const otherId = await shelf.create({ name: 'Stock' });
    await shelf.open(id);
    await shelf.editBoth('move-piece', id, otherId, rename('Stock, fuller'), rename('One, emptier'));
    await shelf.flush();
    stored.set(otherId, { ...stored.get(otherId)!, name: 'Theirs' });
    await shelf.undo();
    expect(notices.current.value).toEqual({ kind: 'cannot-undo' });
    expect([shelf.record.value?.name, stored.get(otherId)?.name]).toEqual(['One, emptier', 'Theirs']);
  });

  test('an edit of one record is not done in that record twice', async () => {
    const { shelf, id } = await shelfWithOne();
    expect(await shelf.editBoth('move-piece', id, id, rename('Two'), rename('Three'))).toBe(false);
    expect(shelf.record.value?.name).toBe('One');
  });
});

describe('another tab', () => {
  test('that changed the open record is followed at once, with what is not stored here yet on top', async () => {
    const { shelf, stored, state, id } = await shelfWithOne();
    state.failing = true;
    await shelf.edit(id, 'notes', (record) => ({ ...record, notes: 'mine' }));
    stored.set(id, { ...stored.get(id)!, name: 'Theirs' });
    await shelf.changedElsewhere(id);
    expect(shelf.record.value).toMatchObject({ name: 'Theirs', notes: 'mine' });
    expect(shelf.summaries.value.map(({ name }) => name)).toEqual(['Theirs']);
  });

  test('that changed or erased another record only changes the list', async () => {
    const { shelf, stored, notices, id } = await shelfWithOne();
    const otherId = await shelf.create({ name: 'Other' });
    stored.set(id, { ...stored.get(id)!, name: 'Theirs' });
    await shelf.changedElsewhere(id);
    expect(shelf.record.value?.id).toBe(otherId);
    expect(shelf.summaries.value.map(({ name }) => name)).toEqual(['Theirs', 'Other']);
    stored.delete(id);
    await shelf.changedElsewhere(id);
    expect(notices.current.value).toBeUndefined();
    expect(shelf.summaries.value.map(({ name }) => name)).toEqual(['Other']);
  });

  test('that is quicker every time wins in the end, and this is said', async () => {
    const { shelf, notices, ports, id } = await shelfWithOne();
    let tries = 0;
    ports.saveChanges = async () => {
      tries++;
      return { kind: 'conflict', path: ['name'] };
    };
    await shelf.keep(id, (record) => ({ ...record, notes: 'kept' }));
    await shelf.flush();
    // Once, and five times more.
    expect(tries).toBe(6);
    expect(notices.current.value).toEqual({ kind: 'changed-elsewhere' });
    expect(shelf.record.value?.notes).toBe('');
  });
});

describe('what the browser refuses', () => {
  test('to list or to read is said with its reason', async () => {
    const { shelf, ports, notices } = await shelfWithOne();
    const refusing = (cause: unknown) => async () => {
      throw cause;
    };
    ports.listSummaries = refusing(new StorageError('refused', undefined));
    await shelf.refresh();
    expect(notices.current.value).toEqual({ kind: 'storage', reason: 'refused' });
    expect(shelf.summaries.value).toEqual([]);
    ports.loadRecord = refusing(new Error('what is this'));
    const before = shelf.record.value;
    await shelf.open('other');
    expect(notices.current.value).toEqual({ kind: 'storage', reason: 'unknown' });
    expect(shelf.record.value).toBe(before);
  });

  test('to store makes whoever needs it stored wait in vain, with the reason; once there is room all is well', async () => {
    const { shelf, state, id } = await shelfWithOne();
    state.failing = true;
    await shelf.edit(id, 'name', rename('Two'));
    await expect(shelf.stored()).rejects.toMatchObject({ name: 'StorageError', reason: 'full' });
    state.failing = false;
    await shelf.stored();
    expect(shelf.saving.value).toBe('saved');
  });

  test('a whole record that is not stored yet can be opened again with what was done to it', async () => {
    const { shelf, ports, id } = await shelfWithOne();
    const { putRecord } = ports;
    ports.putRecord = async () => {
      throw new StorageError('full', undefined);
    };
    const newId = await shelf.create({ name: 'Waits' });
    await shelf.edit(newId, 'notes', (record) => ({ ...record, notes: 'x' }));
    await shelf.open(id);
    await shelf.open(newId);
    expect(shelf.record.value).toMatchObject({ name: 'Waits', notes: 'x' });
    ports.putRecord = putRecord;
    await shelf.stored();
    expect(shelf.saving.value).toBe('saved');
  });

  test('while something is being stored the page says so', async () => {
    const { shelf, ports, id } = await shelfWithOne();
    let answer: () => void = () => undefined;
    const { saveChanges } = ports;
    ports.saveChanges = async (...given) => {
      await new Promise<void>((resolve) => {
        answer = resolve;
      });
      return saveChanges(...given);
    };
    await shelf.edit(id, 'name', rename('Two'));
    expect(shelf.saving.value).toBe('saving');
    const flushed = shelf.flush();
    answer();
    await flushed;
    expect(shelf.saving.value).toBe('saved');
  });
});

describe('what waits to be stored', () => {
  const refusing = async () => {
    throw new StorageError('refused', undefined);
  };

  test('where another tab changed the same place meanwhile theirs is shown, unless the edit holds whatever was done', async () => {
    const { shelf, stored, state, id } = await shelfWithOne();
    state.failing = true;
    await shelf.edit(id, 'name', rename('Mine'));
    stored.set(id, { ...stored.get(id)!, name: 'Theirs' });
    await shelf.changedElsewhere(id);
    expect(shelf.record.value?.name).toBe('Theirs');
    await shelf.keep(id, (record) => ({ ...record, notes: `${record.name}, and mine` }));
    stored.set(id, { ...stored.get(id)!, name: 'Theirs again', notes: 'theirs' });
    await shelf.changedElsewhere(id);
    expect(shelf.record.value).toMatchObject({ name: 'Theirs again', notes: 'Theirs again, and mine' });
  });

  test('of a record that is erased while another tab is quicker is given up, and this is said', async () => {
    const { shelf, stored, ports, notices, id } = await shelfWithOne();
    ports.saveChanges = async () => {
      stored.delete(id);
      return { kind: 'conflict', path: ['notes'] };
    };
    await shelf.keep(id, (record) => ({ ...record, notes: 'kept' }));
    await shelf.flush();
    expect(notices.current.value).toEqual({ kind: 'changed-elsewhere' });
    expect(shelf.saving.value).toBe('saved');
  });

  test('a browser that lets nothing be read keeps nobody from taking back what is on screen', async () => {
    const { shelf, ports, notices, id } = await shelfWithOne();
    await shelf.edit(id, 'name', rename('Two'));
    ports.loadRecord = refusing;
    expect(await shelf.current(id)).toEqual(shelf.record.value);
    await shelf.undo();
    expect(shelf.record.value?.name).toBe('One');
    expect(notices.current.value).toBeUndefined();
  });

  test('an edit that could be turned is no conflict, one that cannot be read stays', async () => {
    const { shelf, ports, notices, id } = await shelfWithOne();
    await shelf.edit(id, 'name', rename('Two'));
    await shelf.undo();
    expect(notices.current.value).toBeUndefined();
    await shelf.redo();
    await shelf.create({ name: 'Other' });
    ports.loadRecord = async () => undefined;
    await shelf.undo();
    expect(notices.current.value).toBeUndefined();
    expect(shelf.toUndo.value).toBe('name');
  });
});
