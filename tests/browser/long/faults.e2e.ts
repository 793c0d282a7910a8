// What a workshop does to a browser: the tab dies in the middle of each kind of write, the disk fills, storage is refused,
// the clock goes backwards, a file is hostile. Nothing stored is lost, and the page says what happened.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { type Browser, type BrowserContext, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { readArchive, tapIds, writeArchive } from '../../../src/record/archive.ts';
import type { InstrumentRecord } from '../../../src/record/record.ts';
import { newRecord } from '../../../src/record/record.ts';
import { recordToUff } from '../../../src/record/uff-record.ts';
import { writeUff } from '../../../src/record/uff-write.ts';
import { recordOf, roundOf } from '../../record/small-record.ts';
import { with64BitEnd, zipOf, zipOfMany } from '../../record/zip-builder.ts';
import { findChromium } from '../chromium.ts';
import { builtPage, fill, patienceMs, quietArgs } from '../page.ts';
import { tapsForMicrophone, topModes } from '../sound.ts';

let site: Awaited<ReturnType<typeof builtPage>>;
let browser: Browser;
/** One shelf for all cases that need none of their own: the demo is put on it once. */
let context: BrowserContext;
beforeAll(async () => {
  site = await builtPage();
  const { executablePath, env } = findChromium();
  browser = await chromium.launch({ executablePath, env, args: quietArgs, headless: true, timeout: patienceMs });
  context = await newContext();
});
afterAll(async () => {
  await browser.close();
  await site.close();
});

async function newContext(options: BrowserContextOptions = {}): Promise<BrowserContext> {
  const made = await browser.newContext({ viewport: { width: 1280, height: 800 }, acceptDownloads: true, ...options });
  made.setDefaultTimeout(patienceMs);
  return made;
}

async function opened(view = 'record', script: () => void = () => undefined): Promise<Page> {
  const page = await context.newPage();
  onTestFinished(() => page.close());
  await page.addInitScript(script);
  await page.goto(`${site.url}#/${view}`);
  await page.waitForSelector('html[data-ready]');
  return page;
}

const zipFile = (name: string, bytes: Uint8Array) => ({
  name,
  mimeType: 'application/zip',
  buffer: Buffer.from(bytes),
});
/** Files too large to be handed over in a message. */
function filesOnDisk(files: Readonly<Record<string, Uint8Array>>): string[] {
  const folder = mkdtempSync(path.join(tmpdir(), 'platewright-files-'));
  onTestFinished(() => rmSync(folder, { recursive: true }));
  return Object.entries(files).map(([name, bytes]) => {
    const file = path.join(folder, name);
    writeFileSync(file, bytes);
    return file;
  });
}
const recording = (seed: number, tapsPerHold = 2) => ({
  name: 'taps.wav',
  mimeType: 'audio/wav',
  buffer: Buffer.from(tapsForMicrophone({ modes: topModes, holds: 1, tapsPerHold, pauseS: 0.5, seed })),
});
const looked = (page: Page) => page.getByText(/Looked through \d+ records? with/).waitFor();
const saved = (page: Page) => page.getByText('Saved', { exact: true }).waitFor();

async function begin(page: Page, name: string): Promise<void> {
  await page.goto(`${site.url}#/record`);
  await fill(page, 'Name', name);
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await page.getByRole('heading', { name, exact: true }).waitFor();
  await saved(page);
}

/**
 * Kills the tab in the middle of the next write of a kind: the write has been asked for, and its transaction is held open
 * until the tab is gone.
 */
