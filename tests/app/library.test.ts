import { describe, expect, test } from 'vitest';
import { Library } from '../../src/app/library.ts';
import { Notices } from '../../src/app/notices.ts';
import { Shelf } from '../../src/app/shelf.ts';
import { applyChanges, type Change } from '../../src/record/change.ts';
import type { InstrumentRecord, RecordSummary } from '../../src/record/record.ts';
import { StorageError } from '../../src/storage/database.ts';
import type { StoredCard } from '../../src/storage/library-cards.ts';
import { story } from '../compare/story.ts';

/** A machine with records in memory that counts how often one is read. */
async function workshop(names: readonly string[], keepsCards = true) {
  const records = new Map<string, InstrumentRecord>(
    names.map((name) => [name, { ...story([{ modesHz: [180, 270] }]), id: name, name }]),
  );
  const changedAt = new Map<string, string>();
  const cards = new Map<string, StoredCard>();
  const read: string[] = [];
  let ids = 0;
  const loadRecord = async (id: string) => {
    const record = records.get(id);
    return record === undefined ? undefined : { kind: 'record' as const, record };
  };
  const ports = {
    listSummaries: async () =>
      [...records.values()].map(
        (record): RecordSummary => ({
          id: record.id,
          kind: record.kind,
          name: record.name,
          model: record.model,
          hand: record.hand,
          stage: 'braced',
          steps: record.steps.length,
          changedAtIso: changedAt.get(record.id) ?? '2026-11-25T08:00:00.000Z',
          archived: record.archived,
          deleted: record.deletedAtIso !== undefined,
        }),
      ),
    loadRecord,
    putRecord: async () => undefined,
    saveChanges: async (id: string, changes: readonly Change[]) => {
      const applied = applyChanges(records.get(id)!, changes);
      if (applied.kind === 'conflict') return applied;
      records.set(id, applied.document);
      return { kind: 'saved' as const, record: applied.document };
    },
    announce: () => undefined,
    countEdit: () => undefined,
    nowIso: () => '2026-11-25T09:00:00.000Z',
    newId: () => `id${++ids}`,
    loadCards: async () => {
      if (!keepsCards) throw new StorageError('refused', undefined);
      return [...cards.values()];
    },
    putCards: async (made: readonly StoredCard[]) => {
      if (!keepsCards) throw new StorageError('refused', undefined);
      for (const card of made) cards.set(card.id, card);
    },
  };
  const shelf = new Shelf(ports, new Notices());
  await shelf.refresh();
  const peek = async (id: string) => {
    read.push(id);
    return records.get(id);
  };
  const library = () => new Library(ports, shelf, peek);
  return { library, shelf, records, changedAt, cards, read };
}

const names = (library: Library) => library.cards.value.map(({ facts }) => facts.name).toSorted();

