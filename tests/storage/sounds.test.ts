import 'fake-indexeddb/auto';
import { promisifyRequest } from 'idb-keyval';
import { expect, test } from 'vitest';
import { Database } from '../../src/storage/database.ts';
import { getPhoto, getTaps, putPhoto, putTaps, removeSounds, soundIds } from '../../src/storage/sounds.ts';

const tap = (mark: number) => ({ samples: Float32Array.of(0, mark), sampleRateHz: 48_000, onsetIndex: 1 });

test('taps and photographs lie apart, also under one id; each is listed, fetched and removed as what it is', async () => {
  expect(await soundIds()).toEqual({ taps: new Set(), photos: new Set() });
  await putTaps([
    ['one', tap(0.1)],
    ['two', tap(0.2)],
  ]);
  await putPhoto('one', new Blob(['a picture']));
  expect(await soundIds()).toEqual({ taps: new Set(['one', 'two']), photos: new Set(['one']) });
  expect(await getTaps(['two', 'nowhere', 'one'])).toEqual([tap(0.2), undefined, tap(0.1)]);
  expect(await getPhoto('one')).toBeDefined();
  expect(await getPhoto('two')).toBeUndefined();
  await removeSounds(['one'], []);
  expect(await soundIds()).toEqual({ taps: new Set(['two']), photos: new Set(['one']) });
  await removeSounds(['two'], ['one']);
  expect(await soundIds()).toEqual({ taps: new Set(), photos: new Set() });
  expect(await getTaps(['one'])).toEqual([undefined]);
  expect(await getPhoto('one')).toBeUndefined();
});

test('what an earlier page stored is found again', async () => {
  await new Database('platewright-sounds').run('readwrite', (store) => {
    store.put(tap(0.3), 'tap:old');
    return promisifyRequest(store.put(new Blob(['old']), 'photo:old'));
  });
  expect(await getTaps(['old'])).toEqual([tap(0.3)]);
  expect(await getPhoto('old')).toBeDefined();
  await removeSounds(['old'], ['old']);
});
