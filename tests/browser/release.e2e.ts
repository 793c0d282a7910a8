// The archive that anybody can host: unpacked into a folder of a server that knows nothing of the program, the page works,
// with its workers, its worklet and with no network; opened as a file it says why it cannot start.
import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { unzipSync } from 'fflate';
import { chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, onTestFinished, test } from 'vitest';
import { releaseOf } from '../../src/terminal/release.ts';
import { findChromium } from './chromium.ts';
import { microphoneFile, openPage, patienceMs, quietArgs } from './page.ts';
import { tapsForMicrophone, topModes } from './sound.ts';

const project = path.resolve(import.meta.dirname, '../..');
const { version } = JSON.parse(readFileSync(path.join(project, 'package.json'), 'utf8')) as {
  readonly version: string;
};
const changes = readFileSync(path.join(project, 'docs/CHANGELOG.md'), 'utf8');
const release = () => releaseOf(inject('builtFolder'), version, changes);

let host: string;
let unpacked: string;
beforeAll(() => {
  host = mkdtempSync(path.join(tmpdir(), 'platewright-host-'));
  unpacked = path.join(host, 'a/folder of mine');
  for (const [name, bytes] of Object.entries(unzipSync(release().archive))) {
    const file = path.join(unpacked, name.slice(name.indexOf('/') + 1));
    mkdirSync(path.dirname(file), { recursive: true });
    writeFileSync(file, bytes);
  }
});
afterAll(() => rmSync(host, { recursive: true }));

/** A server as plain as can be: the type by the ending, no other header. */
async function plainServer(): Promise<{ readonly url: string; close(): Promise<void> }> {
  const types: Readonly<Record<string, string>> = { html: 'text/html', js: 'text/javascript', css: 'text/css' };
  const server = createServer((request, response) => {
    const asked = decodeURIComponent(new URL(request.url ?? '/', 'http://host').pathname);
    const file = path.join(host, asked.endsWith('/') ? `${asked}index.html` : asked);
    if (statSync(file, { throwIfNoEntry: false })?.isFile())
      response
        .setHeader('content-type', types[file.split('.').at(-1) ?? ''] ?? 'application/octet-stream')
        .end(readFileSync(file));
    else response.writeHead(404).end();
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  return {
    url: `http://localhost:${port}/a/folder%20of%20mine/`,
    close: async () => {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}

describe('the archive', () => {
  test('is the same for the same page, is what its checksum says, and so is every file in it', () => {
    const { archive, name, sums } = release();
    expect(Buffer.from(archive).equals(Buffer.from(release().archive))).toBe(true);
    const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');
    expect(sums).toBe(`${sha256(archive)}  ${name}\n`);
    const files = unzipSync(archive);
    const within = new TextDecoder().decode(files[`platewright-${version}/SHA256SUMS`]);
    const told = within
      .trimEnd()
      .split('\n')
      .map((line) => line.split('  '));
    expect(told.map(([, file]) => `platewright-${version}/${file}`).sort()).toEqual(
      Object.keys(files)
        .filter((file) => !file.endsWith('/SHA256SUMS'))
        .sort(),
    );
    for (const [sum, file] of told) expect(sha256(files[`platewright-${version}/${file}`]!)).toBe(sum);
  });

  test('is not made of a version whose changes nobody wrote down', () => {
    expect(() => releaseOf(inject('builtFolder'), '99.0.0', changes)).toThrow('says nothing of version 99.0.0');
  });

  test('unpacked into a folder of any server it listens, reads taps, and opens with no network', async () => {
    const server = await plainServer();
    const sound = microphoneFile(
      tapsForMicrophone({ modes: topModes, holds: 1, tapsPerHold: 6, pauseS: 20, seed: 31 }),
    );
    onTestFinished(() => sound.remove());
    const { page, wrong } = await openPage(server.url, { microphone: sound.file });
    await page.getByRole('button', { name: 'Start listening' }).click();
    await page.getByText(/^[1-9] of 8 taps/).waitFor();
    await page
      .getByRole('button', { name: /Stop|Read what there is/ })
      .first()
      .click();
    await page.locator('.session .figure-number').first().waitFor();
    await page.evaluate(async () => {
      await navigator.serviceWorker.ready;
    });
    await page.reload();
    await page.waitForSelector('html[data-ready]');
    await server.close();
    await page.reload();
    await page.waitForSelector('html[data-ready]');
    for (const view of ['steps', 'plan', 'forecast', 'record']) {
      await page.goto(`${server.url}#/${view}`);
      await page.locator('main h1').first().waitFor();
    }
    expect(wrong).toEqual([]);
  });

  test('opened as a file the page says that it must be served', async () => {
    const { executablePath, env } = findChromium();
    const browser = await chromium.launch({ executablePath, env, args: quietArgs, timeout: patienceMs });
    onTestFinished(() => browser.close());
    const page = await browser.newPage();
    await page.goto(pathToFileURL(path.join(unpacked, 'index.html')).href);
    await page.getByText('it must be served').waitFor({ timeout: patienceMs });
    expect(await page.locator('html[data-ready]').count()).toBe(0);
  });
});
