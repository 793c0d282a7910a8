// The taps' audio and the photographs, each under its own key, fetched only when they are looked at.
import { delMany, get, getMany, keys, setMany } from 'idb-keyval';
import type { Tap } from '../signal/tap.ts';
import { Database } from './database.ts';

const { store } = new Database('platewright-sounds', 'strict');
const tapKey = (id: string): string => `tap:${id}`;
const photoKey = (id: string): string => `photo:${id}`;

/** Stores taps as recorded, all or none. */
export const putTaps = (taps: readonly (readonly [string, Tap])[]): Promise<void> =>
  setMany(
    taps.map(([id, tap]) => [tapKey(id), tap]),
    store,
  );

/** The taps asked for, in order; undefined where the audio is not here. */
export const getTaps = (ids: readonly string[]): Promise<readonly (Tap | undefined)[]> =>
  getMany<Tap>(ids.map(tapKey), store);

/** Stores a photograph. */
export const putPhoto = (id: string, photo: Blob): Promise<void> => setMany([[photoKey(id), photo]], store);

/** A photograph, or undefined where it is not here. */
export const getPhoto = (id: string): Promise<Blob | undefined> => get<Blob>(photoKey(id), store);

/** Ids of every tap and photograph that is here; no sound is loaded. */
export async function soundIds(): Promise<{
  readonly taps: ReadonlySet<string>;
  readonly photos: ReadonlySet<string>;
}> {
  const named = (await keys(store)).filter((key) => typeof key === 'string');
  const of = (prefix: string): ReadonlySet<string> =>
    new Set(named.filter((key) => key.startsWith(prefix)).map((key) => key.slice(prefix.length)));
  return { taps: of(tapKey('')), photos: of(photoKey('')) };
}

/** Removes the audio and photographs given. */
export const removeSounds = (tapIds: readonly string[], photoIds: readonly string[]): Promise<void> =>
  delMany([...tapIds.map(tapKey), ...photoIds.map(photoKey)], store);
