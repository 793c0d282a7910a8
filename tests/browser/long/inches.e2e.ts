// A maker who reads inches: no view says a metric length, besides what the maker wrote and what files are in.
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { demoSteps } from '../../../src/demo/demo-steps.ts';
import { builtPage, lowestHz, openPage } from '../page.ts';

let site: Awaited<ReturnType<typeof builtPage>>;
beforeAll(async () => {
  site = await builtPage();
});
afterAll(() => site.close());

/** The maker's words stay as they were written; drawings are read from files in millimetres; the choice of units names them. */
const allowed = [...demoSteps.map(({ done }) => done), 'DXF R12: the longest polyline, millimetres', 'Millimetres'];

/** Everything that is seen or read aloud, also in what is folded away. */
async function metricTexts(page: Page): Promise<readonly string[]> {
  const texts = await page.evaluate(() =>
    [...document.querySelectorAll('main, main *, header *')].flatMap((element) => [
      ...['aria-label', 'title', 'placeholder', 'aria-valuetext'].map((name) => element.getAttribute(name) ?? ''),
      element instanceof HTMLInputElement ? element.value : '',
      [...element.childNodes].map((node) => (node.nodeType === Node.TEXT_NODE ? node.textContent : '')).join(''),
    ]),
  );
  return [...new Set(texts.map((text) => text.replaceAll('\u00a0', ' ')))].filter((text) =>
    /\b(mm|cm|cm²|millimet\w+|centimet\w+)(?![\w²])/i.test(
      allowed.reduce((rest, own) => rest.replaceAll(own, ''), text),
    ),
  );
}

async function unfoldAll(page: Page): Promise<void> {
  // Some parts are made when they are first unfolded, and may hold others.
  for (let depth = 0; depth < 3; depth++) {
    await page.evaluate(async () => {
      for (const details of document.querySelectorAll<HTMLDetailsElement>('main details')) details.open = true;
      await new Promise((done) => setTimeout(done, 200));
    });
  }
}

test('every view in inches says no metric length, and fractions where a rule is read', {
  timeout: 600_000,
}, async () => {
  const { page, wrong } = await openPage(site.url);
  const go = async (view: string) => {
    await page.goto(`${site.url}#/${view}`);
    await page.locator('main > *').first().waitFor();
  };
  await go('settings');
  await page.getByLabel('Lengths', { exact: true }).selectOption('inch');
  await go('box');
  const links = page.locator('nav.parts a');
  await links.first().waitFor();
  const parts = await links.evaluateAll((each) => each.map((link) => link.getAttribute('href')!.slice(2)));
  const shared = ['bench', 'steps', 'record/library', 'record/report', 'settings', 'record'];
  for (const view of ['wood', 'plan', 'forecast', ...parts, ...shared, 'the closed guitar', ...parts, ...shared]) {
    if (view === 'the closed guitar') {
      // Its box has sizes, rounds and strings; the top has none of them.
      await page.getByRole('button', { name: 'Demo guitar, finished before' }).first().click();
      await page.locator('header').getByText('Demo guitar, finished before').waitFor();
      continue;
    }
    await go(view);
    if (view === 'box/what-if') await page.locator('main h1').waitFor();
    if (view === 'forecast') {
      await lowestHz(page);
      await page.getByLabel('On the drawing').selectOption('per-mm');
    }
    // The wood view has its parts and its pieces behind buttons.
    const buttons = page.locator('nav.parts button, .instrument-name');
    for (let i = view === 'wood' ? await buttons.count() : 0; i >= 0; i--) {
      if (i > 0) await buttons.nth(i - 1).click();
      await unfoldAll(page);
      expect({ view, i, metric: await metricTexts(page) }).toEqual({ view, i, metric: [] });
    }
    if (view === 'plan') {
      // The lower bout of the demo's top is 348 mm wide: 13.701 in, 13 45/64 in off a rule.
      expect(await page.getByLabel('Lower bout', { exact: true }).inputValue()).toBe('13 45/64');
      await page.getByLabel('Lower bout', { exact: true }).fill('15 9/32"');
      await page.getByLabel('Lower bout', { exact: true }).blur();
      await expect.poll(() => page.getByLabel('Lower bout', { exact: true }).inputValue()).toBe('15 9/32');
      await page.getByRole('button', { name: 'Undo' }).click();
    }
  }
  expect(wrong).toEqual([]);
});
