// The notices that go with the page are those of what is in it: told by the source maps, which the list is not made from.
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { build } from 'vite';
import { expect, inject, onTestFinished, test } from 'vitest';
import { builtPage, openPage } from './page.ts';

const root = path.resolve(import.meta.dirname, '../..');

/** Packages that a page built with source maps is made of, its workers and its worklet too. */
async function packagesBundled(): Promise<ReadonlySet<string>> {
  const outDir = mkdtempSync(path.join(tmpdir(), 'platewright-maps-'));
  onTestFinished(() => rmSync(outDir, { recursive: true }));
  await build({ root, logLevel: 'error', build: { outDir, emptyOutDir: true, sourcemap: true } });
  const maps = readdirSync(outDir, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.map'));
  const sources = maps.flatMap(
    (name) => (JSON.parse(readFileSync(path.join(outDir, name), 'utf8')) as { readonly sources: string[] }).sources,
  );
  // The offline worker is put together by another bundler, whose maps name its modules without their version.
  return new Set(
    sources.flatMap((source) => {
      const name = /.*node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(source)?.[1] ?? /\0(vite|rolldown)\//.exec(source)?.[1];
      return name ?? [];
    }),
  );
}

test('licences.txt names every package that is in the page, in its workers and in its offline worker, with its notice', async () => {
  const text = readFileSync(path.join(inject('builtFolder'), 'licences.txt'), 'utf8');
  const named = text
    .split(`\n\n${'-'.repeat(72)}\n\n`)
    .flatMap((part) => /^(\S+) \d+\.\d+\.\d+ \(/.exec(part)?.[1] ?? []);
  const bundled = await packagesBundled();
  // one of the page, one of the worker of long computations, one of the offline worker
  for (const known of ['preact', 'delaunator', 'workbox-precaching']) expect([...bundled]).toContain(known);
  // What the bundler adds of its own leaves no trace in the maps.
  expect(named.filter((name) => name !== 'vite' && name !== 'rolldown').sort()).toEqual(
    [...bundled].filter((name) => name !== 'vite' && name !== 'rolldown').sort(),
  );
  for (const part of text.split(`\n\n${'-'.repeat(72)}\n\n`).slice(2))
    expect(part).toMatch(/copyright|public domain|apache/i);
});

test('they can be read from the settings, with no network too', async () => {
  const site = await builtPage();
  const { page } = await openPage(site.url);
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });
  await page.reload();
  await page.goto(`${site.url}#/settings`);
  await page.getByText(/^Platewright \d+\.\d+\.\d+\./).waitFor();
  await site.close();
  await page.getByRole('link', { name: 'Licences of everything it is made of' }).click();
  await page.getByText('Copyright').first().waitFor();
  expect(await page.textContent('body')).toContain('valibot');
});
