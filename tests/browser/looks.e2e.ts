// Can everybody use it: every view in light and dark, wide and narrow, without serious faults by the rules of WCAG 2.2 AA.
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { builtPage, fill, openPage } from './page.ts';
import { seriousFindings } from './rules.ts';
import { tapsForMicrophone, topModes } from './sound.ts';

const views = [
  'bench',
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
    await page.locator('.session .figure-number').first().waitFor({ timeout: 30_000 });
    if (factor === 1) await page.goto(`${site.url}#/steps`).then(() => page.goto(`${site.url}#/bench`));
  }
}

describe('every view', () => {
  test.each([
    ['light', { width: 1280, height: 800 }],
    ['dark', { width: 390, height: 844 }],
  ] as const)('in %s has no serious fault and does not overflow', async (theme, viewport) => {
    const { page, wrong } = await openPage(site.url, { viewport });
    await fillRecord(page);
    await page.goto(`${site.url}#/settings`);
    await page.getByLabel('Light', { exact: true }).selectOption(theme);
    for (const view of views) {
      await page.goto(`${site.url}#/${view}`);
      await page.locator('main > *').first().waitFor();
      // The library is as wide as its cards, and they come after the page.
      if (view === 'record/library') await page.getByText(/^\d+ in all$/).waitFor();
      await page.evaluate(() => new Promise((done) => setTimeout(done, 400)));
      expect({ view, found: await seriousFindings(page) }).toEqual({ view, found: [] });
      const overflow = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect({ view, overflow: Math.max(0, overflow) }).toEqual({ view, overflow: 0 });
    }
    expect(wrong).toEqual([]);
  });

  test('the figures of the answer are tall enough to be read from two metres', async () => {
    const { page } = await openPage(site.url);
    await fillRecord(page);
    const px = await page
      .locator('.figure-number')
      .first()
      .evaluate((element) => Number.parseFloat(getComputedStyle(element).fontSize));
    // 20 minutes of arc at 2 m is 11.6 mm (ISO 9241-303 range as quoted by ergonomics guides, from memory); a digit is
    // about 0.7 of the type size and a CSS pixel 0.2646 mm: 63 px.
    expect(px).toBeGreaterThanOrEqual(63);
  });

  test('everything of a round can be done by keyboard: tab to the button, space to press it', async () => {
    const { page } = await openPage(site.url);
    await fillRecord(page);
    await page.goto(`${site.url}#/bench`);
    await page.locator('body').click({ position: { x: 2, y: 400 } });
    await page.keyboard.press('Space');
    await page.getByRole('alert').getByText('No microphone was found').waitFor();
  });
});
