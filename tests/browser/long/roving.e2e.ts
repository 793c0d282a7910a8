// Shapes from taps as a maker does it: an ordinary round, then from spot to spot before the microphone. The top is not quite its
// drawing, and the shape of each of its modes is known.
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { builtPage, fill, microphoneFile, openPage } from '../page.ts';
import { rovedTop } from '../roving-taps.ts';
import { seriousFindings } from '../rules.ts';

let site: Awaited<ReturnType<typeof builtPage>>;
beforeAll(async () => {
  site = await builtPage();
});
afterAll(() => site.close());

/** A braced top in its mould with the plan that the page begins with, and one ordinary round from files. */
async function topWithRound(page: Page, holds: readonly Uint8Array[]): Promise<void> {
  await page.goto(`${site.url}#/record`);
  await fill(page, 'Name', 'Roved top');
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await page.getByText('Saved', { exact: true }).waitFor();
  await page.goto(`${site.url}#/plan`);
  await page.getByRole('button', { name: 'Begin a plan' }).click();
  await page.goto(`${site.url}#/bench`);
  await page.getByLabel('Stage', { exact: true }).selectOption('braced');
  await page.getByText('is it held like this?').waitFor();
  await page.getByLabel('Support', { exact: true }).selectOption('in-mould');
  await page.getByRole('button', { name: 'Yes, like this' }).click();
  const files = holds.map((wav, i) => ({ name: `hold-${i + 1}.wav`, mimeType: 'audio/wav', buffer: Buffer.from(wav) }));
  await page.getByLabel('Recordings of taps', { exact: true }).setInputFiles(files);
  await page.getByRole('button', { name: 'Listen again' }).waitFor();
}

describe('shapes from taps', () => {
  test('are read from spot to spot, likened to the drawing, and name the modes', async () => {
    // One of the seeds that nothing was chosen by.
    const top = rovedTop(931_500_001, 16, 2);
    const { page, wrong } = await openPage(site.url);
    await topWithRound(page, top.ordinary);
    await page.getByRole('link', { name: 'Shapes from taps' }).click();
    // A recording: a busy machine may not hear every tap of the live one, and each after it would be at another spot.
    const recording = { name: 'spots.wav', mimeType: 'audio/wav', buffer: Buffer.from(top.roving) };
    await page.getByLabel('Recordings of the taps from spot to spot').setInputFiles(recording);
    await page.getByRole('heading', { name: 'Names by shape' }).waitFor();
    const shown = await page.locator('.forecast-modes button').allInnerTexts();
    const likenessOf = (frequencyHz: number) =>
      shown.flatMap((text) => {
        const hz = Number.parseFloat(text);
        const likeness = /(.*), likeness ([\d.]+)/.exec(text.replaceAll('\n', ' '));
        return likeness !== null && Math.abs(hz - frequencyHz) < 1 ? [{ text, value: Number(likeness[2]) }] : [];
      })[0];
    // The four lowest; the higher ones are weaker, and may be left untold.
    for (const { frequencyHz, name, likeness } of top.truth.slice(0, 4)) {
      const told = likenessOf(frequencyHz);
      expect(told?.text, `${frequencyHz} Hz of ${shown.join('; ')}`).toContain(name);
      expect(Math.abs(told!.value - likeness), `${name}: ${told!.value}, true ${likeness}`).toBeLessThan(0.1);
    }
    for (const viewport of [
      { width: 1280, height: 800 },
      { width: 390, height: 844 },
    ]) {
      await page.setViewportSize(viewport);
      expect(await seriousFindings(page)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(viewport.width);
    }
    await page.getByRole('button', { name: /^Take the names for/ }).click();
    await page.getByText(`Its name is ${top.truth[0]!.name}.`).waitFor();
    // Afterwards a tap is moved and left out; undo takes it back.
    await page.getByText('Put taps right').click();
    expect(await page.getByRole('button', { name: 'Leave out' }).count()).toBe(32);
    await page.getByRole('button', { name: 'Leave out' }).first().click();
    await page.getByRole('button', { name: 'Take in' }).waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('button', { name: 'Take in' }).waitFor({ state: 'detached' });
    // The diary keeps it.
    await page.goto(`${site.url}#/steps`);
    await page.getByText(/From spot to spot, 16 spots, 32 taps/).waitFor({ state: 'attached' });
    expect(wrong).toEqual([]);
  });

  test('heard live it goes from spot to spot by itself, and stops and is kept when the maker says so', async () => {
    const top = rovedTop(931_500_001, 16, 2);
    const { file, remove } = microphoneFile(top.roving);
    onTestFinished(remove);
    const { page, wrong } = await openPage(site.url, { microphone: file });
    await topWithRound(page, top.ordinary);
    await page.getByRole('link', { name: 'Shapes from taps' }).click();
    await page.getByRole('button', { name: 'Start with spot 1' }).click();
    await page.getByText('4 of 16 spots done').waitFor();
    await page.getByRole('button', { name: 'Stop and read' }).click();
    await page.goto(`${site.url}#/steps`);
    await page.getByText(/From spot to spot, 16 spots, \d+ taps/).waitFor({ state: 'attached' });
    expect(wrong).toEqual([]);
  });
});
