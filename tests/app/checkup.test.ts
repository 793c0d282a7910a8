import { describe, expect, test } from 'vitest';
import { Checkup } from '../../src/app/checkup.ts';
import { Notices } from '../../src/app/notices.ts';
import { Preferences } from '../../src/app/preferences.ts';
import { Records } from '../../src/app/records.ts';
import { Rereading } from '../../src/app/rereading.ts';
import { tapIds } from '../../src/record/archive.ts';
import { StorageError } from '../../src/storage/database.ts';
import { defaultSettings } from '../../src/storage/settings.ts';
import { records as stored } from '../../src/storage/shelf.ts';
import { removeSounds } from '../../src/storage/sounds.ts';
import { recordOf, roundOf } from '../record/small-record.ts';
import { plant, soundOf, storageMachine } from './storage-machine.ts';

const fit = { method: 'read again', modes: [], used: [], setAside: [], scatterKnown: false };

function checkupOn(prefix: string) {
  const machine = storageMachine(prefix);
  const { keptAside, removeRecord, replaceDamaged } = stored;
  const ports = { ...machine.ports, replaceDamaged, keptAside, removeRecord, removeSounds };
  const preferences = new Preferences({
    loadSettings: async () => defaultSettings,
    saveSettings: async () => undefined,
  });
  const rereading = new Rereading(ports.getTaps, { run: async () => fit as never }, machine.shelf);
  return {
    ...machine,
    checkup: new Checkup(ports, machine.shelf, rereading, preferences, machine.notices),
    records: new Records(machine.shelf, machine.notices, ports),
  };
}

const findingOf = (checkup: Checkup, id: string) => {
  const state = checkup.state.value;
  if (state.kind !== 'checked') throw new Error(state.kind);
  return state.findings.find(({ recordId }) => recordId === id);
};

describe('the check of everything stored', () => {
  test('what is whole is not spoken of', async () => {
    const { checkup, shelf, ports } = checkupOn('whole');
    await ports.putTaps([['whole-a', soundOf(0.5)]]);
    await shelf.put(recordOf('whole-1', [roundOf('r', ['whole-a'], { state: 'closed', fit })]));
    await checkup.check();
    expect(findingOf(checkup, 'whole-1')).toBeUndefined();
  });

  test('a missing sound is named; a round without modes is read again from its taps, and undo takes that back', async () => {
    const { checkup, shelf, ports } = checkupOn('lack');
    await ports.putTaps([['lack-a', soundOf(0.5)]]);
    const record = recordOf('lack-1', [roundOf('r', ['lack-a', 'lack-b'], { state: 'closed' })]);
    await shelf.put(record);
    await checkup.check();
    const finding = findingOf(checkup, 'lack-1')!;
    expect(finding).toMatchObject({ kind: 'lacks', health: { missingSounds: ['lack-b'], unread: [{ roundId: 'r' }] } });
    await checkup.mend(finding);
    expect(await ports.loadRecord('lack-1')).toMatchObject({ record: { steps: [{ rounds: [{ fit }] }] } });
    expect(findingOf(checkup, 'lack-1')).toMatchObject({ health: { unread: [] } });
    await shelf.undo();
    await shelf.flush();
    expect(await ports.loadRecord('lack-1')).toEqual({ kind: 'record', record });
  });

  test('a damaged record is mended, its modes read again from the taps, and what stood there is kept aside', async () => {
    const { checkup, ports, notices } = checkupOn('harm');
    await ports.putTaps([['harm-a', soundOf(0.5)]]);
    const record = recordOf('harm-1', [
      roundOf('r', ['harm-a'], { state: 'closed', fit: { ...fit, scatterKnown: 'perhaps' as never } }),
    ]);
    await plant(record, ports.nowIso());
    await checkup.check();
    const finding = findingOf(checkup, 'harm-1')!;
    expect(finding).toMatchObject({
      kind: 'unreadable',
      because: 'damaged',
      leftOut: ['steps.0.rounds.0.fit.scatterKnown'],
    });
    await checkup.mend(finding);
    expect(await ports.loadRecord('harm-1')).toMatchObject({
      kind: 'record',
      record: { steps: [{ rounds: [{ fit }] }] },
    });
    expect(notices.current.value).toEqual({ kind: 'mended', name: 'One', leftOut: 1, roundsRead: 1 });
    expect(findingOf(checkup, 'harm-1')).toBeUndefined();
    const aside = await stored.keptAside();
    expect(aside).toEqual([record]);
  });

  test('a newer record is named and cannot be mended', async () => {
    const { checkup, shelf, ports } = checkupOn('newer');
    const newer = { ...recordOf('newer-2', []), schema: 'platewright-record/99' as never };
    await plant(newer, ports.nowIso());
    await shelf.refresh();
    await checkup.check();
    const finding = findingOf(checkup, 'newer-2')!;
    expect(finding).toMatchObject({ kind: 'unreadable', because: 'newer-version', leftOut: undefined, name: 'One' });
    await checkup.mend(finding);
    expect(await stored.rawRecord('newer-2')).toEqual(newer);
    await stored.removeRecord('newer-2');
  });
});

