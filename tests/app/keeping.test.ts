import 'fake-indexeddb/auto';
import { describe, expect, test } from 'vitest';
import type { Exchange, SaveFile } from '../../src/app/exchange.ts';
import { Keeping, type KeepingPorts } from '../../src/app/keeping.ts';
import { Notices } from '../../src/app/notices.ts';
import { StorageError } from '../../src/storage/database.ts';
import { changeCopies, loadCopies } from '../../src/storage/keeping.ts';

const written: SaveFile = async () => undefined;

function keepingWith(
  parts: Partial<KeepingPorts> = {},
  exportAll: Exchange['exportAll'] = async () => undefined,
  copyOne: Exchange['copyOne'] = async () => undefined,
) {
  const notices = new Notices();
  const ports: KeepingPorts = {
    loadCopies,
    changeCopies,
    isPersisted: async () => false,
    askToPersist: async () => true,
    usedBytes: async () => 5e6,
    canChooseFolder: () => true,
    chosenFolder: async () => undefined,
    chooseFolder: async () => 'Copies',
    forgetFolder: async () => undefined,
    openFolder: async () => written,
    nowIso: () => '2026-11-25T08:00:00.000Z',
    ...parts,
  };
  return { notices, keeping: new Keeping(ports, { exportAll, copyOne } as Exchange, notices) };
}

