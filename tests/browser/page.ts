// The built page in a real Chromium, with a WAV file as its microphone.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import { inject, onTestFinished } from 'vitest';
import { serve } from '../../src/terminal/serve.mjs';
import { findChromium } from './chromium.ts';

export const quietArgs = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** How long anything is waited for: nearly as long as a test may last, so that none fails because a machine is slow. */
export const patienceMs = 240_000;

/** The freshly built page, served with the same headers as `npm start` gives. */
export async function builtPage(): Promise<{ readonly url: string; readonly folder: string; close(): Promise<void> }> {
  const folder = inject('builtFolder');
  return { ...(await serve(folder, 0)), folder };
}

/** A sound for the fake microphone, written where Chromium can read it. */
export function microphoneFile(wav: Uint8Array): { readonly file: string; remove(): void } {
  const folder = mkdtempSync(path.join(tmpdir(), 'platewright-sound-'));
  const file = path.join(folder, 'microphone.wav');
  writeFileSync(file, wav);
  return { file, remove: () => rmSync(folder, { recursive: true }) };
}

export interface Opened {
  readonly browser: Browser | undefined;
  readonly context: BrowserContext;
  readonly page: Page;
  /** what the page did that it must not do: errors, requests elsewhere, violations of the content security policy */
  readonly wrong: string[];
  close(): Promise<void>;
}

export interface OpenOptions {
  /** WAV of the fake microphone; without it there is no device at all */
  readonly microphone?: string;
  /** profile folder that outlives the browser */
  readonly profile?: string;
  readonly permission?: 'granted' | 'refused';
  readonly viewport?: { readonly width: number; readonly height: number };
  /** runs in the page before any of its own code, with no variable of the test */
  readonly before?: () => void;
}

/** Starts Chromium on the page. It is closed at the end of the test at the latest. */
export async function openPage(url: string, options: OpenOptions = {}): Promise<Opened> {
  const found = findChromium();
  const args = [...quietArgs];
  if (options.microphone !== undefined) {
    args.push('--use-fake-device-for-media-stream', `--use-file-for-fake-audio-capture=${options.microphone}%noloop`);
    if (options.permission !== 'refused') args.push('--use-fake-ui-for-media-stream');
  }
  const viewport = options.viewport ?? { width: 1280, height: 800 };
  const launch = { executablePath: found.executablePath, env: found.env, args, headless: true, timeout: patienceMs };
  let browser: Browser | undefined;
  let context: BrowserContext;
  if (options.profile !== undefined)
    context = await chromium.launchPersistentContext(options.profile, { ...launch, viewport });
  else {
    browser = await chromium.launch(launch);
    context = await browser.newContext({ viewport, acceptDownloads: true });
  }
  context.setDefaultTimeout(patienceMs);
  let closed = false;
  const close = async () => {
    if (closed) return;
    closed = true;
    await context.close();
    await browser?.close();
  };
  onTestFinished(close);
  if (options.permission === 'refused') await context.addInitScript(refuse);
  if (options.before !== undefined) await context.addInitScript(options.before);
  const page = context.pages()[0] ?? (await context.newPage());
  const wrong: string[] = [];
  watch(page, url, wrong);
  await page.goto(url);
  await page.waitForSelector('html[data-ready]');
  return { browser, context, page, wrong, close };
}

/** A Chromium without a window asks nobody and says "not supported": this is how one with a window answers a refusal. */
function refuse(): void {
  navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('Permission denied', 'NotAllowedError'));
}

function watch(page: Page, url: string, wrong: string[]): void {
  page.on('pageerror', (error) => wrong.push(`error: ${error.message}`));
  page.on('console', (message) => {
    if (message.type() === 'error') wrong.push(`console: ${message.text()}`);
  });
  page.on('request', (request) => {
    const asked = request.url();
    if (!asked.startsWith(url) && !asked.startsWith('blob:') && !asked.startsWith('data:'))
      wrong.push(`request: ${asked}`);
  });
}

/** The large figures of the answer, Hz, in the order shown. */
export async function shownFrequencies(page: Page): Promise<readonly number[]> {
  return (await page.locator('.figure-number').allTextContents()).map(Number);
}

/** Fills a field by its label and leaves it, as a person does. */
export async function fill(page: Page, label: string, text: string): Promise<void> {
  const field = page.getByLabel(label, { exact: true }).first();
  await field.fill(text);
  await field.blur();
}

/** Computed frequency of the lowest mode, once the forecast for the present drawing is there. */
export async function lowestHz(page: Page): Promise<number> {
  const first = page.locator('.forecast-modes .forecast-hz').first();
  await first.waitFor();
  return Number.parseFloat((await first.textContent()) ?? '');
}
