// A maker's whole working life in the browser: 200 instruments, 5,000 steps, 20,000 taps with audio, in the built page in
// Chromium on a real disk.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { type BrowserContext, chromium, type Page } from 'playwright-core';
import { build } from 'vite';
import { type InstrumentRecord, newRecord, type Round, summarise } from '../../src/record/record.ts';
import { serve } from '../../src/terminal/serve.mjs';
import { findChromium } from '../browser/chromium.ts';

const root = path.resolve(import.meta.dirname, '../..');
const size = { records: 200, stepsEach: 25, tapsAStep: 4, samplesATap: 12_000 };
const repeats = 9;

/** Milliseconds as a line: median and largest, with what is aimed at. */
function line(what: string, times: readonly number[], aim: string): string {
  const sorted = times.toSorted((a, b) => a - b);
  const median = sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
  return `${what.padEnd(46)} ${median.toFixed(0)} ms median, ${(sorted.at(-1) ?? Number.NaN).toFixed(0)} ms at most, of ${times.length}${aim}`;
}

function roundOf(id: string, atIso: string): Round {
  return {
    id: `${id}-r`,
    atIso,
    support: { hold: 'in-mould', bridge: 'taped', strung: false },
    spot: 'bridge-centre',
    source: 'bench',
    state: 'closed',
    taps: Array.from({ length: size.tapsAStep }, (_, t) => ({
      id: `${id}-t${t}`,
      atIso,
      sampleRateHz: 48_000,
      aboveRoomDb: 40,
      hold: t % 2,
    })),
    fit: {
      method: 'bench',
      modes: Array.from({ length: 10 }, (_, m) => ({
        frequencyHz: { value: 90 + 47.3 * m, sigma: 0.1 },
        q: { value: 40, sigma: 1.5 },
        levelDb: -20 - m,
        amplitudes: Array.from({ length: size.tapsAStep }, () => 0.01),
        resolution: 'single' as const,
      })),
      used: Array.from({ length: size.tapsAStep }, (_, t) => ({ hold: t % 2, tap: t >> 1 })),
      setAside: [],
      scatterKnown: true,
    },
  };
}

function instrument(k: number): InstrumentRecord {
  const id = `bench-${k}`;
  const atIso = new Date(Date.UTC(2006, 0, 1 + 30 * k)).toISOString();
  return {
    ...newRecord({ id, createdAtIso: atIso, name: `Instrument ${k}`, model: `Model ${k % 7}` }),
    steps: Array.from({ length: size.stepsEach }, (_, s) => ({
      id: `${id}-s${s}`,
      atIso,
      stage: 'braced' as const,
      done: `Lower X legs, pass ${s + 1}, 0.2 mm off over 110 mm on both sides`,
      cuts: [{ id: `${id}-c${s}`, brace: 'X lower legs', braceIds: [], offMm: 0.2, weighedG: 0.11 }],
      massG: 210 - 0.1 * s,
      climate: { humidityPercent: 45, tempC: 20 },
      heard: 'a little more open below',
      rounds: [roundOf(`${id}-s${s}`, atIso)],
    })),
    pins: [{ id: `${id}-p`, stepId: `${id}-s0`, mode: 'monopole', frequencyHz: 184.6 }],
  };
}

/** Puts the library straight into the databases that the page will find. */
async function fillDatabases(page: Page): Promise<void> {
  const openDatabase = `(name) => new Promise((resolve, reject) => {
    const open = indexedDB.open(name);
    open.onupgradeneeded = () => open.result.createObjectStore('values');
    open.onsuccess = () => resolve(open.result);
    open.onerror = () => reject(open.error);
  })`;
  for (let k = 0; k < size.records; k++) {
    const record = instrument(k);
    const summary = summarise(record, record.createdAtIso);
    const taps = record.steps.flatMap(({ rounds }) => rounds.flatMap((round) => round.taps.map((tap) => tap.id)));
    await page.evaluate(
      async ({ record, summary, taps, samples, source }) => {
        const open = new Function(`return ${source}`)() as (name: string) => Promise<IDBDatabase>;
        const put = async (name: string, entries: readonly (readonly [string, unknown])[]) => {
          const database = await open(name);
          const transaction = database.transaction('values', 'readwrite');
          for (const [key, value] of entries) transaction.objectStore('values').put(value, key);
          await new Promise((resolve, reject) => {
            transaction.oncomplete = resolve;
            transaction.onabort = () => reject(transaction.error);
          });
          database.close();
        };
        const noise = new Float32Array(samples);
        const bytes = new Uint8Array(noise.buffer);
        for (let at = 0; at < bytes.length; at += 65_536)
          crypto.getRandomValues(bytes.subarray(at, Math.min(bytes.length, at + 65_536)));
        await put('platewright-shelf', [
          [`record:${record.id}`, record],
          [`summary:${record.id}`, summary],
        ]);
        await put(
          'platewright-sounds',
          taps.map((id) => [`tap:${id}`, { samples: noise, sampleRateHz: 48_000, onsetIndex: 4800 }]),
        );
      },
      { record, summary, taps, samples: size.samplesATap, source: openDatabase },
    );
  }
}

