import 'fake-indexeddb/auto';
import { promisifyRequest } from 'idb-keyval';
import { describe, expect, test } from 'vitest';
import { Database } from '../../src/storage/database.ts';

const read = (database: Database, key: string) =>
  database.run('readonly', (store) => promisifyRequest<unknown>(store.get(key)));

describe('the door to the database', () => {
  test('a write is answered when it is committed: where the transaction is given up later, it is refused', async () => {
    const database = new Database('commit');
    await database.update('k', (_, store) => store.put('before', 'k'));
    const asked = database.update('k', (_, store) => {
      store.put('after', 'k');
      queueMicrotask(() => store.transaction.abort());
    });
    expect(await asked.then(() => 'answered').catch(() => 'refused')).toBe('refused');
    expect(await read(database, 'k')).toBe('before');
  });

  test('a connection that the browser closed behind its back is opened again, once for each call', async () => {
    const database = new Database('idle');
    await database.update('k', (_, store) => store.put(1, 'k'));
    const { transaction } = IDBDatabase.prototype;
    const closed = new Set<IDBDatabase>();
    let refusals = 0;
    IDBDatabase.prototype.transaction = function (this: IDBDatabase, ...given) {
      if (!closed.has(this) && refusals === 0) closed.add(this);
      if (closed.has(this)) {
        refusals++;
        throw new DOMException('The database connection is closing.', 'InvalidStateError');
      }
      return transaction.apply(this, given);
    };
    try {
      expect(await read(database, 'k')).toBe(1);
      expect(refusals).toBe(1);
    } finally {
      IDBDatabase.prototype.transaction = transaction;
    }
  });

  test('a page that wants another layout need not wait for this one to be closed', async () => {
    const database = new Database('layout');
    await database.update('k', (_, store) => store.put(1, 'k'));
    const later = indexedDB.open('layout', 2);
    const blocked = new Promise<string>((resolve) => {
      later.onblocked = () => resolve('blocked');
      later.onsuccess = () => resolve('opened');
    });
    expect(await blocked).toBe('opened');
    later.result.close();
  });

  test('what the work throws comes out as it is, and nothing is written', async () => {
    const database = new Database('throws');
    const wrong = new RangeError('not this');
    await expect(
      database.update('k', (_, store) => {
        store.put(1, 'k');
        throw wrong;
      }),
    ).rejects.toBe(wrong);
    expect(await read(database, 'k')).toBeUndefined();
  });
});