async function killedWhileWriting(page: Page, key: string, act: () => Promise<unknown>): Promise<void> {
  await page.evaluate((prefix) => {
    const { put } = IDBObjectStore.prototype;
    IDBObjectStore.prototype.put = function (this: IDBObjectStore, value: unknown, at?: IDBValidKey) {
      const request = put.call(this, value, at);
      if (String(at).startsWith(prefix)) {
        const hold = (): void => {
          this.get('nothing').onsuccess = hold;
        };
        hold();
        document.documentElement.dataset['writing'] = 'yes';
      }
      return request;
    };
  }, key);
  const inTheMiddle = page.waitForSelector('html[data-writing]');
  const crashed = page.waitForEvent('crash');
  const acted = act().catch(() => undefined);
  await inTheMiddle;
  const session = await page.context().newCDPSession(page);
  void session.send('Page.crash').catch(() => undefined);
  await crashed;
  await acted;
  await page.close();
}

describe('the tab is killed in the middle of a write', () => {
  test('of a sound, of a step, of an import, of a setting: what was stored before is whole, and the same can be done again', async () => {
    let page = await opened();
    await begin(page, 'Survivor');
    await page.goto(`${site.url}#/bench`);

    // A tap's sound: the tap in the air is lost, the round is there.
    await killedWhileWriting(page, 'tap:', () => page.locator('#recordings').setInputFiles(recording(1)));
    page = await opened();
    await looked(page);
    expect(await page.locator('.findings').count()).toBe(0);

    // The record: a step's text.
    await page.goto(`${site.url}#/record`);
    await killedWhileWriting(page, 'record:', () => fill(page, 'Notes', 'never stored'));
    page = await opened();
    await page.getByRole('heading', { name: 'Survivor', exact: true }).waitFor();
    expect(await page.getByLabel('Notes', { exact: true }).inputValue()).toBe('');
    await fill(page, 'Notes', 'stored now');
    await saved(page);

    // The list entry that is written together with the record.
    await killedWhileWriting(page, 'summary:', () => fill(page, 'Model', 'half a change'));
    page = await opened();
    await page.getByRole('heading', { name: 'Survivor', exact: true }).waitFor();
    expect(await page.getByLabel('Notes', { exact: true }).inputValue()).toBe('stored now');
    expect(await page.getByLabel('Model', { exact: true }).inputValue()).toBe('');

    // An import: first in its sounds, then in its record.
    const record: InstrumentRecord = { ...recordOf('kill-1', [roundOf('r', ['kill-a'])]), name: 'Imported once' };
    const sound = {
      samples: Float32Array.from({ length: 120 }, (_, i) => 0.5 * (-0.9) ** i),
      sampleRateHz: 48_000,
      onsetIndex: 1,
    };
    const archive = zipFile(
      'in.zip',
      writeArchive([{ record, taps: new Map([['kill-a', sound]]), photos: new Map() }]),
    );
    for (const key of ['tap:kill', 'record:kill']) {
      await page.locator('#import').setInputFiles(archive);
      const agree = page.getByRole('button', { name: 'Take in 1 record' });
      await agree.waitFor();
      await killedWhileWriting(page, key, () => agree.click({ noWaitAfter: true }));
      page = await opened();
      await looked(page);
      expect(await page.locator('.findings').count()).toBe(0);
      expect(await page.getByText('Imported once').count()).toBe(0);
    }
    await page.locator('#import').setInputFiles(archive);
    await page.getByRole('button', { name: 'Take in 1 record' }).click();
    await page.getByText('Imported 1 record with 1 tap.').waitFor();
    expect(await page.locator('.instruments').getByText('Imported once').count()).toBe(1);

    // A setting.
    await page.goto(`${site.url}#/settings`);
    await killedWhileWriting(page, 'settings', () => fill(page, 'Pitch of A4', '442'));
    page = await opened('settings');
    expect(await page.getByLabel('Pitch of A4').inputValue()).toBe('440');
    await page.goto(`${site.url}#/record`);
    await looked(page);
    expect(await page.locator('.findings').count()).toBe(0);
  });
});

