// The closed box in a real browser: guided rounds from recordings of a synthetic box, so that the truth is known.
import { writeFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { boxModes } from '../../../src/box/pistons.ts';
import type { BoxState } from '../../../src/compare/box-state.ts';
import { demoPlan } from '../../../src/demo/demo-plan.ts';
import { writeArchive } from '../../../src/record/archive.ts';
import type { InstrumentRecord } from '../../../src/record/record.ts';
import { boxIn, boxRecord, massG, trueBox } from '../../compare/box-story.ts';
import { typeBoxSizes } from '../box-sizes.ts';
import { recordingOf, soundIn, wantedTaps } from '../box-taps.ts';
import { earlierInstrument } from '../earlier-instruments.ts';
import { builtPage, fill, microphoneFile, openPage } from '../page.ts';
import { seriousFindings } from '../rules.ts';

let site: Awaited<ReturnType<typeof builtPage>>;
beforeAll(async () => {
  site = await builtPage();
});
afterAll(() => site.close());

const go = (page: Page, part: string) => page.goto(`${site.url}#/${part}`);

async function beginBox(page: Page): Promise<void> {
  await go(page, 'record');
  await fill(page, 'Name', 'A box');
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await page.getByRole('heading', { name: 'A box' }).waitFor();
  await go(page, 'box');
  await typeBoxSizes(page);
  await go(page, 'box/rounds');
  await page.getByRole('button', { name: 'Begin the step “closed box”' }).click();
}

async function take(page: Page, state: BoxState, seed: number): Promise<void> {
  await page.locator(`#recordings-${state}`).setInputFiles(recordingOf(state, seed));
  await page.locator(`#state-${state} .peaks`).waitFor();
}

async function weigh(page: Page, state: BoxState): Promise<void> {
  const field = page.locator(`#state-${state}`).getByLabel('Mass of the lump');
  await field.fill(String(massG));
  await field.blur();
}

/** "90.0 ± 0.9 g" as numbers: the figure shown and its half width. */
function shown(text: string): readonly [number, number] {
  const [, value, half] = /(−?[\d.]+)\s±\s([\d.]+)/.exec(text) ?? [];
  if (value === undefined || half === undefined) throw new Error(`no figure in "${text}"`);
  return [Number(value.replace('−', '-')), Number(half)];
}

/** The truth lies within what is shown. */
function expectWithin(text: string, truth: number): void {
  const [value, half] = shown(text);
  expect({ text, truth, off: Math.abs(value - truth) <= half }).toEqual({ text, truth, off: true });
}

describe('guided rounds on the closed box', () => {
  test('open, blocked and a known mass give the mass, stiffness and area that were put in, within their ±', async () => {
    const opened = await openPage(site.url);
    const { page } = opened;
    await beginBox(page);
    await page.getByRole('button', { name: 'Yes, like this' }).click();
    await take(page, 'open', 110);
    await take(page, 'blocked', 120);
    await weigh(page, 'mass');
    await take(page, 'mass', 130);
    // what was weighed for one round is not offered for another
    await weigh(page, 'mass-on-back');
    await take(page, 'mass-on-back', 140);
    await page.locator('#state-open').getByRole('button', { name: 'These names are right' }).click();
    await go(page, 'box/found');
    const cells = page.getByRole('row', { name: /^Top/ }).getByRole('cell');
    await cells.first().waitFor();
    const texts = await cells.allInnerTexts();
    const onTheAirHz = boxModes({ ...boxIn('blocked'), back: 'held' })[0]!.frequencyHz;
    expectWithin(texts[0]!, onTheAirHz);
    expectWithin(texts[1]!, 172);
    expectWithin(texts[2]!, 1000 * trueBox.top.massKg);
    expectWithin(texts[3]!, trueBox.top.stiffnessNPerM / 1000);
    expectWithin(texts[4]!, 1e4 * trueBox.top.areaM2);
    const back = await page.getByRole('row', { name: /^Back/ }).getByRole('cell').allInnerTexts();
    expectWithin(back[1]!, 222);
    expectWithin(back[2]!, 1000 * trueBox.back.massKg);
    expectWithin(back[3]!, trueBox.back.stiffnessNPerM / 1000);
    expectWithin(back[4]!, 1e4 * trueBox.back.areaM2);
    // a mass known to a twentieth of a gram and peaks to hundredths of a hertz: not merely within a wide interval
    expect(shown(texts[2]!)[1]).toBeLessThan(9);
    const verdicts = await page
      .getByRole('region', { name: 'Which peak is which' })
      .locator('.which-verdict')
      .allInnerTexts();
    expect(verdicts.map((text) => /like the (\w+)\.$/.exec(text)?.[1])).toEqual(['air', 'top', 'back']);
    await page
      .getByText('They agree, so no peak is left out, and the mass at the bridge says which is the top’s.')
      .waitFor();
    expect(await page.getByRole('region', { name: 'What moves in each mode' }).locator('svg').count()).toBe(3);
    expect(opened.wrong).toEqual([]);

    // what if: ten grams on the bridge must give what the round with the mass measured
    await go(page, 'box/what-if');
    await page.getByLabel('Mass of the bridge').fill(String(massG));
    const then = (await page.locator('.figure-number').allTextContents()).map(Number);
    boxModes(boxIn('mass')).forEach(({ frequencyHz }, i) => {
      // a tenth is shown; the peaks are read to hundredths
      expect(Math.abs(then[i]! - frequencyHz)).toBeLessThan(0.15);
    });
    await go(page, 'box/response');
    await page.locator('canvas').nth(1).waitFor();
    await page.getByText('compare the shapes, not the heights', { exact: false }).waitFor();
    expect(opened.wrong).toEqual([]);
  });

  test('heard live, five states in turn: every peak is told by what was done, and the top comes out as it was put in', async () => {
    const sound = microphoneFile(soundIn('open', 510));
    const { page, wrong } = await openPage(site.url, { microphone: sound.file });
    await go(page, 'settings');
    await fill(page, 'Taps a hold', String(wantedTaps));
    await fill(page, 'Holds a round', '1');
    await beginBox(page);
    for (const [i, state] of (['open', 'blocked', 'back-damped', 'mass', 'tap-on-back'] as const).entries()) {
      // the fake microphone begins its file anew at each opening
      writeFileSync(sound.file, soundIn(state, 510 + 10 * i));
      const card = page.locator(`#state-${state}`);
      // Bridge and strings are asked once, before the first round of the stage.
      const asked = page.getByRole('button', { name: 'Yes, like this' });
      if (state === 'open') await asked.click();
      else expect(await asked.count()).toBe(0);
      if (state === 'mass') await weigh(page, state);
      await card.getByRole('button', { name: 'Listen', exact: true }).click();
      await page.locator('.session .count').waitFor();
      await card.locator('.peaks').waitFor();
      await card.getByText('taken', { exact: true }).waitFor();
    }
    await page.getByText('Next: known mass on the back.').waitFor();
    await go(page, 'box/found');
    const verdicts = page.getByRole('region', { name: 'Which peak is which' }).locator('.which-verdict');
    await verdicts.first().waitFor();
    const told = await verdicts.allTextContents();
    expect(told.map((text) => /like the (\w+)\.$/.exec(text)?.[1])).toEqual(['air', 'top', 'back']);
    const evidence = await page.getByRole('region', { name: 'Which peak is which' }).textContent();
    for (const doing of ['Blocking the hole', 'Damping the back', 'The mass at the bridge', 'Tapping the back'])
      expect(evidence).toContain(doing);
    const top = await page.getByRole('row', { name: /^Top/ }).getByRole('cell').allTextContents();
    expectWithin(top[1]!, 172);
    expectWithin(top[2]!, 1000 * trueBox.top.massKg);
    expectWithin(top[3]!, trueBox.top.stiffnessNPerM / 1000);
    expect(wrong).toEqual([]);
    sound.remove();
  });
});

/** A record of the shelf as if it had been read from taps, under a name of its own. */
const named = (name: string, record: InstrumentRecord): InstrumentRecord => ({
  ...record,
  id: name.toLowerCase().replaceAll(' ', '-'),
  name,
});

async function takeIn(page: Page, records: readonly InstrumentRecord[]): Promise<void> {
  const archive = writeArchive(records.map((record) => ({ record, taps: new Map(), photos: new Map() })));
  await go(page, 'record');
  await page
    .locator('#import')
    .setInputFiles({ name: 'shelf.zip', mimeType: 'application/zip', buffer: Buffer.from(archive) });
  await page.getByRole('button', { name: `Take in ${records.length} records` }).click();
  await page.getByText(`Imported ${records.length} records`, { exact: false }).waitFor();
}

async function open(page: Page, name: string): Promise<void> {
  await go(page, 'record');
  await page.getByRole('button', { name: new RegExp(`^${name}`) }).click();
  await page.getByRole('heading', { name }).waitFor();
}

const truePeaks = (state: BoxState): readonly number[] => boxModes(boxIn(state)).map(({ frequencyHz }) => frequencyHz);

describe('what the shelf tells', () => {
  test('rounds that contradict one another conclude nothing; two earlier instruments say what to expect before gluing, the drawn top’s shapes which mode; and a new top gets its thickness, aims and sheet', async () => {
    const { page, wrong } = await openPage(site.url);
    await takeIn(page, [
      earlierInstrument('First', 178, 188),
      earlierInstrument('Second', 184, 196),
      { ...earlierInstrument('Third', 181, undefined), plan: demoPlan() },
      named(
        'Exchanged',
        boxRecord(['open', 'blocked'], { peaksHz: { open: truePeaks('blocked'), blocked: truePeaks('open') } }),
      ),
      named('Lump off', boxRecord(['open', 'blocked', 'mass'], { peaksHz: { mass: truePeaks('open') } })),
    ]);

    await open(page, 'Exchanged');
    await go(page, 'box/found');
    const said = page.getByRole('alert').filter({ hasText: 'the two rounds look exchanged' }).first();
    await said.waitFor();
    expect(await said.textContent()).toContain('The air’s peak is in “Hole blocked” and not in “Box as it is”');
    expect(await page.getByRole('region', { name: 'The parts by themselves' }).count()).toBe(0);

    await open(page, 'Lump off');
    await go(page, 'box/found');
    await page.getByText('The mass in “Known mass at the bridge” moved no peak', { exact: false }).waitFor();

    await open(page, 'Third');
    await go(page, 'box/stages');
    await page.getByLabel('Stage after').selectOption('closed');
    await page.getByText('Expect it between', { exact: false }).waitFor();
    await page.getByText('By its shape “monopole” becomes “top”', { exact: false }).waitFor();
    // mean of the logarithms of 188/178 and 196/184
    const expected = 181 * Math.sqrt((188 / 178) * (196 / 184));
    expect(await page.locator('.figure-number').first().textContent()).toBe(expected.toFixed(0));
    await page.getByLabel('Mode after').fill('back');
    await page.getByLabel('Mode after').blur();
    await page.getByText('2 are needed before they tell anything', { exact: false }).waitFor();

    await go(page, 'box/new-top');
    await page.getByLabel('Old instrument').selectOption({ label: 'First' });
    await page.getByRole('group', { name: 'The old top, when it was read, was' }).getByLabel('cracked').check();
    await page.getByText('wider: cracked').first().waitFor();
    for (const [legend, density, along, across] of [
      ['Old top, from its strips', '400', '12', '0.8'],
      ['New wood', '420', '10', '0.6'],
    ] as const) {
      const wood = page.getByRole('group', { name: legend });
      for (const [label, text] of [
        ['Density', density],
        ['E along the grain', along],
        ['E across the grain', across],
        ...(legend === 'New wood' ? [] : [['Thickness', '2.8'] as const]),
      ] as const) {
        const field = wood.getByLabel(label, { exact: true }).locator('input').first();
        await field.fill(text);
        await field.blur();
      }
    }
    // E h^3 equal, the geometric mean of both ways
    const thickness = 2.8 * ((12 * 0.8) / (10 * 0.6)) ** (1 / 6);
    const region = page.getByRole('region', { name: 'Thickness', exact: true });
    await region.locator('.figure-number').waitFor();
    const sheet = page.getByRole('region', { name: 'Sheet for the bench' });
    expect(await sheet.locator('strong').textContent()).toBe(`${thickness.toFixed(2)}\u00a0mm`);
    await page.emulateMedia({ media: 'print' });
    expect(await sheet.isVisible()).toBe(true);
    expect(await region.isVisible()).toBe(false);
    expect(await page.locator('header').isVisible()).toBe(false);
    const printed = await sheet.textContent();
    expect(printed).toContain('the old top was read with this: cracked');
    // E h³: 10/12 and 0.6/0.8 by (3.03/2.8)³, rho h by 420/400 and 3.03/2.8
    expect(printed).toMatch(/stiffness \+5.*along and.*−5.*across, mass \+14/);
    expect(wrong).toEqual([]);
  });
});

describe('every part of the box', () => {
  test('has no serious fault and does not overflow, in light on a screen and in dark on a phone', async () => {
    const { page, wrong } = await openPage(site.url);
    await takeIn(page, [named('Whole', boxRecord(['open', 'blocked', 'mass'])), earlierInstrument('First', 178, 188)]);
    await open(page, 'Whole');
    for (const [theme, viewport] of [
      ['light', { width: 1280, height: 800 }],
      ['dark', { width: 390, height: 844 }],
    ] as const) {
      await page.setViewportSize(viewport);
      await go(page, 'settings');
      await page.getByLabel('Light', { exact: true }).selectOption(theme);
      for (const part of ['air', 'rounds', 'found', 'what-if', 'response', 'strings', 'stages', 'new-top']) {
        await go(page, `box/${part}`);
        await page.locator('.parts [aria-current="page"]').waitFor();
        await page
          .locator(part === 'response' ? 'canvas' : 'main h1')
          .first()
          .waitFor();
        expect({ theme, part, found: await seriousFindings(page) }).toEqual({ theme, part, found: [] });
        const overflow = await page.evaluate(
          () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
        );
        expect({ theme, part, overflow: Math.max(0, overflow) }).toEqual({ theme, part, overflow: 0 });
      }
    }
    expect(wrong).toEqual([]);
  });
});
