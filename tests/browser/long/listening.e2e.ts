// Listening for as long as a maker does, and as clumsily: over a minute with taps and pauses, a question of the browser that
// nobody answers, another instrument opened in the middle of a round, the record erased in another tab.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { builtPage, fill, microphoneFile, openPage, shownFrequencies } from '../page.ts';
import { tapsForMicrophone, topModes } from '../sound.ts';

let site: Awaited<ReturnType<typeof builtPage>>;
beforeAll(async () => {
  site = await builtPage();
});
afterAll(() => site.close());

function sound(holds: number, tapsPerHold: number, pauseS: number): string {
  const { file, remove } = microphoneFile(tapsForMicrophone({ modes: topModes, holds, tapsPerHold, pauseS, seed: 77 }));
  onTestFinished(remove);
  return file;
}

async function begin(page: Page, name: string): Promise<void> {
  await page.goto(`${site.url}#/record`);
  await fill(page, 'Name', name);
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await page.getByRole('heading', { name, exact: true }).waitFor();
  await page.getByText('Saved', { exact: true }).waitFor();
}

async function setRound(page: Page, tapsPerHold: number, holdsPerRound: number): Promise<void> {
  await page.goto(`${site.url}#/settings`);
  await fill(page, 'Taps a hold', String(tapsPerHold));
  await fill(page, 'Holds a round', String(holdsPerRound));
}

const listen = async (page: Page) => {
  await page.goto(`${site.url}#/bench`);
  await page.getByRole('button', { name: 'Start listening' }).click();
  await page.getByText(/^0 of \d+ taps/).waitFor();
};
/** A clock that is so much faster is what a slower device, or one whose sound is lost on the way, looks like. */
async function pageWithClock(context: BrowserContext, factor: number): Promise<Page> {
  const page = await context.newPage();
  await page.addInitScript(`{
    const now = performance.now.bind(performance);
    performance.now = () => now() * ${factor};
  }`);
  await page.goto(site.url);
  await page.waitForSelector('html[data-ready]');
  return page;
}

const rateAlarm = (page: Page) => page.getByText('does not keep the rate it claims');

describe('over a minute of listening', () => {
  test('a good microphone raises no alarm and loses no tap', async () => {
    // Ten taps, half a minute of silence, ten taps: more than the check of the rate needs, twice.
    const { page } = await openPage(site.url, { microphone: sound(2, 10, 32) });
    await setRound(page, 20, 1);
    await begin(page, 'Patient');
    await listen(page);
    const fromMs = Date.now();
    await page.getByRole('button', { name: 'Listen again' }).waitFor({ timeout: 240_000 });
    expect(Date.now() - fromMs).toBeGreaterThan(60_000);
    expect(await rateAlarm(page).count()).toBe(0);
    expect(await page.getByRole('alert').filter({ hasText: /\S/ }).count()).toBe(0);
    const shown = await shownFrequencies(page);
    for (const { frequencyHz } of topModes)
      expect(
        shown.some((hz) => Math.abs(hz - frequencyHz) < 0.5),
        `${frequencyHz} of ${shown.join(', ')}`,
      ).toBe(true);
  });

  test('one that is off its rate is told so', async () => {
    const { page, context } = await openPage(site.url, { microphone: sound(2, 10, 32) });
    await begin(page, 'Slow');
    const off = await pageWithClock(context, 1.035);
    await listen(off);
    await rateAlarm(off).waitFor({ timeout: 240_000 });
  });

  test('sound that is lost on the way is told as such, and not as a wrong rate', async () => {
    const { page, context } = await openPage(site.url, { microphone: sound(2, 10, 32) });
    await begin(page, 'Lossy');
    const losing = await pageWithClock(context, 1.02);
    await listen(losing);
    await losing.getByText('This machine may be losing sound').waitFor({ timeout: 240_000 });
    expect(await rateAlarm(losing).count()).toBe(0);
  });
});

describe('what the browser does not answer', () => {
  test.each([
    [
      'a question about the microphone',
      () => {
        navigator.mediaDevices.getUserMedia = () => new Promise(() => undefined);
      },
      'The browser is asking whether this page may listen',
    ],
    [
      'a sound system that does not start',
      () => {
        AudioContext.prototype.resume = () => new Promise(() => undefined);
      },
      'The sound of this machine does not start',
    ],
  ])(
    '%s can be given up at once, says after some seconds what it waits for, and leaves the page as it was',
    async (_what, before, hint) => {
      const { page, wrong } = await openPage(site.url, { microphone: sound(1, 1, 1), before });
      await begin(page, 'Waiting');
      await page.goto(`${site.url}#/bench`);
      const start = page.getByRole('button', { name: 'Start listening' });
      await start.click();
      const giveUp = page.getByRole('button', { name: 'Do not wait for it' });
      await giveUp.waitFor();
      await page.getByText(hint).waitFor();
      await giveUp.click();
      await start.waitFor();
      expect(await start.isEnabled()).toBe(true);
      expect(await page.getByRole('alert').filter({ hasText: /\S/ }).count()).toBe(0);
      expect(wrong).toEqual([]);
    },
  );
});

