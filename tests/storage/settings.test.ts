import 'fake-indexeddb/auto';
import { promisifyRequest } from 'idb-keyval';
import { describe, expect, test } from 'vitest';
import { Database } from '../../src/storage/database.ts';
import { defaultSettings, loadSettings, type Settings, saveSettings } from '../../src/storage/settings.ts';

const plant = (stored: unknown) =>
  new Database('platewright-settings').run('readwrite', (store) => promisifyRequest(store.put(stored, 'settings')));

/** What a setting becomes that lay in the database as given, among others that are in order. */
async function taken(key: keyof Settings, value: unknown): Promise<unknown> {
  await plant({ ...defaultSettings, theme: 'dark', [key]: value });
  const loaded = await loadSettings();
  if (key !== 'theme') expect(loaded.theme).toBe('dark');
  return loaded[key];
}

const words = (length: number) => 'x'.repeat(length);

/** What the page offers, edge by edge, and the nearest that it does not. */
const ranges: readonly (readonly [
  keyof Settings,
  usual: unknown,
  good: readonly unknown[],
  bad: readonly unknown[],
])[] = [
  ['tapsPerHold', 8, [1, 40], [0, 41, 2.5, '8', null]],
  ['holdsPerRound', 3, [1, 10], [0, 11, 2.5, '3']],
  ['holdPauseS', 6, [2, 60], [1, 61, 5.5]],
  ['a4Hz', 440, [380, 432.5, 480], [379.9, 480.1, Number.NaN, '440']],
  ['length', 'mm', ['mm', 'inch'], ['cm', '']],
  ['mass', 'g', ['g', 'oz'], ['kg', '']],
  ['temperature', 'c', ['c', 'f'], ['k', '']],
  ['theme', 'system', ['system', 'light', 'dark'], ['blue', '']],
  ['feedback', 'silent', ['silent', 'tones', 'spoken'], ['loud', '']],
  ['spaceBar', true, [true, false], ['yes', 1]],
  ['isWelcomed', false, [true, false], ['yes', 1]],
  ['deviceId', undefined, ['an id', undefined], [7]],
  ['deviceLabel', '', ['', words(300)], [words(301), 7]],
  // Usual is 12 dB: a tap four times as large as the room's noise.
  ['loudEnoughDb', 12, [6, 40], [5.9, 40.1]],
  ['loudestDb', 0, [-20, 0], [-20.1, 0.1]],
  ['hygrometer', '', ['', words(200)], [words(201), 7]],
  ['hygrometerOffsetPercent', 0, [-30, 30], [-30.1, 30.1]],
  ['hygrometerSigmaPercent', 3, [0, 15], [-0.1, 15.1]],
  ['gluingLowPercent', 40, [5, 95], [4.9, 95.1]],
  ['gluingHighPercent', 50, [5, 95], [4.9, 95.1]],
  ['rulerMm', 0.5, [0.001, 20], [0, 20.1]],
  ['caliperMm', 0.05, [0.001, 5], [0, 5.1]],
  ['scaleG', 0.5, [0.001, 100], [0, 100.1]],
  ['sandingMm', 0.15, [0, 3], [-0.1, 3.1]],
  ['makerName', '', ['', words(200)], [words(201), 7]],
  ['language', 'en', ['de', words(35)], [words(36), 7]],
  ['openRecordId', undefined, ['an id', undefined], [7]],
];

describe('what the maker prefers', () => {
  test('a machine that has none yet has the usual ones, and there is none without its range here', async () => {
    expect(await loadSettings()).toEqual(defaultSettings);
    // What is usually absent is no key of the usual settings.
    const keys = new Set([...Object.keys(defaultSettings), 'deviceId', 'openRecordId']);
    expect(new Set(ranges.map(([key]) => key))).toEqual(keys);
    for (const [key, usual] of ranges) expect([key, defaultSettings[key]]).toEqual([key, usual]);
  });

  test.each(ranges)('%s: usually %j', async (key, usual, good, bad) => {
    for (const value of good) expect(await taken(key, value)).toBe(value);
    // What is out of range falls back alone: the others stay as they were.
    for (const value of bad) expect([value, await taken(key, value)]).toEqual([value, usual]);
  });

  test('what is saved comes back, and what is no setting at all is the usual ones', async () => {
    await saveSettings({ ...defaultSettings, a4Hz: 442, makerName: 'Me' });
    expect(await loadSettings()).toEqual({ ...defaultSettings, a4Hz: 442, makerName: 'Me' });
    await plant('nothing of the kind');
    expect(await loadSettings()).toEqual(defaultSettings);
  });
});
