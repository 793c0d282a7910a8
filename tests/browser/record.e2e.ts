// What is made of records: the printed report, the library of all instruments, and what the settings keep.
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { writeArchive } from '../../src/record/archive.ts';
import type { InstrumentRecord } from '../../src/record/record.ts';
import { earlierInstrument } from './earlier-instruments.ts';
import { builtPage, fill, microphoneFile, openPage } from './page.ts';
import { seriousFindings } from './rules.ts';
import { forMicrophone, microphoneRateHz } from './sound.ts';

let site: Awaited<ReturnType<typeof builtPage>>;
beforeAll(async () => {
  site = await builtPage();
});
const silence = microphoneFile(forMicrophone(new Float64Array(4 * microphoneRateHz)));
afterAll(async () => {
  silence.remove();
  await site.close();
});

/** Presses Tab until an element has the focus, and sees that it shows it and that nothing lies over it. */
async function tabTo(page: Page, wanted: Locator): Promise<void> {
  const isThere = () => wanted.evaluate((element) => element === document.activeElement);
  for (let i = 0; i < 60 && !(await isThere()); i++) await page.keyboard.press('Tab');
  const seen = await wanted.evaluate((element) => {
    const { outlineStyle, outlineWidth } = getComputedStyle(element);
    const { left, top, width, height } = element.getBoundingClientRect();
    const over = document.elementFromPoint(left + width / 2, top + height / 2);
    return {
      focused: element === document.activeElement,
      outlined: outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2,
      uncovered: over !== null && element.contains(over),
    };
  });
  expect(seen).toEqual({ focused: true, outlined: true, uncovered: true });
}

/** Pages of a PDF by its own page objects. */
const pagesOf = (pdf: Buffer): number => (pdf.toString('latin1').match(/\/Type\s*\/Page\b/g) ?? []).length;

describe('the report', () => {
  test("prints without the page around it, on light paper in the dark theme, the owner's on one sheet of A4 or Letter", async () => {
    const { page, wrong } = await openPage(site.url);
    await page.goto(`${site.url}#/settings`);
    await page.getByLabel('Light', { exact: true }).selectOption('dark');
    await fill(page, 'Your name on reports', 'A. Maker');
    await page.getByLabel('Temperatures', { exact: true }).selectOption('f');
    await page.goto(`${site.url}#/record/report`);
    const report = page.locator('.report');
    await report.getByRole('img', { name: 'Mean spectrum of the taps' }).waitFor();
    await page.emulateMedia({ media: 'print' });
    const shown = await report.textContent();
    for (const said of [
      'from the workshop of A. Maker',
      'Demo top, left-handed',
      'Ends of the finger braces feathered',
      'monopole',
      '192.4 g without the bridge',
      // 19.6 and 20.4 degrees Celsius by hand: 1.8 c + 32
      '67 to 69 °F',
      'Local rules',
    ])
      expect(shown?.replaceAll('\u00a0', ' ')).toContain(said);
    for (const control of ['button', 'select', 'a.button', 'header.top', 'nav'])
      for (const one of await page.locator(control).all()) expect(await one.isVisible()).toBe(false);
    const paper = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    expect(paper).toBe('rgb(255, 255, 255)');
    // Lines, not dots: nothing of the report is a picture made of pixels.
    expect(await report.locator('canvas').count()).toBe(0);
    expect(pagesOf(await page.pdf({ format: 'A4' }))).toBeLessThanOrEqual(3);
    await page.emulateMedia({ media: null });
    await tabTo(page, page.getByLabel('Report', { exact: true }));
    await page.keyboard.press('ArrowDown');
    await report.getByText('About this instrument').waitFor();
    await page.evaluate(() => {
      window.print = () => document.documentElement.setAttribute('data-printed', 'yes');
    });
    await tabTo(page, page.getByRole('button', { name: 'Print, or save as PDF' }));
    await page.keyboard.press('Enter');
    await page.waitForSelector('html[data-printed]');
    for (const format of ['A4', 'Letter']) expect(pagesOf(await page.pdf({ format }))).toBe(1);
    expect(wrong).toEqual([]);
  });
});