describe('the check when the page opens', () => {
  test('reads what an earlier page left unread, says how many rounds that were, and one undo a record takes it back', async () => {
    for (const id of await stored.recordIds()) await stored.removeRecord(id);
    const { checkup, shelf, ports, notices } = checkupOn('start');
    await ports.putTaps([['start-a', soundOf(0.5)]]);
    const left = (id: string) => roundOf(id, ['start-a'], { state: 'closed' });
    await shelf.put(recordOf('start-1', [left('r'), left('q')]));
    await shelf.put(recordOf('start-2', [left('r')]));
    await checkup.atStart();
    expect(notices.current.value).toEqual({ kind: 'left-read', rounds: 3 });
    expect(findingOf(checkup, 'start-1')).toBeUndefined();
    expect(shelf.toUndo.value).toBe('reading');
    await shelf.undo();
    await shelf.flush();
    expect(await ports.loadRecord('start-2')).toEqual({ kind: 'record', record: recordOf('start-2', [left('r')]) });
    expect(shelf.toUndo.value).toBe('reading');
    await shelf.undo();
    expect(shelf.toUndo.value).toBeUndefined();
    for (const id of ['start-1', 'start-2']) await stored.removeRecord(id);
  });

  test('says nothing where nothing was left, or where what was left has no sound', async () => {
    const { checkup, shelf, notices } = checkupOn('nothing');
    await shelf.put(recordOf('nothing-1', [roundOf('r', ['nothing-lost'], { state: 'closed' })]));
    await checkup.atStart();
    expect(notices.current.value).toBeUndefined();
    expect(findingOf(checkup, 'nothing-1')).toMatchObject({
      kind: 'lacks',
      name: 'One',
      health: { missingSounds: ['nothing-lost'], unread: [] },
    });
    expect(shelf.toUndo.value).toBeUndefined();
    await stored.removeRecord('nothing-1');
  });
});

