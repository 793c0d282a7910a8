// Whether what is stored will stay: the browser's promise, the room it takes, copies outside, and what has changed since.
import { promisifyRequest } from 'idb-keyval';
import { Database } from './database.ts';

const database = new Database('platewright-settings');
const copiesKey = 'copies';
const folderKey = 'copy-folder';

/** What is known of copies outside the browser. */
export interface Copies {
  /** things done since everything was last saved outside */
  readonly changes: number;
  /** when that was; undefined where it never was */
  readonly atIso: string | undefined;
  /** whether the browser was once asked to keep what is stored, or the maker did not want it to be */
  readonly promiseAsked?: boolean;
}

function asCopies(stored: unknown): Copies {
  const { changes, atIso, promiseAsked } = (typeof stored === 'object' && stored !== null ? stored : {}) as Record<
    string,
    unknown
  >;
  return {
    changes: typeof changes === 'number' && changes >= 0 ? changes : 0,
    atIso: typeof atIso === 'string' ? atIso : undefined,
    ...(promiseAsked === true ? { promiseAsked } : {}),
  };
}

/** @throws StorageError */
export async function loadCopies(): Promise<Copies> {
  return asCopies(await database.run('readonly', (store) => promisifyRequest<unknown>(store.get(copiesKey))));
}

/**
 * Counts on or begins anew, on top of what other tabs counted.
 * @returns how it stands now
 * @throws StorageError
 */
export async function changeCopies(change: (known: Copies) => Copies): Promise<Copies> {
  return database.update(copiesKey, (stored, store) => {
    const changed = change(asCopies(stored));
    store.put(changed, copiesKey);
    return changed;
  });
}

/** Whether the browser has promised not to clear what is stored; undefined where it does not say. */
export async function isPersisted(): Promise<boolean | undefined> {
  return navigator.storage?.persisted?.();
}

/** Asks for that promise. Some browsers ask the person, others decide by themselves. */
export async function askToPersist(): Promise<boolean | undefined> {
  return navigator.storage?.persist?.();
}

/** Bytes that this page takes of the disk, as the browser counts them; undefined where it does not say. */
export async function usedBytes(): Promise<number | undefined> {
  return (await navigator.storage?.estimate?.())?.usage;
}

interface PermissionAsked {
  queryPermission?(wanted: { readonly mode: 'readwrite' }): Promise<PermissionState>;
  requestPermission?(wanted: { readonly mode: 'readwrite' }): Promise<PermissionState>;
}
type Folder = FileSystemDirectoryHandle & PermissionAsked;
type WithPicker = Window & { showDirectoryPicker?(wanted: { readonly mode: 'readwrite' }): Promise<Folder> };

/** Whether this browser lets a page write into a folder of the person's choice. */
export const canChooseFolder = (): boolean => 'showDirectoryPicker' in window;

/** Name of the folder chosen before, if any. @throws StorageError */
export async function chosenFolder(): Promise<string | undefined> {
  return (await folder())?.name;
}

/** Lets the person choose a folder and remembers it; call inside a press. @returns its name, or undefined if none was chosen */
export async function chooseFolder(): Promise<string | undefined> {
  try {
    const chosen = await (window as WithPicker).showDirectoryPicker?.({ mode: 'readwrite' });
    if (chosen !== undefined)
      await database.run('readwrite', (store) => promisifyRequest(store.put(chosen, folderKey)));
    return chosen?.name;
  } catch (cause) {
    // The person closed the chooser, or the browser refused the folder.
    if (cause instanceof DOMException) return undefined;
    throw cause;
  }
}

export async function forgetFolder(): Promise<void> {
  await database.run('readwrite', (store) => promisifyRequest(store.delete(folderKey)));
}

/**
 * Opens the chosen folder for writing.
 * @param mayAsk inside a press the browser may ask the person again; else a folder that needs asking is refused
 * @returns a function that writes a file, whole or not at all, or why there is none
 */
export async function openFolder(
  mayAsk: boolean,
): Promise<((name: string, type: string, bytes: Uint8Array) => Promise<void>) | 'none' | 'refused'> {
  const chosen = await folder();
  if (chosen === undefined) return 'none';
  const wanted = { mode: 'readwrite' } as const;
  const asked = (await chosen.queryPermission?.(wanted)) ?? 'granted';
  const state = asked === 'prompt' && mayAsk ? ((await chosen.requestPermission?.(wanted)) ?? 'granted') : asked;
  if (state !== 'granted') return 'refused';
  return async (name, _type, bytes) => {
    const file = await chosen.getFileHandle(name, { create: true });
    const stream = await file.createWritable();
    await stream.write(new Uint8Array(bytes));
    // What was written takes the place of an older file only now.
    await stream.close();
  };
}

const folder = (): Promise<Folder | undefined> =>
  database.run('readonly', (store) => promisifyRequest<Folder | undefined>(store.get(folderKey)));