describe('the browser gives no room', () => {
  test('the quota is reached: what is stored stays, the page says so, the taps can be carried out, and with room again they are stored', async () => {
    // Without the copy of the page for offline use, which grows with the program and would share the room.
    const context = await newContext({ serviceWorkers: 'block' });
    onTestFinished(() => context.close());
    const page = await context.newPage();
    // The browser reckons the room once and then for half a minute, so the limit stands before anything is stored: there is
    // room for records, and none for sounds.
    await page.goto(`${site.url}record.schema.json`);
    const session = await context.newCDPSession(page);
    const { origin } = new URL(site.url);
    await session.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 300_000 });
    await page.goto(`${site.url}#/record`);
    await page.waitForSelector('html[data-ready]');
    await begin(page, 'Crowded');
    await page.goto(`${site.url}#/bench`);
    await page.locator('#recordings').setInputFiles(recording(2, 3));
    await page.getByRole('alert').getByText('The disk space the browser gives this page is full').waitFor();
    await page.goto(`${site.url}#/record`);
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Export this record' }).click();
    const archive = readArchive(await bytesOf(await download));
    expect(archive.kind === 'read' && archive.bundles[0]?.taps.size).toBe(3);
    await session.send('Storage.overrideQuotaForOrigin', { origin });
    await fill(page, 'Notes', 'room again');
    await saved(page);
    await page.reload();
    await page.waitForSelector('html[data-ready]');
    await page.getByRole('heading', { name: 'Crowded', exact: true }).waitFor();
    expect(await page.getByLabel('Notes', { exact: true }).inputValue()).toBe('room again');
  });

  test('storage is refused altogether: the page says so, works on, and what was done can be exported', async () => {
    const page = await opened('record', () => {
      IDBFactory.prototype.open = () => {
        throw new DOMException('refused', 'SecurityError');
      };
    });
    await page.getByRole('alert').getByText('refuses to store anything').waitFor();
    await fill(page, 'Name', 'In memory');
    await page.getByRole('button', { name: 'Begin', exact: true }).click();
    await page.getByText('Not saved', { exact: true }).waitFor();
    await page.goto(`${site.url}#/bench`);
    await page.locator('#recordings').setInputFiles(recording(3));
    await page.locator('.figure-number').first().waitFor();
    await page.goto(`${site.url}#/record`);
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Export this record' }).click();
    const archive = readArchive(await bytesOf(await download));
    if (archive.kind !== 'read') throw new Error(archive.because);
    const [bundle] = archive.bundles;
    expect(bundle?.record.name).toBe('In memory');
    expect([...(bundle?.taps.keys() ?? [])]).toEqual(tapIds(bundle!.record));
    expect(bundle?.taps.size).toBe(2);
  });
});

describe('the clock goes backwards', () => {
  test('steps stay in the order they were done, and everything opens again', async () => {
    const page = await opened('record', () => {
      const Real = Date;
      const back = () => Number(sessionStorage.getItem('back') ?? 0);
      const wrong = new Proxy(Real, {
        construct: (target, given: [], self) =>
          given.length === 0 ? new Real(Real.now() - back()) : Reflect.construct(target, given, self),
        get: (target, key) => (key === 'now' ? () => Real.now() - back() : Reflect.get(target, key)),
      });
      Object.assign(window, { Date: wrong });
    });
    await begin(page, 'Timeless');
    for (const [i, done] of ['first', 'second'].entries()) {
      // Each step two days before the one before it.
      await page.evaluate((days) => sessionStorage.setItem('back', String(days * 86_400_000)), 2 * i);
      await page.goto(`${site.url}#/bench`);
      await page.locator('#recordings').setInputFiles(recording(10 + i, 1));
      await page.locator('.session .figure-number').first().waitFor();
      await fill(page, 'What was done', done);
      if (i < 1) await page.getByRole('button', { name: 'Something was done: new step' }).click();
    }
    await saved(page);
    await page.goto(`${site.url}#/steps`);
    await page.reload();
    await page.waitForSelector('html[data-ready]');
    const diary = await page.locator('.diary summary strong').allTextContents();
    expect(diary).toEqual(['2. second', '1. first']);
  });
});

