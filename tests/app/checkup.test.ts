import { describe, expect, test } from 'vitest';
import { Checkup } from '../../src/app/checkup.ts';
import { createPreferences } from '../../src/app/preferences.ts';
import { Records } from '../../src/app/records.ts';
import { Rereading } from '../../src/app/rereading.ts';
import { tapIds } from '../../src/record/archive.ts';
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
  const preferences = createPreferences({
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
