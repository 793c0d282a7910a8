// The maker's own job in a real browser: an old guitar with a cracked top, from the first photograph to the printed sheet and the first
// taps of the new top. The box and the taps have a known truth.
import { writeFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { boxModes } from '../../../src/box/pistons.ts';
import type { BoxState } from '../../../src/compare/box-state.ts';
import { boxIn, massG } from '../../compare/box-story.ts';
import { typeBoxSizes } from '../box-sizes.ts';
import { recordingOf, wantedTaps } from '../box-taps.ts';
import { builtPage, fill, microphoneFile, openPage } from '../page.ts';
import { seriousFindings } from '../rules.ts';
import { tapsForMicrophone } from '../sound.ts';

let site: Awaited<ReturnType<typeof builtPage>>;
beforeAll(async () => {
  site = await builtPage();
});
afterAll(() => site.close());

const go = (page: Page, part: string) => page.goto(`${site.url}#/${part}`);

/** A picture of one pixel. */
const pixel = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
  'base64',
);
const photos = ['front', 'back', 'inside', 'bridge'].map((name) => ({
  name: `${name}.png`,
  mimeType: 'image/png',
  buffer: pixel,
}));

/** The state of a line of the list by a part of its words. */
const line = (page: Page, words: string) => page.locator('.job-line').filter({ hasText: words });
const isDone = async (page: Page, words: string): Promise<boolean> =>
  (await line(page, words).getAttribute('class'))?.includes('done') ?? false;

async function take(page: Page, state: BoxState, seed: number): Promise<void> {
  const card = page.locator(`#state-${state}`);
  if (state === 'mass' || state === 'mass-on-back') {
    await card.getByLabel('Mass of the lump').fill(String(massG));
    await card.getByLabel('Mass of the lump').blur();
  }
  await page.locator(`#recordings-${state}`).setInputFiles(recordingOf(state, seed));
  await card.locator('.peaks').waitFor();
}

async function typeWood(page: Page, legend: string, figures: Readonly<Record<string, string>>): Promise<void> {
  const wood = page.getByRole('group', { name: legend });
  for (const [label, text] of Object.entries(figures)) {
    const field = wood.getByLabel(label, { exact: true }).locator('input').first();
    await field.fill(text);
    await field.blur();
  }
}