describe('the check itself', () => {
  test('counts records and taps, and names a photograph that is gone as well as a sound', async () => {
    for (const id of await stored.recordIds()) await stored.removeRecord(id);
    const { checkup, shelf, ports } = checkupOn('count');
    expect(checkup.state.value).toEqual({ kind: 'not-checked' });
    await ports.putTaps([['count-a', soundOf(0.5)]]);
    const record = recordOf('count-1', [roundOf('r', ['count-a', 'count-b'], { state: 'closed', fit })]);
    const [step] = record.steps;
    await shelf.put({ ...record, steps: [step!, { ...step!, id: 't', rounds: [], photoId: 'count-photo' }] });
    await shelf.put(recordOf('count-2', []));
    const checking = checkup.check();
    expect(checkup.state.value).toEqual({ kind: 'checking' });
    await Promise.all([checking, checkup.check()]);
    expect(checkup.state.value).toMatchObject({ kind: 'checked', records: 2, taps: 2 });
    expect(findingOf(checkup, 'count-1')).toMatchObject({
      health: { missingSounds: ['count-b'], missingPhotos: ['count-photo'] },
    });
    for (const id of ['count-1', 'count-2']) await stored.removeRecord(id);
  });

  test('a photograph alone that is gone is a finding', async () => {
    const { checkup, shelf } = checkupOn('photo');
    const record = recordOf('photo-1', []);
    await shelf.put({ ...record, steps: [{ ...record.steps[0]!, photoId: 'photo-gone' }] });
    await checkup.check();
    expect(findingOf(checkup, 'photo-1')).toMatchObject({ kind: 'lacks' });
    await stored.removeRecord('photo-1');
  });

  test('a record that the list forgot is on it again; those that are on it are not written to', async () => {
    const { checkup, shelf, ports } = checkupOn('forgot');
    await shelf.put(recordOf('forgot-1', []));
    await ports.putRecord(recordOf('forgot-2', []), ports.nowIso());
    const written: string[] = [];
    const { putRecord } = ports;
    ports.putRecord = async (record, nowIso) => {
      written.push(record.id);
      return putRecord(record, nowIso);
    };
    const listed = () => shelf.summaries.value.map(({ id }) => id).filter((id) => id.startsWith('forgot'));
    expect(listed()).toEqual(['forgot-1']);
    const other = new Checkup(
      { ...ports, ...stored, removeSounds, putRecord: ports.putRecord },
      shelf,
      new Rereading(ports.getTaps, { run: async () => fit as never }, shelf),
      new Preferences({ loadSettings: async () => defaultSettings, saveSettings: async () => undefined }),
      new Notices(),
    );
    await other.check();
    expect(written).toEqual(['forgot-2']);
    expect(listed().toSorted()).toEqual(['forgot-1', 'forgot-2']);
    expect(checkup.state.value).toEqual({ kind: 'not-checked' });
    for (const id of ['forgot-1', 'forgot-2']) await stored.removeRecord(id);
  });

  test('that the browser refuses is said, and nothing is known then; a fault of ours comes out', async () => {
    const machine = storageMachine('refuses');
    let thrown: unknown = new StorageError('refused', undefined);
    const ports = {
      ...machine.ports,
      ...stored,
      removeSounds,
      soundIds: async () => {
        throw thrown;
      },
    };
    const checkup = new Checkup(
      ports,
      machine.shelf,
      new Rereading(ports.getTaps, { run: async () => fit as never }, machine.shelf),
      new Preferences({ loadSettings: async () => defaultSettings, saveSettings: async () => undefined }),
      machine.notices,
    );
    await checkup.atStart();
    expect(machine.notices.current.value).toEqual({ kind: 'storage', reason: 'refused' });
    expect(checkup.state.value).toEqual({ kind: 'not-checked' });
    thrown = new TypeError('ours');
    await expect(checkup.check()).rejects.toBe(thrown);
    expect(checkup.state.value).toEqual({ kind: 'not-checked' });
  });

  test('what cannot be mended is left alone, and a record that is gone meanwhile is no fault', async () => {
    const { checkup, notices } = checkupOn('gone');
    await checkup.mend({ kind: 'unreadable', recordId: 'gone-1', name: 'Gone', because: 'damaged', leftOut: [] });
    const health = { missingSounds: [], missingPhotos: [], unread: [] };
    await checkup.mend({ kind: 'lacks', recordId: 'gone-1', name: 'Gone', health });
    expect(notices.current.value).toBeUndefined();
  });
});

