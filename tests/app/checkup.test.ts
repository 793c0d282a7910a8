import { describe, expect, test } from 'vitest';
import { Checkup } from '../../src/app/checkup.ts';
import { Records } from '../../src/app/records.ts';
import { Rereading } from '../../src/app/rereading.ts';
import { rawRecord, recordIds, removeRecord, replaceDamaged } from '../../src/storage/shelf.ts';
import { removeSounds } from '../../src/storage/sounds.ts';
import { recordOf, roundOf } from '../record/small-record.ts';
import { soundOf, storageMachine } from './storage-machine.ts';

const fit = { method: 'read again', modes: [], used: [], setAside: [], scatterKnown: false };

function checkupOn(prefix: string) {
  const machine = storageMachine(prefix);
  const ports = { ...machine.ports, recordIds, rawRecord, replaceDamaged, removeRecord, removeSounds };
  const rereading = new Rereading(ports.getTaps, { run: async () => fit as never }, machine.shelf);
  return {
    ...machine,
    checkup: new Checkup(ports, machine.shelf, rereading, machine.notices),
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
    await ports.putRecord(record, ports.nowIso());
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
    const aside = await rawAside('harm-1');
    expect(aside).toEqual([record]);
  });

  test('a newer record is named and cannot be mended', async () => {
    const { checkup, shelf, ports } = checkupOn('newer');
    const newer = { ...recordOf('newer-2', []), schema: 'platewright-record/99' as never };
    await ports.putRecord(newer, ports.nowIso());
    await shelf.refresh();
    await checkup.check();
    const finding = findingOf(checkup, 'newer-2')!;
    expect(finding).toMatchObject({ kind: 'unreadable', because: 'newer-version', leftOut: undefined, name: 'One' });
    await checkup.mend(finding);
    expect(await rawRecord('newer-2')).toEqual(newer);
    await removeRecord('newer-2');
  });
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
    expect(shelf.undoLabel.value).toBeUndefined();
    expect(shelf.summaries.value.some(({ id }) => id === 'bin-gone')).toBe(false);
  });
});

/** What was kept aside of a record. */
function rawAside(id: string): Promise<readonly unknown[]> {
  return new Promise((resolve, reject) => {
    const open = indexedDB.open('platewright-records');
    open.onerror = () => reject(open.error);
    open.onsuccess = () => {
      const all = open.result
        .transaction('values')
        .objectStore('values')
        .getAll(IDBKeyRange.bound(`aside:${id}:`, `aside:${id}:\uffff`));
      all.onsuccess = () => {
        open.result.close();
        resolve(all.result);
      };
      all.onerror = () => reject(all.error);
    };
  });
}
