// What several benches share: something built by Vite, served with the page's headers and opened in Chromium.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { build } from 'vite';
import { serve } from '../../src/terminal/serve.mjs';
import { findChromium } from '../browser/chromium.ts';

export const root = path.resolve(import.meta.dirname, '../..');

/** Builds what lies under a folder of the project, opens it and hands it on; everything is taken away afterwards. */
export async function inChromium<T>(
  given: { readonly from?: string; readonly args?: readonly string[] },
  work: (page: Page, url: string, browser: Browser) => Promise<T>,
): Promise<T> {
  const folder = mkdtempSync(path.join(tmpdir(), 'platewright-bench-'));
  const outDir = path.join(folder, 'dist');
  // The page as it is given out, without development code.
  process.env['NODE_ENV'] = 'production';
  await build({ root: given.from ?? root, logLevel: 'error', build: { outDir, emptyOutDir: true } });
  const site = await serve(outDir, 0);
  const { executablePath, env } = findChromium();
  const browser = await chromium.launch({
    executablePath,
    env,
    args: ['--no-sandbox', '--disable-gpu', ...(given.args ?? [])],
  });
  try {
    return await work(await browser.newPage(), site.url, browser);
  } finally {
    await browser.close();
    await site.close();
    rmSync(folder, { recursive: true, force: true });
  }
}