describe('hostile files', () => {
  test('a drawing that is no outline is refused in words, a good one is taken', async () => {
    const page = await opened();
    await page.locator('.instrument-name', { hasText: 'Demo top' }).click();
    await page.goto(`${site.url}#/plan`);
    const drawing = (text: string) => ({ name: 'body.svg', mimeType: 'image/svg+xml', buffer: Buffer.from(text) });
    const file = page.locator('#outline-file');
    await page
      .locator('details', { has: file })
      .first()
      .evaluate((details: HTMLDetailsElement) => {
        details.open = true;
      });
    await file.setInputFiles(drawing('<path '.repeat(20_000)));
    await page.getByRole('alert').getByText('No closed path').waitFor();
    await file.setInputFiles(drawing('<svg><path d="M0 0h1e999v400h-200z"/></svg>'));
    await page.getByRole('alert').getByText('not a number').waitFor();
    await file.setInputFiles(drawing('<svg width="380mm" viewBox="0 0 380 490"><path d="M0 0h380v490h-380z"/></svg>'));
    await page.getByText('body.svg').waitFor();
    expect(await page.getByRole('alert').getByText('Nothing was changed').count()).toBe(0);
    await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await page.getByText('body.svg').waitFor({ state: 'detached' });
  });

  test('markup in every text field is shown as text in every view; path tricks, bombs, damage and keys of prototypes are named in plain words or harmless', async () => {
    const page = await opened();
    const wrong: string[] = [];
    page.on('pageerror', (error) => wrong.push(error.message));
    page.on('console', (message) => message.type() === 'error' && wrong.push(message.text()));
    const markup = '<img src=x onerror="window.harmed=1"><b>bold</b>';
    const record = withText(await exportedDemo(page), markup);
    const bytes = new TextEncoder().encode(JSON.stringify(record));
    const hostile = zipOf([
      { name: 'record.json', content: bytes },
      { name: '../../../escape.wav', content: bytes },
      { name: 'taps/nothing.wav', content: bytes, claimedCrc: 1 },
    ]);
    const bomb = new Uint8Array(70 * 2 ** 20);
    const tapped = { ...recordOf('keys', [roundOf('r', ['lost-tap'])]), name: 'keys' };
    const many = zipOf([
      {
        name: 'keys/record.json',
        content: new TextEncoder().encode(
          JSON.stringify(tapped).replace(
            '{',
            '{"__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":1}},',
          ),
        ),
      },
      { name: 'keys/taps/lost-tap.wav', content: bytes, claimedCrc: 1 },
      { name: 'cut/record.json', content: bytes, claimedCrc: 1 },
      { name: 'bomb/record.json', content: bomb },
    ]);
    const ring = Float32Array.from({ length: 24_000 }, (_, i) =>
      i < 4800
        ? 0.0002 * Math.sin(i * i)
        : 0.3 * Math.exp((4800 - i) / 4000) * Math.sin((2 * Math.PI * 180.5 * (i - 4800)) / 48_000),
    );
    const heard = writeUff(
      recordToUff(
        { ...recordOf('u', [roundOf('r', ['a', 'b'])]), name: 'Foreign taps' },
        new Map(['a', 'b'].map((id) => [id, { samples: ring, sampleRateHz: 48_000, onsetIndex: 4800 }])),
      ),
    );
    const universal = heard.slice(0, heard.length - 20_000);
    await page.locator('#import').setInputFiles(
      filesOnDisk({
        'hostile.zip': hostile,
        'large.zip': with64BitEnd(hostile),
        'many.zip': many,
        'million.zip': zipOfMany(1_000_000),
        'foreign.zip': Buffer.from('PK no'),
        'nothing.zip': Buffer.alloc(0),
        'taps.uff': new TextEncoder().encode(universal),
      }),
    );
    await page.getByText('1 file with a name that points out of the archive.').waitFor();
    await page.getByText('It is a zip in the 64-bit form').waitFor();
    await page.getByText('It holds more files than any record has.').waitFor();
    expect(await page.getByText('It is not a zip archive, or nothing of it is left.').count()).toBe(2);
    await page.getByText('The record in folder cut/ is damaged.').waitFor();
    await page.getByText('The sound of 1 tap is missing or damaged').waitFor();
    await page.getByText('The record in folder bomb/ claims to be larger than any record.').waitFor();
    await page.getByText('1 time history: each comes in as a tap').waitFor();
    await page.getByText(/^Dataset 58 at line \d+ is damaged/).waitFor();
    await page.getByRole('button', { name: 'Take in 3 records' }).click();
    await page.getByText('Imported 3 records with 1 tap.').waitFor();
    expect(await page.evaluate(() => 'polluted' in {})).toBe(false);
    await page.getByRole('button', { name: /^Foreign taps/ }).click();
    await page.goto(`${site.url}#/steps`);
    // what was put in, read from the sound that came through the text of the file
    await page
      .getByText(/^18[01]\.\d/)
      .first()
      .waitFor();
    await page.goto(`${site.url}#/record`);
    await page.locator('.instrument-name', { hasText: '<img' }).first().click();
    for (const view of ['bench', 'steps', 'wood', 'plan', 'forecast', 'box', 'record', 'settings']) {
      await page.goto(`${site.url}#/${view}`);
      await page.locator('main h1').first().waitFor();
      await page.waitForTimeout(200);
      expect(await page.locator('main img[src="x"], main b').count(), view).toBe(0);
    }
    expect(await page.evaluate(() => 'harmed' in window)).toBe(false);
    await page.goto(`${site.url}#/record`);
    await page.getByRole('heading', { name: markup, exact: true }).waitFor();
    // A sound that breaks off at the bench: what is whole of it is taken, and the page says so.
    await page.goto(`${site.url}#/bench`);
    const sound = recording(4, 3);
    await page.locator('#recordings').setInputFiles({ ...sound, buffer: sound.buffer.subarray(0, -50_000) });
    await page.getByRole('alert').getByText('"taps.wav" breaks off in the middle').waitFor();
    expect(wrong).toEqual([]);
  });
});