describe('orphans', () => {
  test('of two rates are two rounds of one record, from which nothing is concluded; without any there is no record', async () => {
    for (const id of await stored.recordIds()) await stored.removeRecord(id);
    const { checkup, shelf, ports } = checkupOn('rates');
    const { taps, photos } = await ports.soundIds();
    await removeSounds([...taps], [...photos]);
    await checkup.attachOrphans('None');
    expect(shelf.summaries.value).toEqual([]);
    await ports.putTaps([
      ['rates-a', soundOf(0.5)],
      ['rates-b', { ...soundOf(0.25), sampleRateHz: 44_100 }],
      ['rates-c', soundOf(0.1)],
    ]);
    await checkup.attachOrphans('Found');
    const { name, steps } = shelf.record.value!;
    expect([name, steps.length]).toEqual(['Found', 1]);
    const found = steps[0]!.rounds.map(({ state, taps: notes }) => [
      state,
      notes.map(({ id, sampleRateHz }) => [id, sampleRateHz]),
    ]);
    expect(found).toEqual([
      [
        'set-aside',
        [
          ['rates-a', 48_000],
          ['rates-c', 48_000],
        ],
      ],
      ['set-aside', [['rates-b', 44_100]]],
    ]);
    expect(new Set(steps[0]!.rounds.map(({ id }) => id)).size).toBe(2);
    expect(shelf.toUndo.value).toBe('import');
    await shelf.undo();
    expect(shelf.record.value?.deletedAtIso).toBe(ports.nowIso());
  });

  test('are erased only where they still are orphans: another tab may have stored their record meanwhile', async () => {
    for (const id of await stored.recordIds()) await stored.removeRecord(id);
    const { checkup, ports, notices } = checkupOn('meanwhile');
    await ports.putTaps([
      ['meanwhile-a', soundOf(0.5)],
      ['meanwhile-b', soundOf(0.25)],
    ]);
    await ports.putPhoto('meanwhile-photo', new Blob(['picture']));
    // Nothing was looked at yet: nothing is erased.
    await checkup.removeOrphans();
    expect((await ports.soundIds()).taps.has('meanwhile-a')).toBe(true);
    await ports.putRecord(recordOf('meanwhile-1', [roundOf('r', ['meanwhile-a'])]), ports.nowIso());
    await ports.putTaps([['meanwhile-new', soundOf(0.1)]]);
    await checkup.removeOrphans();
    const { taps, photos } = await ports.soundIds();
    const left = [...taps].filter((id) => id.startsWith('meanwhile'));
    // The newest was not among those listed.
    expect([left, [...photos].includes('meanwhile-photo')]).toEqual([['meanwhile-a', 'meanwhile-new'], false]);
    expect(notices.current.value).toMatchObject({ kind: 'bin-emptied', records: 0 });
  });
});

describe('orphaned photographs', () => {
  test('that came in meanwhile stay, with or without a record, and so do those of a record stored meanwhile', async () => {
    for (const id of await stored.recordIds()) await stored.removeRecord(id);
    const { checkup, ports, notices } = checkupOn('pictures');
    const before = await ports.soundIds();
    await removeSounds([...before.taps], [...before.photos]);
    for (const id of ['pictures-old', 'pictures-claimed']) await ports.putPhoto(id, new Blob(['picture']));
    await checkup.check();
    await ports.putPhoto('pictures-new', new Blob(['picture']));
    const record = recordOf('pictures-1', []);
    await ports.putRecord({ ...record, steps: [{ ...record.steps[0]!, photoId: 'pictures-claimed' }] }, ports.nowIso());
    await checkup.removeOrphans();
    expect([...(await ports.soundIds()).photos].toSorted()).toEqual(['pictures-claimed', 'pictures-new']);
    expect(notices.current.value).toEqual({ kind: 'bin-emptied', records: 0, taps: 0 });
    // What is left is listed as it stands now.
    expect(checkup.state.value).toMatchObject({ orphans: { taps: [], photos: ['pictures-new'] } });
    await stored.removeRecord('pictures-1');
  });
});

