// The maker's loop three times over from a blank record: a left-handed top drawn, braces moved, tapped, aimed, and shaved as
// proposed. What rings is another piece than the drawing: other woods, braces that end short of the X, a blade that takes more or
// less than asked; it is heard in a room of mirror images that neither the page nor the demo knows.
import { readFileSync, writeFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { randomFrom } from '../../../src/demo/random.ts';
import { cutPlate } from '../../../src/forecast/shaving.ts';
import type { BraceCase, PlateCase, WoodConstants } from '../../../src/plate/plate-case.ts';
import { checkPlate } from '../../../src/plate/plate-check.ts';
import { plateModes, preparePlate } from '../../../src/plate/plate-modes.ts';
import { readArchive } from '../../../src/record/archive.ts';
import { planCase } from '../../../src/record/plan-case.ts';
import type { InstrumentRecord } from '../../../src/record/record.ts';
import { heardIn, plateResponse } from '../../bench/image-room.ts';
import { builtPage, fill, microphoneFile, openPage } from '../page.ts';
import { forMicrophone, microphoneRateHz } from '../sound.ts';

const support = { hold: 'in-mould', bridge: 'off', strung: false } as const;
/** How much of each depth asked for the blade takes. */
const blade = [1.15, 0.9, 1.1];
/** So far beyond where it was asked for each cut lies, mm. */
const SLIP_MM = 4;
const passes = 3;

let site: Awaited<ReturnType<typeof builtPage>>;
beforeAll(async () => {
  site = await builtPage();
});
afterAll(() => site.close());

const otherWood = (wood: WoodConstants, along: number, across: number, dense: number): WoodConstants => ({
  ...wood,
  eL: wood.eL * along,
  eR: wood.eR * across,
  gLR: wood.gLR * 1.06,
  densityKgM3: wood.densityKgM3 * dense,
});

/** A brace that ends so much before each of its ends, mm. */
function shortened(brace: BraceCase, byMm: number): BraceCase {
  const lengthMm = Math.hypot(brace.to[0] - brace.from[0], brace.to[1] - brace.from[1]);
  const at = (mm: number) =>
    [0, 1].map((i) => brace.from[i]! + (mm / lengthMm) * (brace.to[i]! - brace.from[i]!)) as [number, number];
  const left = lengthMm - 2 * byMm;
  return {
    ...brace,
    from: at(byMm),
    to: at(lengthMm - byMm),
    heightMm: brace.heightMm.map(([mm, height]) => [Math.min(left, Math.max(0, mm - byMm)), height] as const),
  };
}

/** Frequencies of the piece as it really is, Hz. */
function trueModes(record: InstrumentRecord): readonly number[] {
  const { solvable } = checkPlate(planCase(record.plan!, support));
  const isLeg = ({ id }: BraceCase) => id.startsWith('x-') || id === 'transverse';
  const glued: PlateCase = {
    ...solvable!,
    material: otherWood(solvable!.material, 0.93, 1.1, 1.03),
    braces: solvable!.braces!.map((brace) => ({
      ...(isLeg(brace) ? brace : shortened(brace, 5)),
      material: otherWood(brace.material, 1.06, 0.95, 0.98),
    })),
  };
  const cuts = record.steps.flatMap((step) => step.cuts);
  const cut = cuts.reduce<PlateCase>(
    (plate, { braceIds, fromMm = 0, toMm = 0, offMm = 0 }, i) =>
      cutPlate(
        plate,
        braceIds.map((braceId) => ({
          braceId,
          fromMm: fromMm + SLIP_MM,
          toMm: toMm + SLIP_MM,
          offMm: offMm * blade[i % blade.length]!,
        })),
      ),
    glued,
  );
  const answer = plateModes(preparePlate(cut), cut, { count: 7 });
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  return answer.modes.map(({ frequencyHz }) => frequencyHz);
}

const levels = [1, 0.45, 0.5, 0.6, 0.3, 0.4, 0.25];
const qs = [38, 52, 45, 58, 60, 55, 62];

/** Five taps a hand's width away in a room of 4 by 5 m. */
function tapsInRoom(frequenciesHz: readonly number[], seed: number): Uint8Array {
  const chance = randomFrom(seed);
  const [rate, taps, everyS, leadS] = [microphoneRateHz, 5, 2.4, 2];
  const sound = new Float64Array(Math.round((leadS + taps * everyS + 1) * rate));
  for (let tap = 0; tap < taps; tap++) {
    const onset = Math.round((leadS + tap * everyS + 0.05 * chance.uniform()) * rate);
    const strength = 0.12 * chance.between(0.7, 1.3);
    frequenciesHz.forEach((hz, k) => {
      const omega = (2 * Math.PI * hz) / rate;
      for (let n = 0; onset + n < sound.length; n++) {
        const contact = n < 100 ? 0.5 - 0.5 * Math.cos((Math.PI * n) / 100) : 1;
        sound[onset + n]! +=
          strength * levels[k]! * contact * Math.exp((-omega * n) / (2 * qs[k]!)) * Math.sin(omega * n);
      }
    });
  }
  const room = { sizeM: [4.2, 5.1, 2.6], t60S: 0.4 } as const;
  const heard = heardIn(plateResponse(room, [1.7, 2.2, 1], [1.7, 2.3, 1.1], rate), sound);
  const peak = heard.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  return forMicrophone(heard.map((value) => (0.5 * value) / peak + 0.00015 * chance.normal()));
}

async function recordNow(page: Page): Promise<InstrumentRecord> {
  await page.goto(`${site.url}#/record`);
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Export this record' }).click();
  const archive = readArchive(readFileSync(await (await download).path()));
  if (archive.kind !== 'read') throw new Error(archive.kind);
  return archive.bundles[0]!.record;
}

const figure = (text: string): number => Number(text.replaceAll('\u2212', '-'));

test('a blank left-handed record, braces moved, and three passes as proposed: each one press, and as foreseen', {
  timeout: 900_000,
}, async () => {
  const silence = forMicrophone(new Float64Array(microphoneRateHz));
  const sound = microphoneFile(silence);
  const { page, wrong } = await openPage(site.url, { microphone: sound.file });
  await page.goto(`${site.url}#/settings`);
  await fill(page, 'Taps a hold', '3');
  await fill(page, 'Holds a round', '1');
  await page.goto(`${site.url}#/record`);
  const begin = page.locator('form', { hasText: 'What is on the bench' });
  await begin.getByLabel('Name').fill('Left top');
  await begin.getByLabel('What is on the bench').selectOption({ label: 'A braced top' });
  await begin.getByLabel('Player').selectOption({ label: 'Left-handed' });
  await begin.getByRole('button', { name: 'Begin' }).click();
  await page.goto(`${site.url}#/plan`);
  await page.getByRole('button', { name: 'Begin a plan' }).click();
  await page.getByRole('button', { name: /^Second end of/ }).focus();
  for (let mm = 0; mm < 6; mm++) await page.keyboard.press('ArrowUp');

  const listenTo = async (seed: number) => {
    const truth = trueModes(await recordNow(page));
    writeFileSync(sound.file, tapsInRoom(truth, seed));
    return truth[0]!;
  };
  let lowestHz = await listenTo(1);
  await page.goto(`${site.url}#/bench`);
  const held = page
    .locator('.card, section, div')
    .filter({ has: page.getByRole('button', { name: 'Yes, like this' }) });
  await held.last().getByLabel('Support').selectOption({ label: 'Clamped in the mould' });
  await page.getByRole('button', { name: 'Yes, like this' }).click();
  await page.locator('.listening .big').first().click();
  await page.getByRole('button', { name: 'Listen again' }).waitFor();

  await page.goto(`${site.url}#/steps`);
  await fill(page, 'Wanted', (lowestHz - 7).toFixed(1));
  await page.getByRole('button', { name: 'Set this target' }).click();
  const loop = page.getByRole('region', { name: 'The next pass' });
  for (let pass = 1; pass <= passes; pass++) {
    writeFileSync(sound.file, silence);
    await loop.getByRole('button', { name: 'I did this' }).first().click();
    // Broken off before a tap, as by a maker who is called away: the page asks for the taps of this cut.
    await loop.getByRole('button', { name: 'Stop and read' }).waitFor();
    await page.reload();
    const before = lowestHz;
    lowestHz = await listenTo(1 + pass);
    await page.goto(`${site.url}#/steps`);
    await loop.getByText('Cut, and not tapped since').waitFor();
    await loop.getByRole('button', { name: 'Tap now' }).click();
    const said = loop.getByText(/^monopole moved.*foreseen/);
    await said.waitFor();
    const text = ((await said.textContent()) ?? '').replaceAll('\u00a0', ' ');
    const [, moved, spread, foreseen] = /moved (\S+) ± (\S+) Hz, foreseen (\S+) ± /.exec(text) ?? [];
    // Every piece rings as it is held: no hold scatters here, so the interval of the taps is all there is.
    expect(Math.abs(figure(moved!) - (lowestHz - before)), text).toBeLessThan(1.5 * Number(spread));
    expect(text).toMatch(/: as foreseen$/);
    expect(figure(foreseen!)).toBeLessThan(0);
    if (pass < passes) await loop.getByRole('button', { name: 'I did this' }).first().waitFor();
  }
  expect(lowestHz).toBeLessThan((await recordNow(page)).targets[0]!.frequencyHz + 4);
  expect(wrong).toEqual([]);
  sound.remove();
});
