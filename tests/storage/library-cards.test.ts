import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import { cardOf } from '../../src/compare/library.ts';
import { newRecord } from '../../src/record/record.ts';
import { loadCards, putCards } from '../../src/storage/library-cards.ts';

const at = (day: number) => `2026-11-${day}T08:00:00.000Z`;
const stored = (id: string, name: string, day: number) => ({
  id,
  changedAtIso: at(day),
  card: cardOf(newRecord({ id, createdAtIso: at(10), name })),
});

test('cards are kept by their record: a newer one takes the place of the older, others stay', async () => {
  expect(await loadCards()).toEqual([]);
  await putCards([stored('a', 'First', 11), stored('b', 'Second', 11)]);
  const newer = stored('a', 'First, renamed', 12);
  await putCards([newer]);
  await putCards([]);
  const byId = (await loadCards()).toSorted((one, other) => one.id.localeCompare(other.id));
  expect(byId).toEqual([newer, stored('b', 'Second', 11)]);
});

test('cards are stored when it is said so, not a moment later', async () => {
  const { transaction } = IDBDatabase.prototype;
  let isCommitted = false;
  IDBDatabase.prototype.transaction = function (this: IDBDatabase, ...given) {
    const asked = transaction.apply(this, given);
    asked.addEventListener('complete', () => {
      isCommitted = true;
    });
    return asked;
  };
  try {
    await putCards([stored('c', 'Third', 13)]);
    expect(isCommitted).toBe(true);
  } finally {
    IDBDatabase.prototype.transaction = transaction;
  }
});
