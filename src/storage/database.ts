// The only door to the browser's database. Every call goes through here, so that a lost connection is opened again
// once and everything else becomes one error with a reason.
import { promisifyRequest, type UseStore } from 'idb-keyval';

/** Why something could not be stored or fetched. */
export type StorageRefusal = 'full' | 'refused' | 'unknown';

export class StorageError extends Error {
  override readonly name = 'StorageError';
  readonly reason: StorageRefusal;
  constructor(reason: StorageRefusal, cause: unknown) {
    super(`storage: ${reason}`, { cause });
    this.reason = reason;
  }
}

/** Layout of every database: one store of values under keys given by us. */
const layout = 1;
const storeName = 'values';

/** A database of one store that survives its connection being closed behind its back. */
export class Database {
  private connection: Promise<IDBDatabase> | undefined;
  private readonly name: string;
  private readonly durability: IDBTransactionDurability;

  /**
   * @param durability `strict` where what is written cannot be had again: the browser answers only when it is on the disk,
   *                   not when the system has promised to put it there
   */
  constructor(name: string, durability: IDBTransactionDurability = 'relaxed') {
    this.name = name;
    this.durability = durability;
  }

  /** The store as idb-keyval takes it. */
  readonly store: UseStore = (mode, work) => this.run(mode, work);

  /**
   * Runs one transaction.
   * @param work must issue its requests synchronously and return the promise of its result
   * @throws StorageError
   */
  async run<T>(mode: IDBTransactionMode, work: (store: IDBObjectStore) => T | PromiseLike<T>): Promise<T> {
    try {
      return await this.once(mode, work);
    } catch (cause) {
      // Browsers close idle connections, above all on phones; the next try opens a fresh one.
      if (!(cause instanceof DOMException) || cause.name !== 'InvalidStateError') throw asStorageError(cause);
      this.connection = undefined;
    }
    try {
      return await this.once(mode, work);
    } catch (cause) {
      throw asStorageError(cause);
    }
  }

  /**
   * Reads a value and writes what follows from it in one transaction.
   * @param work gets what is stored under the key; may put and delete in the store; its answer is what this resolves to
   * @throws StorageError with the browser's own reason, also where a write is refused at once
   */
  async update<T>(key: string, work: (stored: unknown, store: IDBObjectStore) => T): Promise<T> {
    return this.run(
      'readwrite',
      (store) =>
        new Promise<T>((resolve, reject) => {
          const { transaction } = store;
          const get: IDBRequest<unknown> = store.get(key);
          get.onsuccess = () => {
            try {
              const answer = work(get.result, store);
              transaction.oncomplete = () => resolve(answer);
            } catch (cause) {
              // Left to the browser, an exception in this handler would become an abort without a reason.
              reject(cause);
              transaction.abort();
            }
          };
          transaction.onabort = () => reject(transaction.error);
        }),
    );
  }

  private async once<T>(mode: IDBTransactionMode, work: (store: IDBObjectStore) => T | PromiseLike<T>): Promise<T> {
    this.connection ??= this.open().catch((cause: unknown) => {
      this.connection = undefined;
      throw cause;
    });
    const connection = await this.connection;
    const transaction = connection.transaction(storeName, mode, { durability: this.durability });
    let failed: DOMException | null = null;
    transaction.addEventListener('error', ({ target }) => {
      failed = (target as IDBRequest).error;
    });
    try {
      return await work(transaction.objectStore(storeName));
    } catch (cause) {
      // A transaction that is told of a request's error has no reason of its own yet.
      throw cause ?? failed;
    }
  }

  private async open(): Promise<IDBDatabase> {
    const request = indexedDB.open(this.name, layout);
    request.onupgradeneeded = () => request.result.createObjectStore(storeName);
    const connection = await promisifyRequest(request);
    const forget = () => {
      this.connection = undefined;
    };
    connection.onclose = forget;
    // A later page that needs another layout must not wait for this one to be closed.
    connection.onversionchange = () => {
      forget();
      connection.close();
    };
    return connection;
  }
}

function asStorageError(cause: unknown): unknown {
  if (!(cause instanceof DOMException)) return cause;
  if (cause.name === 'QuotaExceededError') return new StorageError('full', cause);
  if (cause.name === 'SecurityError' || cause.name === 'InvalidStateError' || cause.name === 'UnknownError')
    return new StorageError('refused', cause);
  return new StorageError('unknown', cause);
}
