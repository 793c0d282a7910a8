// With no network after the first load: every view works, the page can be installed, a newer version is offered and never
// forced; and what is delivered asks nothing of others and carries its policy.
import { subscribe, unsubscribe } from 'node:diagnostics_channel';
import { appendFileSync, cpSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import type { Socket } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { readArchive, tapIds } from '../../../src/record/archive.ts';
import { contentSecurityPolicy, serve } from '../../../src/terminal/serve.mjs';
import { builtPage, fill, openPage } from '../page.ts';
import { tapsForMicrophone, topModes } from '../sound.ts';

let site: Awaited<ReturnType<typeof builtPage>>;
beforeAll(async () => {
  site = await builtPage();
});
afterAll(() => site.close());

/** The same page at an address of its own, whose server can be stopped and whose files can be changed. */
async function ownCopy(): Promise<{ readonly url: string; readonly folder: string; close(): Promise<void> }> {
  const folder = mkdtempSync(path.join(tmpdir(), 'platewright-copy-'));
  cpSync(site.folder, folder, { recursive: true });
  const server = await serve(folder, 0);
  onTestFinished(() => rmSync(folder, { recursive: true }));
  return { ...server, folder };
}

const ready = (page: Page) => page.waitForSelector('html[data-ready]');

describe('with no network after the first load', () => {
  test('the page opens, every view works, a worker reads taps, charts come from the cache, the demo is made anew; it can be installed', async () => {
    const own = await ownCopy();
    const { page, context, wrong } = await openPage(own.url);
    await page.evaluate(async () => {
      await navigator.serviceWorker.ready;
    });
    await page.reload();
    await ready(page);
    const session = await context.newCDPSession(page);
    const { installabilityErrors } = await session.send('Page.getInstallabilityErrors');
    expect(installabilityErrors.map(({ errorId }) => errorId).filter((id) => id !== 'in-incognito')).toEqual([]);
    await own.close();
    wrong.length = 0;
    await page.reload();
    await ready(page);
    for (const view of ['bench', 'steps', 'wood', 'plan', 'forecast', 'box', 'record', 'settings']) {
      await page.goto(`${own.url}#/${view}`);
      await page.locator('main h1').first().waitFor();
    }
    await page.goto(`${own.url}#/steps`);
    await page.locator('main canvas').first().waitFor();
    await page.goto(`${own.url}#/record`);
    await fill(page, 'Name', 'Made offline');
    await page.getByRole('button', { name: 'Begin', exact: true }).click();
    await page.getByRole('heading', { name: 'Made offline' }).waitFor();
    await page.goto(`${own.url}#/bench`);
    await page.locator('#recordings').setInputFiles({
      name: 'taps.wav',
      mimeType: 'audio/wav',
      buffer: Buffer.from(tapsForMicrophone({ modes: topModes, holds: 1, tapsPerHold: 2, pauseS: 0.5, seed: 9 })),
    });
    await page.locator('.figure-number').first().waitFor();
    // Erased and begun anew: the demo is made again, its sounds too.
    await page.goto(`${own.url}#/record`);
    await page.evaluate(() => {
      indexedDB.deleteDatabase('platewright-shelf');
      indexedDB.deleteDatabase('platewright-sounds');
    });
    await page.reload();
    await ready(page);
    await page.locator('.instrument-name', { hasText: 'Demo top' }).click();
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Export this record' }).click();
    const archive = readArchive(readFileSync(await (await download).path()));
    const bundle = archive.kind === 'read' ? archive.bundles[0] : undefined;
    const demoTaps = tapIds(bundle?.record ?? expect.unreachable());
    expect(demoTaps.length).toBeGreaterThan(50);
    expect([...(bundle?.taps.keys() ?? [])].sort()).toEqual([...new Set(demoTaps)].sort());
    expect(wrong).toEqual([]);
  });

  test('a newer version is offered, but not in the middle of a round, and starts only when the maker says so', async () => {
    const own = await ownCopy();
    const { page } = await openPage(own.url);
    await page.addInitScript(() => {
      navigator.mediaDevices.getUserMedia = async () => {
        const context = new AudioContext();
        const quiet = context.createConstantSource();
        quiet.offset.value = 1e-5;
        const out = context.createMediaStreamDestination();
        quiet.connect(out);
        quiet.start();
        return out.stream;
      };
    });
    await page.evaluate(async () => {
      await navigator.serviceWorker.ready;
    });
    await page.reload();
    await ready(page);
    await page.goto(`${own.url}#/bench`);
    await page.getByRole('button', { name: 'Start listening' }).click();
    await page.getByText('0 of 8 taps').waitFor();
    appendFileSync(path.join(own.folder, 'sw.js'), '\n// newer\n');
    await page.evaluate(async () => {
      const registration = await navigator.serviceWorker.ready;
      await registration.update();
    });
    await expect
      .poll(() => page.evaluate(async () => (await navigator.serviceWorker.ready).waiting?.state))
      .toBe('installed');
    await page.evaluate(() => Object.assign(window, { stillTheSame: true }));
    await page.waitForTimeout(500);
    const offer = page.getByText('A newer version lies ready.');
    expect(await offer.count()).toBe(0);
    await page
      .getByRole('button', { name: /Stop|Read what there is/ })
      .first()
      .click();
    await offer.waitFor();
    expect(await page.evaluate(() => 'stillTheSame' in window)).toBe(true);
    await page.getByRole('button', { name: 'Start it' }).click();
    await page.waitForFunction(() => !('stillTheSame' in window));
    await ready(page);
    await own.close();
  });
});

describe('a first visit', () => {
  test('asks for at most 0.5 MB before the demo lies on the bench with its figures, and for 1 MB until all is kept for later', async () => {
    // Every byte that leaves the server counts, whoever asked for it: the page or its offline worker.
    const sockets = new Set<Socket>();
    const note = (message: unknown) => sockets.add((message as { readonly socket: Socket }).socket);
    subscribe('http.server.request.start', note);
    onTestFinished(() => {
      unsubscribe('http.server.request.start', note);
    });
    const sentMb = () => [...sockets].reduce((sum, { bytesWritten }) => sum + bytesWritten, 0) / 1e6;
    const own = await ownCopy();
    const { page } = await openPage(own.url);
    await page.locator('.figure-number').first().waitFor();
    expect(await page.locator('.brand').textContent()).toContain('Demo top');
    // a page that came from elsewhere would pass any limit
    expect(sentMb()).toBeGreaterThan(0.1);
    expect(sentMb()).toBeLessThanOrEqual(0.5);
    await page.evaluate(async () => {
      await navigator.serviceWorker.ready;
    });
    expect(sentMb()).toBeLessThanOrEqual(1);
    await own.close();
  });

  test('shows nothing that moves afterwards', async () => {
    const { page } = await openPage(site.url, {
      viewport: { width: 412, height: 823 },
      before: () => {
        const shifts: number[] = [];
        Object.assign(window, { shifts });
        new PerformanceObserver((list) => {
          for (const entry of list.getEntries()) shifts.push((entry as PerformanceEntry & { value: number }).value);
        }).observe({ type: 'layout-shift', buffered: true });
      },
    });
    await page.locator('.figure-number').first().waitFor();
    await page.evaluate(async () => {
      await navigator.serviceWorker.ready;
    });
    const moved = await page.evaluate(() =>
      (window as unknown as { readonly shifts: readonly number[] }).shifts.reduce((sum, each) => sum + each, 0),
    );
    // the share of the view that may move, as the design says
    expect(moved).toBeLessThanOrEqual(0.05);
  });
});

describe('copies', () => {
  test('a folder is chosen once and written to again after a restart; the browser’s promise is asked for and its answer shown', async () => {
    const { page, context } = await openPage(site.url);
    // The chooser belongs to the system; the page's own private folder is the same kind of thing.
    await context.addInitScript(() => {
      Object.assign(window, { showDirectoryPicker: () => navigator.storage.getDirectory() });
    });
    await page.goto(`${site.url}#/record`);
    await page.reload();
    await ready(page);
    await page.getByRole('button', { name: 'Choose a folder for copies' }).click();
    await page.getByRole('button', { name: 'Forget the folder' }).waitFor();
    await page.reload();
    await ready(page);
    await page.getByRole('button', { name: /^Save a copy to/ }).click();
    await page.getByText(/^Exported \d+ records with/).waitFor();
    const files = await page.evaluate(async () => {
      const folder = await navigator.storage.getDirectory();
      const found: [string, number][] = [];
      for await (const [name, handle] of (
        folder as unknown as { entries(): AsyncIterable<[string, FileSystemFileHandle]> }
      ).entries())
        found.push([name, (await handle.getFile()).size]);
      return found;
    });
    expect(files).toHaveLength(1);
    expect(files[0]![0]).toMatch(/^all-records-\d{4}-\d\d-\d\d\.zip$/);
    expect(files[0]![1]).toBeGreaterThan(1e6);
    await page.getByText('Last copy of everything:').waitFor();
    // A browser without a person refuses by itself; its no is shown with what to do.
    await page.getByRole('button', { name: 'Ask the browser to keep the records' }).click();
    await page.getByText('The browser did not promise to keep the records').waitFor();
  });
});

describe('what is delivered', () => {
  const assets = () => readdirSync(path.join(site.folder, 'assets'));
  const html = () => readFileSync(path.join(site.folder, 'index.html'), 'utf8');

  test('carries one policy in the page and in the header, which names no other origin and allows no inline script', async () => {
    const meta = /http-equiv="Content-Security-Policy" content="([^"]+)"/.exec(html())?.[1];
    expect(meta).toBe(contentSecurityPolicy);
    const response = await fetch(site.url);
    // what may frame the page, a page cannot say of itself
    expect(response.headers.get('content-security-policy')).toBe(`${contentSecurityPolicy}; frame-ancestors 'none'`);
    expect(contentSecurityPolicy).toContain("default-src 'none'");
    expect(contentSecurityPolicy).not.toMatch(/https?:|unsafe|\*/);
    expect(html()).not.toMatch(/<script(?![^>]* src=)|<style|\son[a-z]+=/);
  });

  test('names no address but its own in page, styles and manifest', () => {
    const texts = [
      html(),
      readFileSync(path.join(site.folder, 'manifest.webmanifest'), 'utf8'),
      ...assets()
        .filter((name) => name.endsWith('.css'))
        .map((name) => readFileSync(path.join(site.folder, 'assets', name), 'utf8')),
    ];
    for (const text of texts) expect(text).not.toMatch(/(?:src|href|url)\s*[=(:]\s*["']?(?:https?:)?\/\//);
  });
});
