import 'fake-indexeddb/auto';
import { describe, expect, test } from 'vitest';
import { changesBetween } from '../../src/record/change.ts';
import { newRecord } from '../../src/record/record.ts';
import { defaultSettings, loadSettings, saveSettings } from '../../src/storage/settings.ts';
import { listSummaries, loadRecord, putRecord, removeRecord, saveChanges } from '../../src/storage/shelf.ts';
import { getTaps, putTaps } from '../../src/storage/sounds.ts';

const at = '2026-11-25T08:00:00.000Z';
const fresh = (id: string) => newRecord({ id, createdAtIso: at, name: `Instrument ${id}` });

describe('the shelf', () => {
  test('what is put comes back, and its summary is listed', async () => {
    await putRecord(fresh('a'), at);
    expect(await loadRecord('a')).toEqual({ kind: 'record', record: fresh('a') });
    expect((await listSummaries()).map((summary) => summary.name)).toContain('Instrument a');
  });

  test('changes from two tabs to different fields are both kept', async () => {
    const before = fresh('b');
    await putRecord(before, at);
    await saveChanges('b', changesBetween(before, { ...before, notes: 'from tab one' }), at);
    const second = await saveChanges('b', changesBetween(before, { ...before, model: 'from tab two' }), at);
    expect(second).toMatchObject({ kind: 'saved', record: { notes: 'from tab one', model: 'from tab two' } });
  });

  test('a change to a field that another tab has changed is a conflict and alters nothing', async () => {
    const before = fresh('c');
    await putRecord({ ...before, name: 'theirs' }, at);
    expect(await saveChanges('c', changesBetween(before, { ...before, name: 'mine' }), at)).toEqual({
      kind: 'conflict',
      path: ['name'],
    });
    expect(await loadRecord('c')).toMatchObject({ record: { name: 'theirs' } });
  });

  test('a record removed in another tab is gone, not made anew from the changes', async () => {
    const before = fresh('d');
    await putRecord(before, at);
    await removeRecord('d');
    expect(await saveChanges('d', changesBetween(before, { ...before, notes: 'x' }), at)).toEqual({ kind: 'gone' });
    expect(await loadRecord('d')).toBeUndefined();
  });

  test('a tap comes back sample by sample; one that was never stored is undefined', async () => {
    const tap = { samples: Float32Array.of(0, 0.5, -0.25), sampleRateHz: 48_000, onsetIndex: 1 };
    await putTaps([['t1', tap]]);
    expect(await getTaps(['t1', 'nowhere'])).toEqual([tap, undefined]);
  });
});

describe('settings', () => {
  test('are the defaults at first, and whatever is out of range falls back alone', async () => {
    expect(await loadSettings()).toEqual(defaultSettings);
    await saveSettings({ ...defaultSettings, a4Hz: 442, tapsPerHold: 4000 });
    expect(await loadSettings()).toEqual({ ...defaultSettings, a4Hz: 442 });
  });
});
