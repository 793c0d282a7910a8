// Time and memory of 12 modes of a braced top, in Node and in a worker of Chromium, and how they grow with the mesh.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { solidCase, solidEntry } from '../reference/plate-cases.ts';
import { inChromium } from './built-page.ts';
import { type PlateQuestion, type PlateRun, plateRuns } from './plate-runs.ts';

const plate = solidCase(solidEntry('c5', 'hinged'));

/** One place to run in: asks, and tells the processor time used so far, ms, and the memory held, MB. */
interface Place {
  readonly name: string;
  ask(question: PlateQuestion): Promise<PlateRun>;
  cpuMs(): Promise<number>;
  memoryMb(): number;
}

interface Times {
  readonly wallMs: number;
  readonly cpuMs: number;
  readonly unknowns: number;
}

/** Median of the times on the clock, mean of the processor's. */
async function timed(place: Place, question: PlateQuestion, runs: number): Promise<Times> {
  const before = await place.cpuMs();
  const results: PlateRun[] = [];
  for (let i = 0; i < runs; i++) results.push(await place.ask(question));
  const cpuMs = ((await place.cpuMs()) - before) / runs;
  const walls = results.map(({ ms }) => ms).toSorted((a, b) => a - b);
  return { wallMs: walls[runs >> 1]!, cpuMs, unknowns: results[0]!.unknowns };
}

async function figures(place: Place): Promise<readonly string[]> {
  const told = ({ wallMs, cpuMs }: Times) =>
    `${wallMs.toFixed(0).padStart(5)} ms on the clock, ${cpuMs.toFixed(0).padStart(5)} ms of processor`;
  const heldMb = place.memoryMb();
  const first = await timed(place, { plate, what: 'drawing' }, 1);
  await timed(place, { plate, what: 'drawing' }, 5);
  const warm = await timed(place, { plate, what: 'drawing' }, 9);
  await timed(place, { plate, what: 'height' }, 3);
  const height = await timed(place, { plate, what: 'height' }, 15);
  const lines = [
    `${place.name}: braced top, ${first.unknowns} unknowns, 12 modes`,
    `  from the drawing, the first time  ${told(first)}`,
    `  from the drawing, warm            ${told(warm)} (goal 300)`,
    `  after a height change             ${told(height)} (goal 150)`,
    `  memory                            ${(place.memoryMb() - heldMb).toFixed(0)} MB more than before`,
  ];
  for (const sizeMm of [40, 32, 24, 18]) {
    const { unknowns, ...times } = await timed(place, { plate, what: 'drawing', sizeMm }, 3);
    lines.push(
      `  triangles of ${sizeMm} mm                ${told({ unknowns, ...times })}, ${unknowns} unknowns, ${((1000 * times.cpuMs) / unknowns).toFixed(0)} us an unknown`,
    );
  }
  return lines;
}

function inNode(): Place {
  const run = plateRuns();
  return {
    name: 'Node',
    ask: (question) => Promise.resolve(run(question)),
    cpuMs: () => {
      const { user, system } = process.cpuUsage();
      return Promise.resolve((user + system) / 1000);
    },
    memoryMb: () => process.memoryUsage().rss / 1e6,
  };
}

async function inWorker(page: Page, browser: Browser): Promise<Place> {
  const session = await browser.newBrowserCDPSession();
  const renderer = async () => {
    const { processInfo } = await session.send('SystemInfo.getProcessInfo');
    return processInfo.filter(({ type }) => type === 'renderer').toSorted((a, b) => b.cpuTime - a.cpuTime)[0]!;
  };
  const { id } = await renderer();
  return {
    name: 'Chromium, in a worker',
    ask: (question) =>
      page.evaluate((asked) => (window as unknown as { ask(q: unknown): Promise<PlateRun> }).ask(asked), question),
    cpuMs: async () => (await renderer()).cpuTime * 1000,
    // Linux alone tells this without asking the page, which does not count what lies outside its heap.
    memoryMb: () => Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${id}/status`, 'utf8'))?.[1]) / 1000,
  };
}

/** Lines to print. */
export async function plateTimes(): Promise<readonly string[]> {
  const node = await figures(inNode());
  const chromium = await inChromium(
    { from: path.join(import.meta.dirname, 'plate-page') },
    async (page, url, browser) => {
      await page.goto(url);
      await page.waitForFunction(() => 'ask' in window);
      return figures(await inWorker(page, browser));
    },
  );
  return [...node, ...chromium];
}
