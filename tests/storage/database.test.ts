import 'fake-indexeddb/auto';
import { promisifyRequest } from 'idb-keyval';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { Database, StorageError } from '../../src/storage/database.ts';

afterEach(() => {
  vi.restoreAllMocks();
});

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

describe('what the browser refuses', () => {
  test.each([
    ['QuotaExceededError', 'full'],
    ['SecurityError', 'refused'],
    ['InvalidStateError', 'refused'],
    ['UnknownError', 'refused'],
    ['VersionError', 'unknown'],
  ])(
    '%s is one error with a reason and its cause, when the database is opened and when it is used',
    async (name, reason) => {
      const cause = new DOMException('', name);
      const refuse = () => {
        throw cause;
      };
      const opening = vi.spyOn(indexedDB, 'open').mockImplementation(refuse);
      const database = new Database(`refused-${name}`);
      const refusal = { name: 'StorageError', message: `storage: ${reason}`, reason, cause };
      await expect(read(database, 'k')).rejects.toMatchObject(refusal);
      opening.mockRestore();
      // What was refused once may be allowed the next time.
      expect(await read(database, 'k')).toBeUndefined();
      vi.spyOn(IDBDatabase.prototype, 'transaction').mockImplementation(refuse);
      const used = await read(database, 'k').catch((thrown: unknown) => thrown);
      expect(used).toBeInstanceOf(StorageError);
      expect(used).toMatchObject(refusal);
    },
  );

  test('a connection found closed is opened anew, and only that: other refusals are not tried again', async () => {
    const tries = async (name: string) => {
      const database = new Database(`tries-${name}`);
      const opening = vi.spyOn(indexedDB, 'open').mockImplementation(() => {
        throw new DOMException('', name);
      });
      await read(database, 'k').catch(() => undefined);
      const { calls } = opening.mock;
      opening.mockRestore();
      return calls.length;
    };
    expect(await tries('InvalidStateError')).toBe(2);
    expect(await tries('UnknownError')).toBe(1);
  });

  test('a fault of ours stays what it is', async () => {
    const fault = new TypeError('ours');
    const working = new Database('ours').run('readonly', () => {
      throw fault;
    });
    await expect(working).rejects.toBe(fault);
  });

  test('a write that is refused at the end of its transaction is refused with the browser’s reason', async () => {
    const database = new Database('late');
    // A key that is there already: the request fails, and the transaction with it.
    const putTwice = (store: IDBObjectStore) => {
      store.put(1, 'k');
      store.add(2, 'k');
    };
    const updated = database.update('k', (_, store) => putTwice(store));
    const run = database.run('readwrite', (store) => {
      putTwice(store);
      return promisifyRequest(store.transaction);
    });
    for (const asked of [updated, run])
      await expect(asked).rejects.toMatchObject({ reason: 'unknown', cause: { name: 'ConstraintError' } });
    expect(await read(database, 'k')).toBeUndefined();
  });
});

describe('connections', () => {
  test('one serves all calls, until the browser closes it', async () => {
    const opening = vi.spyOn(indexedDB, 'open');
    const made: IDBDatabase[] = [];
    const { transaction } = IDBDatabase.prototype;
    vi.spyOn(IDBDatabase.prototype, 'transaction').mockImplementation(function (this: IDBDatabase, ...given) {
      made.push(this);
      return transaction.apply(this, given);
    });
    const database = new Database('one');
    await Promise.all([read(database, 'a'), read(database, 'b')]);
    await read(database, 'c');
    expect(opening).toHaveBeenCalledTimes(1);
    made[0]!.onclose?.(new Event('close'));
    await read(database, 'd');
    expect(opening).toHaveBeenCalledTimes(2);
  });

  test('one that gave way to another layout is not used again: while that one stands, this page is refused', async () => {
    const database = new Database('gave-way');
    await read(database, 'k');
    const later = indexedDB.open('gave-way', 2);
    await new Promise((resolve) => {
      later.onsuccess = resolve;
    });
    later.result.close();
    await expect(read(database, 'k')).rejects.toMatchObject({ reason: 'unknown', cause: { name: 'VersionError' } });
  });

  test('what can be had again need not be on the disk before it is answered', async () => {
    const asked: unknown[] = [];
    const { transaction } = IDBDatabase.prototype;
    vi.spyOn(IDBDatabase.prototype, 'transaction').mockImplementation(function (
      this: IDBDatabase,
      names,
      mode,
      options,
    ) {
      if (mode === 'readwrite' || mode === 'readonly') asked.push([mode, options?.durability]);
      return transaction.call(this, names, mode, options);
    });
    const usual = new Database('usual');
    await usual.store('readwrite', (store) => promisifyRequest(store.put(1, 'k')));
    expect(await read(usual, 'k')).toBe(1);
    expect(asked).toEqual([
      ['readwrite', 'relaxed'],
      ['readonly', 'relaxed'],
    ]);
  });
});