describe('the cards of the library', () => {
  test('a record is read once; later only those that changed are', async () => {
    const { library, shelf, records, changedAt, read } = await workshop(['a', 'b', 'c']);
    await library().load();
    expect(read.toSorted()).toEqual(['a', 'b', 'c']);
    const again = library();
    await again.load();
    expect(read).toHaveLength(3);
    expect(names(again)).toEqual(['a', 'b', 'c']);
    records.set('b', { ...records.get('b')!, name: 'b renamed' });
    changedAt.set('b', '2026-11-25T08:30:00.000Z');
    await shelf.refresh();
    await again.load();
    expect(read).toEqual([...read.slice(0, 3), 'b']);
    expect(names(again)).toEqual(['a', 'b renamed', 'c']);
  });

  test('a card made by another version of the method is made anew', async () => {
    const { library, cards, read } = await workshop(['a']);
    await library().load();
    const card = cards.get('a')!;
    cards.set('a', { ...card, card: { ...card.card, method: 'library-card/0' } });
    await library().load();
    expect(read).toEqual(['a', 'a']);
  });

  test('what lies in the bin, sticks and stock have no card', async () => {
    const { library, shelf, records } = await workshop(['a', 'binned', 'stick']);
    records.set('binned', { ...records.get('binned')!, deletedAtIso: '2026-11-25T08:00:00.000Z' });
    records.set('stick', { ...records.get('stick')!, kind: 'reference-stick' });
    await shelf.refresh();
    const made = library();
    await made.load();
    expect(names(made)).toEqual(['a']);
  });

  test('twelve are read at a time, and shown while the others are still to come', async () => {
    const many = Array.from({ length: 25 }, (_, i) => `r${i}`);
    const { library, cards } = await workshop(many);
    const made = library();
    const seen: (readonly [number, number])[] = [];
    made.waiting.subscribe((waiting) => seen.push([waiting, made.cards.value.length]));
    await made.load();
    expect(seen).toEqual([
      [0, 0],
      [25, 0],
      [13, 12],
      [1, 24],
      [0, 25],
    ]);
    expect(cards.size).toBe(25);
  });

  test('one that cannot be read has no card, and is looked for again the next time', async () => {
    const { library, records, read } = await workshop(['a', 'b']);
    const lost = records.get('b')!;
    records.delete('b');
    const made = library();
    await made.load();
    expect(names(made)).toEqual(['a']);
    expect(made.waiting.value).toBe(0);
    records.set('b', lost);
    await made.load();
    expect(names(made)).toEqual(['a', 'b']);
    expect(read).toEqual(['a', 'b', 'b']);
  });

  test('asked for twice at once, they are read once', async () => {
    const { library, read } = await workshop(['a', 'b']);
    const made = library();
    await Promise.all([made.load(), made.load()]);
    expect(read).toEqual(['a', 'b']);
  });

  test('a browser that keeps nothing still has a library', async () => {
    const { library } = await workshop(['a', 'b'], false);
    const made = library();
    await made.load();
    expect(names(made)).toEqual(['a', 'b']);
    expect(made.waiting.value).toBe(0);
  });
});

test('aiming gives the open instrument all targets in one edit; those of the same modes and stage give way', async () => {
  const { library, shelf } = await workshop(['a']);
  await shelf.open('a');
  const old = (mode: string, stage: 'braced' | 'closed') =>
    ({ id: `${mode}-${stage}`, mode, stage, frequencyHz: 150, toleranceHz: 1, origin: 'typed' }) as const;
  const before = [old('monopole', 'braced'), old('monopole', 'closed'), old('twist', 'braced')];
  await shelf.edit('a', undefined, (record) => ({ ...record, targets: before }));
  library().aim(
    'braced',
    [
      { mode: 'monopole', stage: 'braced', frequencyHz: 182, toleranceHz: 2 },
      { mode: 'cross dipole', stage: 'braced', frequencyHz: 270, toleranceHz: 3 },
    ],
    'my last three',
  );
  const aimed = shelf.record.value?.targets.slice(2) ?? [];
  expect(new Set(aimed.map(({ id }) => id)).size).toBe(2);
  expect(aimed.map(({ origin, toleranceHz }) => [origin, toleranceHz])).toEqual([
    ['my last three', 2],
    ['my last three', 3],
  ]);
  const targets = () =>
    shelf.record.value?.targets.map(({ mode, stage, frequencyHz }) => `${mode} ${stage} ${frequencyHz}`);
  expect(targets()).toEqual([
    'monopole closed 150',
    'twist braced 150',
    'monopole braced 182',
    'cross dipole braced 270',
  ]);
  await shelf.undo();
  expect(shelf.record.value?.targets).toEqual(before);
});

test('with no instrument open nothing is aimed at', async () => {
  const { library, shelf } = await workshop(['a']);
  library().aim('braced', [{ mode: 'monopole', stage: 'braced', frequencyHz: 182, toleranceHz: 2 }], 'mine');
  expect([shelf.record.value, shelf.toUndo.value]).toEqual([undefined, undefined]);
});
