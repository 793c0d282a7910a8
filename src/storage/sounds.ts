// The taps' audio and the photographs, each under its own key, fetched only when they are looked at.
import { promisifyRequest } from 'idb-keyval';
import type { Tap } from '../signal/tap.ts';
import { Database } from './database.ts';

const database = new Database('platewright-sounds');
const tapKey = (id: string): string => `tap:${id}`;
const photoKey = (id: string): string => `photo:${id}`;

/** Stores taps as recorded, all or none. */
export async function putTaps(taps: readonly (readonly [string, Tap])[]): Promise<void> {
  await put(taps.map(([id, tap]) => [tapKey(id), tap]));
}

/** The taps asked for, in order; undefined where the audio is not here. */
export async function getTaps(ids: readonly string[]): Promise<readonly (Tap | undefined)[]> {
  return database.run('readonly', (store) =>
    Promise.all(ids.map((id) => promisifyRequest<Tap | undefined>(store.get(tapKey(id))))),
  );
}

/** Stores a photograph. */
export async function putPhoto(id: string, photo: Blob): Promise<void> {
  await put([[photoKey(id), photo]]);
}

/** A photograph, or undefined where it is not here. */
export async function getPhoto(id: string): Promise<Blob | undefined> {
  return database.run('readonly', (store) => promisifyRequest<Blob | undefined>(store.get(photoKey(id))));
}

/** Ids of every tap and photograph that is here; no sound is loaded. */
export async function soundIds(): Promise<{
  readonly taps: ReadonlySet<string>;
  readonly photos: ReadonlySet<string>;
}> {
  const keys = await database.run('readonly', (store) => promisifyRequest(store.getAllKeys()));
  const named = keys.filter((key) => typeof key === 'string');
  const of = (prefix: string): ReadonlySet<string> =>
    new Set(named.filter((key) => key.startsWith(prefix)).map((key) => key.slice(prefix.length)));
  return { taps: of(tapKey('')), photos: of(photoKey('')) };
}

/** Removes the audio and photographs given. */
export async function removeSounds(tapIds: readonly string[], photoIds: readonly string[]): Promise<void> {
  await database.run('readwrite', (store) => {
    for (const id of tapIds) store.delete(tapKey(id));
    for (const id of photoIds) store.delete(photoKey(id));
    return promisifyRequest(store.transaction);
  });
}

async function put(entries: readonly (readonly [string, Tap | Blob])[]): Promise<void> {
  await database.run('readwrite', (store) => {
    for (const [key, value] of entries) store.put(value, key);
    return promisifyRequest(store.transaction);
  });
}
