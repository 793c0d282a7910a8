// The maker's loop in a real browser: the pass that is proposed, one press, taps, and what it did beside what was foreseen.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { builtPage, fill, microphoneFile, openPage } from '../page.ts';
import { tapsForMicrophone } from '../sound.ts';

let site: Awaited<ReturnType<typeof builtPage>>;
beforeAll(async () => {
  site = await builtPage();
});
afterAll(() => site.close());

/** Modes of the demo's top as it was tapped last, 2.4 Hz down in the lowest: what a pass may do. */
const afterPass = [
  { frequencyHz: 179.9, q: 35, level: 0.1 },
  { frequencyHz: 395.9, q: 45, level: 0.05 },
  { frequencyHz: 405.6, q: 50, level: 0.05 },
  { frequencyHz: 457.1, q: 55, level: 0.03 },
];

test('from the proposed pass to the taps is one press, and then it is said what the pass did', {
  timeout: 900_000,
}, async () => {
  const sound = microphoneFile(
    tapsForMicrophone({ modes: afterPass, holds: 1, tapsPerHold: 4, pauseS: 1, tapEveryS: 2.4, seed: 5 }),
  );
  const { page, wrong } = await openPage(site.url, { microphone: sound.file });
  await page.goto(`${site.url}#/settings`);
  await fill(page, 'Taps a hold', '3');
  await fill(page, 'Holds a round', '1');
  await page.goto(`${site.url}#/steps`);
  await page.getByText('Target for the stage', { exact: false }).click();
  await fill(page, 'Wanted', '178');
  await fill(page, 'Tolerance ±', '1.5');
  const loop = page.getByRole('region', { name: 'The next pass' });
  await loop
    .getByText(/lands at 1\d\d/)
    .first()
    .waitFor();
  const steps = await page.locator('.diary > li').count();

  // The one press.
  await loop.getByRole('button', { name: 'I did this' }).first().click();
  await loop.getByText(/of 3/).first().waitFor();
  expect(await loop.evaluate((element) => element.getBoundingClientRect().top)).toBeGreaterThanOrEqual(-1);
  await loop.getByText(/monopole moved/).waitFor();
  const said = ((await loop.textContent()) ?? '').replaceAll('\u00a0', ' ').replaceAll('−', '-');
  const [, moved] = /monopole moved (-\d+\.\d+)/.exec(said) ?? [];
  expect(Number(moved)).toBeCloseTo(179.9 - 182.29, 0);
  expect(await page.locator('.diary > li').count()).toBe(steps + 1);
  // The cut is entered as proposed, and names its step.
  await expect.poll(() => page.locator('.diary > li').first().textContent()).toMatch(/mm off/);
  expect(wrong).toEqual([]);
  sound.remove();
});
