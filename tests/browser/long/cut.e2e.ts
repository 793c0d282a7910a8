// A cut is one fact: entered on the plan, corrected in the diary, deleted and brought back, it is the same on the plan, in the
// forecast, in the course and in the tables.
import { readFileSync } from 'node:fs';
import { strFromU8, unzipSync } from 'fflate';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { readCsv } from '../../../src/record/csv.ts';
import { builtPage, fill, lowestHz, openPage } from '../page.ts';

let site: Awaited<ReturnType<typeof builtPage>>;
beforeAll(async () => {
  site = await builtPage();
});
afterAll(() => site.close());

const go = (page: Page, view: string) => page.goto(`${site.url}#/${view}`);

async function forecastHz(page: Page): Promise<number> {
  await go(page, 'forecast');
  return lowestHz(page);
}

/** The last line of the table of cuts, by the names of its columns. */
async function lastCut(page: Page): Promise<Readonly<Record<string, string>>> {
  await go(page, 'record');
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Tables (CSV)' }).click();
  const table = readCsv(strFromU8(unzipSync(readFileSync(await (await download).path()))['cuts.csv']!));
  if (table.kind !== 'table') throw new Error(table.kind);
  const last = table.rows.at(-1)!;
  return Object.fromEntries(table.header.map((name, i) => [name, last[i]!]));
}

test('a cut of 0.5 mm that is corrected to 1.5 mm is 1.5 mm everywhere; deleted, its wood is back; undone, it is cut again', {
  timeout: 900_000,
}, async () => {
  const { page, wrong } = await openPage(site.url);
  const before = await forecastHz(page);

  await go(page, 'plan');
  await fill(page, 'Shave from', '100');
  await fill(page, 'Shave to', '250');
  await fill(page, 'Taken off', '0.5');
  await page.getByRole('button', { name: 'Enter this shaving' }).click();
  const shallow = await forecastHz(page);
  expect(shallow).toBeLessThan(before);
  const shallowCut = await lastCut(page);

  await go(page, 'steps');
  const entry = page.locator('.diary details').first();
  await entry.locator('summary').click();
  await fill(page, 'Taken off', '1.5');
  await page.getByText('Saved', { exact: true }).waitFor();
  const deep = await forecastHz(page);
  // Three times the depth takes more than twice as much off a mode: stiffness goes with the cube of the height.
  expect(before - deep).toBeGreaterThan(2 * (before - shallow));
  const deepCut = await lastCut(page);
  expect(Number(deepCut['mass_off_g'])).toBeGreaterThan(2.5 * Number(shallowCut['mass_off_g']));
  expect(deepCut).toMatchObject({ from_mm: shallowCut['from_mm'], to_mm: shallowCut['to_mm'] });

  await go(page, 'steps');
  await page.locator('.diary details').first().locator('summary').click();
  await page.locator('.diary .shaving').getByRole('button', { name: 'Remove', exact: true }).first().click();
  await page.getByText('Saved', { exact: true }).waitFor();
  expect(await forecastHz(page)).toBe(before);
  await page.getByRole('button', { name: 'Undo' }).click();
  expect(await forecastHz(page)).toBe(deep);
  expect(wrong).toEqual([]);
});