describe('the library', () => {
  test('what earlier ones came out at becomes the target of the one on the bench by one press, and one undo takes it back', async () => {
    const { page, wrong } = await openPage(site.url);
    const hz = [178, 181, 184, 187];
    const model = 'Parlour';
    const earlier: InstrumentRecord[] = hz.map((bracedHz, i) => ({
      ...earlierInstrument(`No${i + 1}`, bracedHz, undefined),
      id: `no-${i + 1}`,
      model,
      ...(i < 3 ? { loved: true } : {}),
    }));
    const bench = { ...earlierInstrument('Newone', 192, undefined), model };
    const bundles = [...earlier, bench].map((record) => ({ record, taps: new Map(), photos: new Map() }));
    await page.goto(`${site.url}#/record`);
    await page
      .locator('#import')
      .setInputFiles({ name: 'all.zip', mimeType: 'application/zip', buffer: Buffer.from(writeArchive(bundles)) });
    await page.getByRole('button', { name: 'Take in 5 records' }).click();
    await page.getByText('Imported 5 records').waitFor();
    await page.getByRole('button', { name: /^Newone/ }).click();
    await page.getByRole('heading', { name: 'Newone' }).waitFor();
    await page.goto(`${site.url}#/record/library`);
    const count = async () => Number.parseInt((await page.getByText(/^\d+ in all$/).textContent()) ?? '', 10);
    await expect.poll(count).toBeGreaterThanOrEqual(6);
    const all = await count();

    // From here on without a mouse: from field to field by Tab, each seen to have the focus.
    await tabTo(page, page.getByLabel('Find by name or model'));
    await page.keyboard.type('no2');
    await page.getByText(`1 of ${all}`).waitFor();
    expect(await page.locator('.instruments li').allTextContents()).toEqual([expect.stringContaining('No2')]);
    await page.keyboard.press('Control+a');
    await page.keyboard.press('Delete');
    await tabTo(page, page.getByLabel('Only my best'));
    await page.keyboard.press('Space');
    await page.getByText(`3 of ${all}`).waitFor();
    await page.keyboard.press('Space');
    const third = page.getByLabel('Compare No3');
    await tabTo(page, third);
    await page.keyboard.press('Space');
    const drawn = page.getByRole('region', { name: 'Named modes of the chosen instruments' });
    await expect.poll(() => drawn.textContent()).not.toContain('No3');
    await page.keyboard.press('Space');
    await expect.poll(() => drawn.textContent()).toContain('No3');
    await tabTo(page, page.getByRole('button', { name: 'Make these the targets of Newone' }));
    await page.keyboard.press('Enter');
    await page.getByText('One target was set for the stage “braced”').waitFor();
    const target = () => page.locator('fieldset.target').filter({ hasText: 'the same again' });
    await page.goto(`${site.url}#/steps`);
    await page.getByText('Target for the stage').click();
    // Mean and spread by hand: 182.5; squares 20.25 + 2.25 + 2.25 + 20.25 = 45, over 3: 3.873.
    const fieldNumber = async (label: string) => Number(await target().getByLabel(label, { exact: true }).inputValue());
    expect(await fieldNumber('Wanted')).toBeCloseTo(182.5, 3);
    expect(await fieldNumber('Tolerance ±')).toBeCloseTo(Math.sqrt(15), 3);
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => target().count()).toBe(0);

    await page.goto(`${site.url}#/record/library`);
    await page.getByLabel('Taken from').selectOption('favourites');
    // Of the three best: mean 181, spread 3.
    await page.getByText('181.0 ± 3.0 Hz').waitFor();
    expect(await seriousFindings(page)).toEqual([]);
    expect(wrong).toEqual([]);
  });
});

describe('the settings', () => {
  test('outlive the page, and a limit that is no number changes nothing', async () => {
    const { page } = await openPage(site.url);
    await page.goto(`${site.url}#/settings`);
    await fill(page, 'A tap must be above the room by', '18');
    await fill(page, 'Refuse taps louder than', '−3');
    await fill(page, 'Pitch of A4', '432');
    await fill(page, 'A tap must be above the room by', 'loud');
    await page.getByText('Not a number').waitFor();
    await page.reload();
    await page.waitForSelector('html[data-ready]');
    const kept = (label: string) => page.getByLabel(label, { exact: true }).inputValue();
    await expect.poll(() => kept('A tap must be above the room by')).toBe('18');
    expect(await kept('Refuse taps louder than')).toBe('-3');
    expect(await kept('Pitch of A4')).toBe('432');
    await page.getByRole('button', { name: 'Back to the usual limits' }).click();
    await expect.poll(() => kept('A tap must be above the room by')).toBe('12');
  });

  test('a remembered microphone that is not plugged in is named, and kept for when it is there again', async () => {
    const { page } = await openPage(site.url, { microphone: silence.file });
    // As if it had been chosen on another day: the store keeps what Settings wrote.
    await page.goto(`${site.url}#/settings`);
    await page.evaluate(
      () =>
        new Promise<void>((done, failed) => {
          const open = indexedDB.open('platewright-settings');
          open.onerror = () => failed(open.error);
          open.onsuccess = () => {
            const store = open.result.transaction('values', 'readwrite').objectStore('values');
            const get = store.get('settings');
            get.onsuccess = () => {
              const put = store.put({ ...get.result, deviceId: 'gone', deviceLabel: 'My good microphone' }, 'settings');
              put.onsuccess = () => done();
            };
          };
        }),
    );
    await page.reload();
    await page.waitForSelector('html[data-ready]');
    await page.getByLabel('Which one', { exact: true }).waitFor();
    expect(await page.getByText('My good microphone (not plugged in)').count()).toBe(1);
    await page.goto(`${site.url}#/bench`);
    await page.getByRole('button', { name: 'Something was done: new step' }).click();
    await page.getByRole('button', { name: 'Start listening' }).click();
    await page.getByRole('alert').getByText('"My good microphone" is not plugged in. Listening with').waitFor();
    await page.goto(`${site.url}#/settings`);
    expect(await page.getByText('My good microphone (not plugged in)').count()).toBe(1);
  });
});