/** From the start of the navigation to the page being ready, ms. */
async function opened(context: BrowserContext, url: string): Promise<{ readonly page: Page; readonly ms: number }> {
  const page = await context.newPage();
  await page.goto(url, { waitUntil: 'commit' });
  await page.waitForSelector('html[data-ready]');
  const ms = await page.evaluate(() => performance.getEntriesByName('ready')[0]?.startTime ?? Number.NaN);
  return { page, ms };
}

/** Presses a button in the page and waits until everything is stored, ms. */
const savingTime = (page: Page): Promise<number> =>
  page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        const state = document.querySelector('.saving');
        const button = [...document.querySelectorAll('button')].find((one) => one.textContent.includes('new step'));
        const begin = performance.now();
        const watch = new MutationObserver(() => {
          if (state?.classList.contains('saved') !== true) return;
          watch.disconnect();
          resolve(performance.now() - begin);
        });
        if (state) watch.observe(state, { attributes: true, attributeFilter: ['class'] });
        button?.click();
      }),
  );

/** Types into the field of the list and waits for the next picture, ms. */
const searchTime = (page: Page, words: string): Promise<{ readonly ms: number; readonly found: number }> =>
  page.evaluate(async (typed) => {
    const field = [...document.querySelectorAll('label')].find((one) => one.textContent.startsWith('Find'));
    const input = field?.querySelector('input') ?? document.querySelector<HTMLInputElement>(`#${field?.htmlFor}`);
    const begin = performance.now();
    if (input) {
      input.value = typed;
      input.dispatchEvent(new Event('input', { bubbles: true }));
      input.dispatchEvent(new Event('change', { bubbles: true }));
    }
    await new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve, 0)));
    return { ms: performance.now() - begin, found: document.querySelectorAll('.instruments li').length };
  }, words);

/** From the start of the navigation to the library with every instrument read into its table, ms. */
async function libraryOpened(context: BrowserContext, url: string): Promise<number> {
  const page = await context.newPage();
  const begin = Date.now();
  await page.goto(`${url}#/record/library`, { waitUntil: 'commit' });
  await page.getByText(`${size.records} in all`).waitFor({ timeout: 300_000 });
  const ms = Date.now() - begin;
  await page.close();
  return ms;
}

/** Opening, saving, searching and comparing at full size. */
export async function libraryTimes(): Promise<readonly string[]> {
  const folder = mkdtempSync(path.join(tmpdir(), 'platewright-library-'));
  const outDir = path.join(folder, 'dist');
  await build({ root, logLevel: 'error', build: { outDir, emptyOutDir: true } });
  const site = await serve(outDir, 0);
  const { executablePath, env } = findChromium();
  const context = await chromium.launchPersistentContext(path.join(folder, 'profile'), {
    executablePath,
    env,
    args: ['--no-sandbox', '--disable-gpu'],
    headless: true,
  });
  // What runs this file marks functions with their names; the page has to know the mark.
  await context.addInitScript('globalThis.__name = (given) => given');
  await context.addInitScript(() => {
    new MutationObserver((_, watch) => {
      if (document.documentElement.dataset['ready'] !== 'yes') return;
      performance.mark('ready');
      watch.disconnect();
    }).observe(document, { attributes: true, subtree: true, attributeFilter: ['data-ready'] });
  });
  try {
    const seed = await context.newPage();
    await seed.goto(`${site.url}record.schema.json`);
    await fillDatabases(seed);
    await seed.close();
    // The first opening also takes the page itself into the cache.
    await (await opened(context, `${site.url}#/record`)).page.close();
    const opening: number[] = [];
    const looking: number[] = [];
    for (let i = 0; i < repeats; i++) {
      const { page, ms } = await opened(context, `${site.url}#/record`);
      opening.push(ms);
      const begin = Date.now();
      if (i < 3) {
        await page.getByText('Looked through').waitFor({ timeout: 300_000 });
        looking.push(Date.now() - begin);
      }
      await page.close();
    }
    const { page } = await opened(context, `${site.url}#/bench`);
    await page.waitForTimeout(20_000);
    const saving: number[] = [];
    for (let i = 0; i < repeats; i++) saving.push(await savingTime(page));
    await page.goto(`${site.url}#/record`);
    await page.locator('.instruments li').first().waitFor();
    const searching: number[] = [];
    let found = 0;
    for (let i = 0; i < repeats; i++) {
      const search = await searchTime(page, `instrument 1${i % 10}`);
      searching.push(search.ms);
      found = search.found;
    }
    const first = await libraryOpened(context, site.url);
    const comparing: number[] = [];
    for (let i = 0; i < 5; i++) comparing.push(await libraryOpened(context, site.url));
    const used = await page.evaluate(async () => (await navigator.storage.estimate()).usage ?? 0);
    return [
      `${size.records} instruments, ${size.records * size.stepsEach} steps, ${size.records * size.stepsEach * size.tapsAStep} taps of ${size.samplesATap} samples; ${(used / 1e9).toFixed(1)} GB on disk`,
      line('the page opens', opening, ' (aim 1000)'),
      line('everything stored is looked through', looking, ', in the background'),
      line('a step is stored', saving, ' (aim 50)'),
      line('the library opens, for the first time', [first], ''),
      line('the library opens', comparing, ''),
      line(`a search shows its ${found} instruments`, searching, ''),
    ];
  } finally {
    await context.close();
    await site.close();
    rmSync(folder, { recursive: true, force: true });
  }
}