async function bytesOf(download: { createReadStream(): Promise<NodeJS.ReadableStream> }): Promise<Uint8Array> {
  const chunks: Buffer[] = [];
  for await (const chunk of await download.createReadStream()) chunks.push(Buffer.from(chunk));
  return new Uint8Array(Buffer.concat(chunks));
}

/** The demo instrument as the page exports it. */
async function exportedDemo(page: Page): Promise<InstrumentRecord> {
  await page.locator('.instrument-name', { hasText: 'Demo top' }).click();
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Export this record' }).click();
  const archive = readArchive(await bytesOf(await download));
  if (archive.kind !== 'read') throw new Error(archive.because);
  return archive.bundles[0]?.record ?? newRecord({ id: 'none', createdAtIso: '2026-01-01T00:00:00.000Z', name: '' });
}

const textKeys = [
  'name',
  'model',
  'notes',
  'done',
  'heard',
  'spot',
  'source',
  'mode',
  'origin',
  'brace',
  'species',
  'hygrometer',
];

/** The record with a text in the place of every text that a maker can write. */
function withText(record: InstrumentRecord, text: string): unknown {
  const change = (value: unknown, key: string): unknown => {
    if (typeof value === 'string') return textKeys.includes(key) ? text : value;
    if (Array.isArray(value)) return value.map((element) => change(element, key));
    if (typeof value !== 'object' || value === null) return value;
    return Object.fromEntries(Object.entries(value).map(([name, below]) => [name, change(below, name)]));
  };
  return { ...(change(record, '') as object), id: 'hostile' };
}