describe('copies outside the browser', () => {
  test('what is done is counted over tabs and restarts; a copy begins anew, with what was done while it was written', async () => {
    const first = keepingWith().keeping;
    await Promise.all([first.count(), first.count(), first.count()]);
    const second = keepingWith().keeping;
    await second.load();
    expect(second.copies.value).toEqual({ changes: 3, atIso: undefined });
    const third = keepingWith({}, async () => first.count()).keeping;
    await third.load();
    await third.saveAll();
    expect(third.copies.value).toEqual({ changes: 1, atIso: '2026-11-25T08:00:00.000Z' });
    expect(await loadCopies()).toEqual(third.copies.value);
  });

  test('a copy is due after twenty things, and later after as many again', async () => {
    const { keeping } = keepingWith();
    await changeCopies(() => ({ changes: 19, atIso: undefined }));
    await keeping.load();
    expect(keeping.copyDue.value).toBe(false);
    await keeping.count();
    expect(keeping.copyDue.value).toBe(true);
    keeping.remindLater();
    for (let i = 0; i < 19; i++) await keeping.count();
    expect(keeping.copyDue.value).toBe(false);
    await keeping.count();
    expect(keeping.copyDue.value).toBe(true);
  });

  test('with a folder chosen the copy goes there; refused or gone, nothing counts as copied and the page says so', async () => {
    const took: (SaveFile | undefined)[] = [];
    const noted = async (save?: SaveFile) => void took.push(save);
    const good = keepingWith({}, noted);
    await good.keeping.chooseFolder();
    await good.keeping.saveAll();
    expect(took).toEqual([written]);
    const gone = async () => {
      throw new DOMException('', 'NotFoundError');
    };
    for (const [openFolder, exportAll] of [
      [async () => 'refused' as const, noted],
      [async () => written, gone],
    ] as const) {
      await changeCopies(() => ({ changes: 7, atIso: undefined }));
      const bad = keepingWith({ openFolder }, exportAll);
      await bad.keeping.load();
      await bad.keeping.chooseFolder();
      await bad.keeping.saveAll();
      expect(bad.notices.current.value).toEqual({ kind: 'folder-refused', name: 'Copies' });
      expect(bad.keeping.copies.value).toEqual({ changes: 7, atIso: undefined });
    }
  });

  test('after a round its record goes into the folder by itself; where the browser must be asked first, that is said', async () => {
    const copied: string[] = [];
    const copyOne: Exchange['copyOne'] = async (id) => void copied.push(id);
    const asked: boolean[] = [];
    const openFolder = (answer: SaveFile | 'refused') => async (mayAsk: boolean) => {
      asked.push(mayAsk);
      return answer;
    };
    const good = keepingWith(
      { chosenFolder: async () => 'Copies', openFolder: openFolder(written) },
      undefined,
      copyOne,
    );
    await good.keeping.load();
    await Promise.all([good.keeping.roundClosed('one'), good.keeping.roundClosed('two')]);
    expect(copied).toEqual(['one', 'two']);
    expect(good.keeping.roundCopy.value).toEqual({ kind: 'copied', atIso: '2026-11-25T08:00:00.000Z' });
    const gone: Exchange['copyOne'] = async () => {
      throw new DOMException('', 'NotFoundError');
    };
    for (const [folder, copy] of [
      ['refused', copyOne],
      [written, gone],
    ] as const) {
      const bad = keepingWith({ chosenFolder: async () => 'Copies', openFolder: openFolder(folder) }, undefined, copy);
      await bad.keeping.load();
      await bad.keeping.roundClosed('three');
      expect(bad.keeping.roundCopy.value).toEqual({ kind: 'refused' });
      expect(bad.notices.current.value).toBeUndefined();
    }
    expect(asked).toEqual([false, false, false, false]);
    const none = keepingWith({ openFolder: openFolder(written) }, undefined, copyOne);
    await none.keeping.load();
    await none.keeping.roundClosed('four');
    expect(copied).toEqual(['one', 'two']);
  });

  test('a browser that refuses storage is no obstacle to a copy', async () => {
    const refused = async () => {
      throw new StorageError('refused', undefined);
    };
    const { keeping } = keepingWith({ loadCopies: refused, changeCopies: refused, chosenFolder: refused });
    await keeping.load();
    await keeping.count();
    expect(keeping.copies.value.changes).toBe(1);
    await keeping.saveAll();
    expect(keeping.copies.value).toEqual({ changes: 0, atIso: '2026-11-25T08:00:00.000Z' });
  });

  test('the browser’s promise is asked for and shown', async () => {
    const { keeping } = keepingWith();
    await keeping.load();
    expect([keeping.persisted.value, keeping.asked.value]).toEqual([false, false]);
    // never on opening the page: first there is something to lose
    expect(keeping.promiseDue.value).toBe(false);
    await keeping.roundClosed('one');
    expect(keeping.promiseDue.value).toBe(true);
    await keeping.askToPersist();
    expect([keeping.persisted.value, keeping.asked.value]).toEqual([true, true]);
    const refused = keepingWith({ askToPersist: async () => false }).keeping;
    await refused.load();
    await refused.roundClosed('one');
    expect(refused.promiseDue.value).toBe(false);
  });

  test('how things stand is read at the start; where the browser refuses to say, it is unknown', async () => {
    const { keeping } = keepingWith({ chosenFolder: async () => 'Copies', isPersisted: async () => true });
    expect([keeping.usedBytes.value, keeping.folder.value, keeping.persisted.value]).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
    await keeping.load();
    expect([keeping.usedBytes.value, keeping.folder.value, keeping.persisted.value]).toEqual([5e6, 'Copies', true]);
    expect([keeping.canChooseFolder, keeping.roundCopy.value]).toEqual([true, { kind: 'none' }]);
    const refused = async () => {
      throw new StorageError('refused', undefined);
    };
    const unsaid = keepingWith({
      isPersisted: refused,
      usedBytes: refused,
      chosenFolder: refused,
      askToPersist: refused,
    });
    await unsaid.keeping.load();
    await unsaid.keeping.askToPersist();
    const { usedBytes, folder, persisted, asked } = unsaid.keeping;
    expect([usedBytes.value, folder.value, persisted.value, asked.value]).toEqual([
      undefined,
      undefined,
      undefined,
      true,
    ]);
  });

  test('a browser without folders is not asked for one', async () => {
    let asked = 0;
    const chosenFolder = async () => {
      asked++;
      return 'Copies';
    };
    const { keeping } = keepingWith({ canChooseFolder: () => false, chosenFolder });
    await keeping.load();
    expect([asked, keeping.folder.value, keeping.canChooseFolder]).toEqual([0, undefined, false]);
  });

  test('a folder is forgotten, and stays the one it was where no other was chosen', async () => {
    let chosen: string | undefined = 'Copies';
    let forgotten = 0;
    const { keeping } = keepingWith({
      chooseFolder: async () => chosen,
      forgetFolder: async () => {
        forgotten++;
      },
    });
    await keeping.chooseFolder();
    chosen = undefined;
    await keeping.chooseFolder();
    expect(keeping.folder.value).toBe('Copies');
    await keeping.forgetFolder();
    expect([keeping.folder.value, forgotten]).toEqual([undefined, 1]);
  });

  test('without a folder a copy is a download; inside the press the folder may ask; then the room taken is measured anew', async () => {
    const took: (SaveFile | undefined)[] = [];
    const asked: boolean[] = [];
    let used = 5e6;
    const { keeping } = keepingWith(
      {
        openFolder: async (mayAsk) => {
          asked.push(mayAsk);
          return written;
        },
        usedBytes: async () => used,
      },
      async (save) => void took.push(save),
    );
    await keeping.load();
    used = 6e6;
    await keeping.saveAll();
    expect([took, asked, keeping.usedBytes.value]).toEqual([[undefined], [], 6e6]);
    await keeping.chooseFolder();
    await keeping.saveAll();
    expect([took, asked]).toEqual([[undefined, written], [true]]);
  });

  test('a folder that has gone since it was chosen means a download, and after a round nothing', async () => {
    const took: (SaveFile | undefined)[] = [];
    const { keeping } = keepingWith({ openFolder: async () => 'none' }, async (save) => void took.push(save));
    await keeping.chooseFolder();
    await keeping.saveAll();
    expect(took).toEqual([undefined]);
    await keeping.roundClosed('one');
    expect(keeping.roundCopy.value).toEqual({ kind: 'none' });
  });

  test('a fault of ours is not taken for a folder that has gone', async () => {
    const fault = new TypeError('ours');
    const failing = async () => {
      throw fault;
    };
    const { keeping, notices } = keepingWith({}, failing, failing);
    await keeping.chooseFolder();
    await expect(keeping.saveAll()).rejects.toBe(fault);
    await expect(keeping.roundClosed('one')).rejects.toBe(fault);
    expect(notices.current.value).toBeUndefined();
  });

  test('a browser that cannot say whether the folder may be written to counts as one that refuses', async () => {
    const { keeping } = keepingWith({
      openFolder: async () => {
        throw new StorageError('refused', undefined);
      },
    });
    await keeping.chooseFolder();
    await keeping.roundClosed('one');
    expect(keeping.roundCopy.value).toEqual({ kind: 'refused' });
  });

  test('after a copy of everything the reminder comes at twenty again, also where it was put off', async () => {
    await changeCopies(() => ({ changes: 25, atIso: undefined }));
    const { keeping } = keepingWith();
    await keeping.load();
    keeping.remindLater();
    expect(keeping.copyDue.value).toBe(false);
    await keeping.saveAll();
    expect(keeping.copies.value.changes).toBe(0);
    for (let i = 0; i < 20; i++) await keeping.count();
    expect(keeping.copyDue.value).toBe(true);
  });

  test('a maker who does not want to be asked for the promise is not asked again, in no tab', async () => {
    await changeCopies(() => ({ changes: 0, atIso: undefined }));
    const { keeping } = keepingWith();
    await keeping.load();
    await keeping.roundClosed('one');
    expect(keeping.promiseDue.value).toBe(true);
    await keeping.noteAsked();
    expect([keeping.promiseDue.value, keeping.asked.value]).toEqual([false, false]);
    const later = keepingWith().keeping;
    await later.load();
    await later.roundClosed('two');
    expect(later.promiseDue.value).toBe(false);
    // One that has the promise, or says nothing of it, is not asked either.
    for (const persisted of [true, undefined]) {
      await changeCopies(() => ({ changes: 0, atIso: undefined }));
      const other = keepingWith({ isPersisted: async () => persisted }).keeping;
      await other.load();
      await other.roundClosed('one');
      expect(other.promiseDue.value).toBe(false);
    }
  });
});