describe('sounds that no record speaks of', () => {
  test('are listed, but not those of a record that cannot be read; attached they are in a record, undo and erasing take them away', async () => {
    const { checkup, shelf, ports } = checkupOn('orphan');
    await ports.putTaps([
      ['orphan-a', soundOf(0.5)],
      ['orphan-b', soundOf(0.25)],
      ['orphan-newer', soundOf(0.1)],
    ]);
    const newer = recordOf('orphan-1', [roundOf('r', ['orphan-newer'])]);
    await plant({ ...newer, schema: 'platewright-record/99' as never }, ports.nowIso());
    await checkup.check();
    const orphans = () => {
      const state = checkup.state.value;
      return state.kind === 'checked' ? state.orphans.taps.filter((id) => id.startsWith('orphan')) : [];
    };
    expect(orphans()).toEqual(['orphan-a', 'orphan-b']);
    await checkup.attachOrphans('Found');
    expect(orphans()).toEqual([]);
    const found = shelf.summaries.value.find(({ name }) => name === 'Found')!;
    const read = await ports.loadRecord(found.id);
    expect(read?.kind === 'record' && tapIds(read.record)).toEqual(expect.arrayContaining(['orphan-a', 'orphan-b']));
    expect(read).toMatchObject({ record: { steps: [{ rounds: [{ state: 'set-aside' }] }] } });
    await shelf.undo();
    await shelf.flush();
    await stored.removeRecord(found.id);
    await checkup.check();
    await checkup.removeOrphans();
    expect(await ports.getTaps(['orphan-a', 'orphan-newer'])).toEqual([undefined, soundOf(0.1)]);
    await stored.removeRecord('orphan-1');
  });
});

test('a sound that only a document kept aside speaks of is no orphan: what was left out may still be mended by hand', async () => {
  const { checkup, ports } = checkupOn('aside');
  await ports.putTaps([
    ['aside-a', soundOf(0.5)],
    ['aside-lost', soundOf(0.25)],
  ]);
  await ports.putPhoto('aside-photo', new Blob(['picture']));
  const lost = roundOf('q', ['aside-lost'], { state: 'perhaps' as never });
  const record = recordOf('aside-1', [roundOf('r', ['aside-a']), lost]);
  const [step] = record.steps;
  await plant({ ...record, steps: [step!, { ...step!, id: 't', rounds: [], photoId: 'aside-photo' }] }, ports.nowIso());
  await checkup.check();
  await checkup.mend(findingOf(checkup, 'aside-1')!);
  const mended = await ports.loadRecord('aside-1');
  expect(mended?.kind === 'record' && tapIds(mended.record)).toEqual(['aside-a']);
  const state = checkup.state.value;
  if (state.kind !== 'checked') throw new Error(state.kind);
  expect(state.orphans.taps.filter((id) => id.startsWith('aside'))).toEqual([]);
  expect(state.orphans.photos).toEqual([]);
  await stored.removeRecord('aside-1');
});

describe('emptying the bin', () => {
  test('erases what lies in it and its sounds, but no sound that another record speaks of', async () => {
    const { records, shelf, ports, notices } = checkupOn('bin');
    await shelf.refresh();
    await ports.putTaps([
      ['bin-own', soundOf(0.5)],
      ['bin-shared', soundOf(0.25)],
    ]);
    await shelf.put(recordOf('bin-kept', [roundOf('r', ['bin-shared'])]));
    await shelf.put(recordOf('bin-gone', [roundOf('r', ['bin-own', 'bin-shared'])]));
    await records.remove('bin-gone');
    await records.emptyBin();
    expect(notices.current.value).toEqual({ kind: 'bin-emptied', records: 1, taps: 1 });
    expect(await ports.loadRecord('bin-gone')).toBeUndefined();
    expect(await ports.getTaps(['bin-own', 'bin-shared'])).toEqual([undefined, soundOf(0.25)]);
    expect(shelf.toUndo.value).toBeUndefined();
    expect(shelf.summaries.value.some(({ id }) => id === 'bin-gone')).toBe(false);
  });
});