test('an old guitar with a cracked top, from the first photograph to the sheet and the first taps of the new top', {
  timeout: 600_000,
}, async () => {
  const sound = microphoneFile(new Uint8Array());
  const { page, wrong } = await openPage(site.url, { microphone: sound.file });
  await go(page, 'settings');
  await fill(page, 'Taps a hold', String(wantedTaps));
  await fill(page, 'Holds a round', '1');

  await go(page, 'record');
  await fill(page, 'Name', 'The cracked one');
  await page.getByLabel('What is on the bench').selectOption('old-guitar');
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await page.getByRole('heading', { name: 'The cracked one' }).waitFor();
  await go(page, 'box/job');
  await page.locator('.job-line').first().waitFor();
  const all = await page.locator('.job-line').count();
  expect(await page.locator('.job-line.done').count()).toBe(0);
  await page.getByText('Nothing comes apart until the lines above are done', { exact: false }).waitFor();

  // what is read while it is whole
  await go(page, 'box/air');
  await typeBoxSizes(page);
  await go(page, 'box/rounds');
  await page.getByRole('button', { name: 'Yes, like this' }).click();
  const states: readonly BoxState[] = ['open', 'blocked', 'back-damped', 'mass', 'tap-on-back', 'mass-on-back'];
  for (const [i, state] of states.entries()) await take(page, state, 910 + 10 * i);
  await page.getByRole('button', { name: 'All of them are right' }).click();
  await go(page, 'box/strings');
  for (const [label, text] of [
    ['First string above the 12th fret', '2.1'],
    ['Last string above the 12th fret', '2.8'],
    ['Slope of the bridge, strings at pitch', '2.5'],
    ['Slope of the bridge, strings slack', '0.8'],
  ] as const)
    await fill(page, label, text);
  await go(page, 'steps');
  await page.locator('.step-photos input[type=file]').first().setInputFiles(photos);
  await page.locator('.step-photos img').nth(3).waitFor({ state: 'attached' });
  await go(page, 'box/new-top');
  await page.getByLabel('Old instrument').selectOption({ label: 'The cracked one (this one, before its repair)' });
  await page.getByRole('group', { name: 'The old top, when it was read, was' }).getByLabel('cracked').check();
  await page.getByRole('group', { name: 'The back was' }).getByLabel('sound, I looked').check();
  await fill(page, 'Weight on the bridge', '1500');
  await page.getByRole('group', { name: 'It went down by' }).locator('input').first().fill('0.62');
  await page.getByRole('group', { name: 'It went down by' }).locator('input').first().blur();

  await go(page, 'box/job');
  await page.locator('.job-line').first().waitFor();
  for (const words of [
    'Photograph it:',
    'Strings at pitch',
    'Say what is wrong',
    'Slacken the strings',
    'Tap the box in its',
    'Say which peak',
    'Measure the box',
  ])
    expect([words, await isDone(page, words)]).toEqual([words, true]);
  for (const words of ['Let it lie a week', 'Save a copy']) await line(page, words).getByRole('checkbox').check();
  await page.getByText('Now open it.', { exact: false }).waitFor();

  // the top is off: its wood, the new wood, and what to aim for
  await go(page, 'box/new-top');
  await typeWood(page, 'Old top, from its strips', {
    Density: '400',
    'E along the grain': '12',
    'E across the grain': '0.8',
    Thickness: '2.8',
  });
  await typeWood(page, 'New wood', { Density: '420', 'E along the grain': '10', 'E across the grain': '0.6' });
  const sheet = page.getByRole('region', { name: 'Sheet for the bench' });
  // E h³ equal in the geometric mean of both ways
  const thickness = 2.8 * ((12 * 0.8) / (10 * 0.6)) ** (1 / 6);
  await sheet
    .getByText(`${thickness.toFixed(2)}\u00a0mm`)
    .first()
    .waitFor();
  const aims = (await sheet.getByRole('row').allInnerTexts()).map((text) => text.replaceAll(/[\u00a0\u202f]/g, ' '));
  const [air, top] = boxModes(boxIn('open'));
  // what the old one read, at the stage it was read
  const read = (mode: string): number =>
    Number(
      aims.map((text) => new RegExp(`^${mode}\t([\\d.]+) ± [\\d.]+ Hz`).exec(text)?.[1]).find((hz) => hz !== undefined),
    );
  expect(Math.abs(read('air') - air!.frequencyHz)).toBeLessThan(0.3);
  expect(Math.abs(read('top') - top!.frequencyHz)).toBeLessThan(0.3);
  // and what the solved box says of both, with strings and without
  expect(aims.filter((text) => text.startsWith('air') && text.includes('from the old box'))).toHaveLength(2);
  expect(aims.some((text) => text.includes('on the bridge, strings off') && text.includes('0.62'))).toBe(true);
  expect(aims.some((text) => text.includes('the old top was read with this: cracked'))).toBe(true);
  for (const viewport of [
    { width: 390, height: 844 },
    { width: 1280, height: 800 },
  ]) {
    await page.setViewportSize(viewport);
    expect({ viewport, found: await seriousFindings(page) }).toEqual({ viewport, found: [] });
    const overflow = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    expect({ viewport, overflow: Math.max(0, overflow) }).toEqual({ viewport, overflow: 0 });
  }

  // the new top, braced, taped into the rims: its first taps
  await go(page, 'bench');
  await page.getByRole('button', { name: 'Something was done: new step' }).click();
  await page.getByLabel('Stage', { exact: true }).selectOption('on-rims');
  await page.getByRole('button', { name: 'Yes, like this' }).click();
  const modes = [
    { frequencyHz: 171.4, q: 35, level: 0.1 },
    { frequencyHz: 318.2, q: 45, level: 0.05 },
  ];
  writeFileSync(
    sound.file,
    tapsForMicrophone({ modes, holds: 1, tapsPerHold: wantedTaps + 2, tapEveryS: 1.5, pauseS: 0.5, seed: 77 }),
  );
  await page.getByRole('button', { name: 'Start listening' }).click();
  await page.getByRole('button', { name: 'Listen again' }).waitFor();
  const heard = (await page.locator('.figure-number').allTextContents()).map(Number);
  expect(heard.some((hz) => Math.abs(hz - 171.4) < 0.5)).toBe(true);
  await go(page, 'box/job');
  await page.locator('.job-line').first().waitFor();
  expect(await isDone(page, 'Tap the new top')).toBe(true);
  expect(await page.locator('.job-line.done').count()).toBeGreaterThan(12);
  expect(await page.locator('.job-line').count()).toBe(all);
  expect(wrong).toEqual([]);
  sound.remove();
});