describe('clumsy hands', () => {
  test('another instrument is opened in the middle of a round: it is said whose round it is, and the round is kept there', async () => {
    const { page } = await openPage(site.url, { microphone: sound(1, 4, 2) });
    await setRound(page, 4, 1);
    await begin(page, 'Other one');
    await begin(page, 'Tapped one');
    await listen(page);
    await page.getByText('2 of 4 taps').waitFor({ timeout: 60_000 });
    await page.getByLabel('On the bench', { exact: true }).selectOption({ label: 'Other one' });
    await page.getByText('This round belongs to "Tapped one"').waitFor();
    await page
      .getByText('Last measured at this step')
      .or(page.getByRole('button', { name: 'Start listening' }))
      .first()
      .waitFor({ timeout: 60_000 });
    await page.getByLabel('On the bench', { exact: true }).selectOption({ label: 'Tapped one' });
    await expect.poll(() => shownFrequencies(page).then((shown) => shown.length)).toBeGreaterThan(3);
    await page.goto(`${site.url}#/steps`);
    await expect.poll(() => page.locator('.diary').textContent()).toContain('4 taps');
    await page.reload();
    await page.waitForSelector('html[data-ready]');
    expect(await page.getByText(/had been left unread/).count()).toBe(0);
  });

  test('the record is erased in another tab while taps come in: it is stored again with every tap, and the page says so', async () => {
    const { page, context } = await openPage(site.url, { microphone: sound(1, 5, 2) });
    await setRound(page, 5, 1);
    await begin(page, 'Erased one');
    const second = await context.newPage();
    await second.goto(`${site.url}#/record`);
    await second.waitForSelector('html[data-ready]');
    await page.bringToFront();
    await listen(page);
    await page.getByText('1 of 5 taps').waitFor({ timeout: 60_000 });
    await second.locator('.instrument', { hasText: 'Erased one' }).getByRole('button', { name: 'Delete' }).click();
    await second.getByLabel('Show', { exact: true }).selectOption('bin');
    await second.getByRole('button', { name: 'Empty the bin' }).click();
    await second.getByRole('button', { name: 'Erase for good' }).click();
    await page.getByText('was erased while you worked on it here').waitFor({ timeout: 60_000 });
    await page.getByRole('button', { name: 'Listen again' }).waitFor({ timeout: 120_000 });
    await page.goto(`${site.url}#/record`);
    await page.reload();
    await page.waitForSelector('html[data-ready]');
    await page.getByText(/Looked through \d+ records? with/).waitFor();
    expect(await page.locator('.findings').count()).toBe(0);
    await page.goto(`${site.url}#/steps`);
    await expect.poll(() => page.locator('.diary').textContent()).toContain('5 taps');
  });

  test('the tab dies after the last tap, before the modes are read: the next start finds the round and reads it', async () => {
    const profile = mkdtempSync(path.join(tmpdir(), 'platewright-unread-'));
    onTestFinished(() => rmSync(profile, { recursive: true, force: true }));
    const first = await openPage(site.url, { microphone: sound(1, 3, 2), profile });
    await setRound(first.page, 3, 1);
    await begin(first.page, 'Unread one');
    // The worker is kept from answering, as one that died would be.
    await first.page.addInitScript(() => {
      Worker.prototype.postMessage = () => undefined;
    });
    await first.page.reload();
    await first.page.waitForSelector('html[data-ready]');
    await listen(first.page);
    await first.page.getByText('Reading the modes').first().waitFor({ timeout: 60_000 });
    await first.page.getByText('Saved', { exact: true }).waitFor();
    await first.close();
    const again = await openPage(`${site.url}#/record`, { profile });
    await again.page.getByText('1 round had been left unread').waitFor({ timeout: 60_000 });
    await again.page.goto(`${site.url}#/bench`);
    await again.page.locator('.figure-number').first().waitFor();
    expect((await shownFrequencies(again.page)).length).toBeGreaterThan(3);
  });
});
