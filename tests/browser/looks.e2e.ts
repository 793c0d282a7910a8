// Can everybody use it: every view in light and dark, wide and narrow, without serious faults by the rules of WCAG 2.2 AA.
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { builtPage, fill, openPage } from './page.ts';
import { seriousFindings } from './rules.ts';
import { tapsForMicrophone, topModes } from './sound.ts';

const views = [
  'bench',
  'bench/shapes',
  'steps',
  'wood',
  'plan',
  'forecast',
  'box',
  'record',
  'record/library',
  'record/report',
  'settings',
];

let site: Awaited<ReturnType<typeof builtPage>>;
beforeAll(async () => {
  site = await builtPage();
});
afterAll(() => site.close());

/** A record with two measured steps, so that every view has something to show. */
async function fillRecord(page: Page): Promise<void> {
  await page.goto(`${site.url}#/record`);
  await fill(page, 'Name', 'A top');
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await page.getByRole('heading', { name: 'A top' }).waitFor();
  await page.goto(`${site.url}#/bench`);
  for (const factor of [1, 0.98]) {
    const modes = topModes.map((mode) => ({ ...mode, frequencyHz: mode.frequencyHz * factor }));
    if (factor !== 1) await page.getByRole('button', { name: 'Something was done: new step' }).click();
    await page.locator('#recordings').setInputFiles({
      name: 'taps.wav',
      mimeType: 'audio/wav',
      buffer: Buffer.from(tapsForMicrophone({ modes, holds: 1, tapsPerHold: 2, pauseS: 0.5, seed: 9 })),
    });
    await page.locator('.session .figure-number').first().waitFor();
    if (factor === 1) await page.goto(`${site.url}#/steps`).then(() => page.goto(`${site.url}#/bench`));
  }
}

const screens = [
  { theme: 'light', viewport: { width: 1280, height: 800 } },
  { theme: 'dark', viewport: { width: 390, height: 844 } },
] as const;

async function lookAs(page: Page, { theme, viewport }: (typeof screens)[number]): Promise<void> {
  await page.setViewportSize(viewport);
  await page.goto(`${site.url}#/settings`);
  await page.getByLabel('Light', { exact: true }).selectOption(theme);
}

/** How many pixels the page is wider than the screen. */
const overflow = (page: Page) =>
  page.evaluate(() => Math.max(0, document.documentElement.scrollWidth - document.documentElement.clientWidth));

test('every view, in light on a desk and in dark on a phone, has no serious fault and does not overflow', {
  timeout: 300_000,
}, async () => {
  const { page, wrong } = await openPage(site.url);
  await fillRecord(page);
  // 20 minutes of arc at 2 m is 11.6 mm (ISO 9241-303 range as quoted by ergonomics guides, from memory); a digit is
  // about 0.7 of the type size and a CSS pixel 0.2646 mm: 63 px.
  expect(
    await page
      .locator('.figure-number')
      .first()
      .evaluate((element) => Number.parseFloat(getComputedStyle(element).fontSize)),
  ).toBeGreaterThanOrEqual(63);
  for (const screen of screens) {
    const { theme } = screen;
    await lookAs(page, screen);
    for (const view of views) {
      await page.goto(`${site.url}#/${view}`);
      await page.locator('main > *').first().waitFor();
      if (view === 'record/library') await page.getByRole('heading', { name: 'Side by side' }).waitFor();
      await page.evaluate(() => new Promise((done) => setTimeout(done, 400)));
      expect({ theme, view, found: await seriousFindings(page) }).toEqual({ theme, view, found: [] });
      expect({ theme, view, overflow: await overflow(page) }).toEqual({ theme, view, overflow: 0 });
    }
  }
  // A round without a mouse: the space bar starts it, wherever the focus is.
  await page.goto(`${site.url}#/bench`);
  await page.locator('body').click({ position: { x: 2, y: 400 } });
  await page.keyboard.press('Space');
  await page.getByRole('alert').getByText('No microphone was found').waitFor();
  expect(wrong).toEqual([]);
});

test('before the first taps of a stage the bench asks how the piece is held, and the question fits both screens', async () => {
  const { page } = await openPage(site.url);
  await page.goto(`${site.url}#/record`);
  await fill(page, 'Name', 'New top');
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await page.getByRole('heading', { name: 'New top' }).waitFor();
  await page.goto(`${site.url}#/bench`);
  await page.getByLabel('Stage', { exact: true }).selectOption('braced');
  for (const screen of screens) {
    const { theme } = screen;
    await lookAs(page, screen);
    await page.goto(`${site.url}#/bench`);
    await page.getByRole('button', { name: 'Yes, like this' }).waitFor();
    expect({ theme, found: await seriousFindings(page) }).toEqual({ theme, found: [] });
    expect({ theme, overflow: await overflow(page) }).toEqual({ theme, overflow: 0 });
  }
});
