import 'fake-indexeddb/auto';
import { promisifyRequest } from 'idb-keyval';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { Database } from '../../src/storage/database.ts';
import {
  askToPersist,
  canChooseFolder,
  changeCopies,
  chooseFolder,
  chosenFolder,
  forgetFolder,
  isPersisted,
  loadCopies,
  openFolder,
  usedBytes,
} from '../../src/storage/keeping.ts';

const plantCopies = (stored: unknown) =>
  new Database('platewright-settings').run('readwrite', (store) => promisifyRequest(store.put(stored, 'copies')));

describe('what is known of copies', () => {
  test('at first nothing was done and nothing copied', async () => {
    expect(await loadCopies()).toEqual({ changes: 0, atIso: undefined });
  });

  test('each change is made on top of what is stored, and answered with how it stands then', async () => {
    const one = (known: { readonly changes: number }) => ({ changes: known.changes + 1, atIso: undefined });
    const [first, second] = await Promise.all([changeCopies(one), changeCopies(one)]);
    expect([first.changes, second.changes]).toEqual([1, 2]);
    await changeCopies((known) => ({ ...known, atIso: '2026-11-25T08:00:00.000Z', promiseAsked: true }));
    expect(await loadCopies()).toEqual({ changes: 2, atIso: '2026-11-25T08:00:00.000Z', promiseAsked: true });
  });

  test.each([
    [null, { changes: 0, atIso: undefined }],
    ['7', { changes: 0, atIso: undefined }],
    [
      { changes: '7', atIso: 7, promiseAsked: 'yes' },
      { changes: 0, atIso: undefined },
    ],
    [
      { changes: -1, atIso: '2026-11-25T08:00:00.000Z', promiseAsked: false },
      { changes: 0, atIso: '2026-11-25T08:00:00.000Z' },
    ],
    [
      { changes: 7, promiseAsked: true, more: 1 },
      { changes: 7, atIso: undefined, promiseAsked: true },
    ],
  ])('of what another program left there (%j) only what makes sense is taken', async (stored, known) => {
    await plantCopies(stored);
    expect(await loadCopies()).toStrictEqual(known);
  });
});

describe('the browser’s promise', () => {
  afterEach(() => vi.unstubAllGlobals());

  test('is what the browser says, asked for or not, and so is the room taken', async () => {
    let promised = false;
    const storage = {
      persisted: async () => promised,
      persist: async () => {
        promised = true;
        return promised;
      },
      estimate: async () => ({ usage: 5e6, quota: 1e9 }),
    };
    vi.stubGlobal('navigator', { storage });
    expect(await isPersisted()).toBe(false);
    expect(await askToPersist()).toBe(true);
    expect(await isPersisted()).toBe(true);
    expect(await usedBytes()).toBe(5e6);
  });

  test.each([[{}], [{ storage: {} }]])('is unknown where the browser says nothing of it: %j', async (navigator) => {
    vi.stubGlobal('navigator', navigator);
    expect(await isPersisted()).toBeUndefined();
    expect(await askToPersist()).toBeUndefined();
    expect(await usedBytes()).toBeUndefined();
  });
});

/** A folder as the File System Access API (W3C community group) hands it out. */
class FakeFolder {
  readonly files = new Map<string, Uint8Array>();
  /** what was asked of the person */
  readonly asked: string[] = [];
  readonly name: string;
  state: PermissionState;
  answer: PermissionState = 'granted';
  constructor(name: string, state: PermissionState = 'granted') {
    this.name = name;
    this.state = state;
  }
  async queryPermission({ mode = 'read' }: { readonly mode?: string } = {}): Promise<PermissionState> {
    return mode === 'readwrite' ? this.state : 'granted';
  }
  async requestPermission({ mode = 'read' }: { readonly mode?: string } = {}): Promise<PermissionState> {
    this.asked.push(mode);
    this.state = this.answer;
    return this.state;
  }
  async getFileHandle(name: string, { create = false }: { readonly create?: boolean } = {}) {
    if (!this.files.has(name) && !create) throw new DOMException('', 'NotFoundError');
    if (this.state !== 'granted') throw new DOMException('', 'NotAllowedError');
    const createWritable = async () => {
      const written: number[] = [];
      return {
        write: async (bytes: Uint8Array) => void written.push(...bytes),
        close: async () => void this.files.set(name, Uint8Array.from(written)),
      };
    };
    return { createWritable };
  }
}

describe('the folder for copies', () => {
  const { structuredClone } = globalThis;
  beforeEach(() => {
    vi.stubGlobal('window', globalThis);
    // A browser stores a folder's handle as the handle it is.
    vi.stubGlobal('structuredClone', (value: unknown) =>
      value instanceof FakeFolder ? value : structuredClone(value),
    );
  });
  afterEach(async () => {
    await forgetFolder();
    vi.unstubAllGlobals();
  });

  const choosing = (chosen: FakeFolder | Error) => {
    const asked: unknown[] = [];
    vi.stubGlobal('showDirectoryPicker', async (wanted: unknown) => {
      asked.push(wanted);
      if (chosen instanceof Error) throw chosen;
      return chosen;
    });
    return asked;
  };

  test('cannot be chosen where the browser has none to offer', async () => {
    expect(canChooseFolder()).toBe(false);
    expect(await chooseFolder()).toBeUndefined();
    expect(await chosenFolder()).toBeUndefined();
    expect(await openFolder(true)).toBe('none');
  });

  test('is chosen for writing, remembered until it is forgotten, and another takes its place', async () => {
    const asked = choosing(new FakeFolder('Copies'));
    expect(canChooseFolder()).toBe(true);
    expect(await chooseFolder()).toBe('Copies');
    expect(asked).toEqual([{ mode: 'readwrite' }]);
    expect(await chosenFolder()).toBe('Copies');
    choosing(new FakeFolder('Elsewhere'));
    expect(await chooseFolder()).toBe('Elsewhere');
    expect(await chosenFolder()).toBe('Elsewhere');
    await forgetFolder();
    expect(await chosenFolder()).toBeUndefined();
    expect(await openFolder(true)).toBe('none');
  });

  test('that an earlier page remembered is found again', async () => {
    await new Database('platewright-settings').run('readwrite', (store) =>
      promisifyRequest(store.put(new FakeFolder('Long since'), 'copy-folder')),
    );
    expect(await chosenFolder()).toBe('Long since');
  });

  test('stays the one it was where the person closes the chooser; a fault of ours is not taken for that', async () => {
    choosing(new FakeFolder('Copies'));
    await chooseFolder();
    choosing(new DOMException('', 'AbortError'));
    expect(await chooseFolder()).toBeUndefined();
    expect(await chosenFolder()).toBe('Copies');
    // A browser that has lost its chooser forgets nothing.
    vi.stubGlobal('showDirectoryPicker', undefined);
    expect(await chooseFolder()).toBeUndefined();
    expect(await chosenFolder()).toBe('Copies');
    const fault = new TypeError('ours');
    choosing(fault);
    await expect(chooseFolder()).rejects.toBe(fault);
  });

  test('takes files, each whole: an older one gives way only when the new one is written', async () => {
    const folder = new FakeFolder('Copies');
    choosing(folder);
    await chooseFolder();
    const write = await openFolder(false);
    if (typeof write === 'string') throw new Error(write);
    await write('copy.zip', 'application/zip', Uint8Array.of(1, 2, 3));
    await write('copy.zip', 'application/zip', Uint8Array.of(4));
    await write('other.zip', 'application/zip', Uint8Array.of(5));
    expect([...folder.files]).toEqual([
      ['copy.zip', Uint8Array.of(4)],
      ['other.zip', Uint8Array.of(5)],
    ]);
    expect(folder.asked).toEqual([]);
  });

  test.each([
    // permission, inside a press, the person's answer: whether it opens, how often the person is asked
    ['granted', false, 'denied', true, 0],
    ['prompt', false, 'granted', false, 0],
    ['prompt', true, 'granted', true, 1],
    ['prompt', true, 'denied', false, 1],
    ['prompt', true, 'prompt', false, 1],
    ['denied', true, 'granted', false, 0],
  ] as const)(
    'with permission %s, in a press %s, answered %s: opens %s, asked %i times',
    async (state, mayAsk, answer, opens, times) => {
      const folder = new FakeFolder('Copies', state);
      folder.answer = answer;
      choosing(folder);
      await chooseFolder();
      const write = await openFolder(mayAsk);
      expect(write === 'refused').toBe(!opens);
      expect(folder.asked).toEqual(Array.from({ length: times }, () => 'readwrite'));
      if (typeof write !== 'string') {
        await write('copy.zip', 'application/zip', Uint8Array.of(1));
        expect(folder.files.size).toBe(1);
      }
    },
  );

  test('is open where the browser knows no permissions of its own', async () => {
    const folder = Object.assign(new FakeFolder('Copies'), { queryPermission: undefined });
    choosing(folder);
    await chooseFolder();
    expect(typeof (await openFolder(false))).toBe('function');
    choosing(Object.assign(new FakeFolder('Copies', 'prompt'), { requestPermission: undefined }));
    await chooseFolder();
    expect(typeof (await openFolder(true))).toBe('function');
  });
});
