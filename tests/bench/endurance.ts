// Twenty minutes at the bench: taps, speech and pauses into the built page in Chromium, in one round that is never closed in
// between. Counts what a maker would lose by it: taps, sound, memory, patience.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { readWav } from '../../src/files/wav.ts';
import { writeWav16 } from '../../src/files/wav-write.ts';
import { inChromium } from './built-page.ts';
import { roomOf, type Struck, soundOf } from './struck.ts';
import { seeded } from './tap-signals.ts';

const rateHz = 44_100;
const minutes = 20;
const tapEveryS = 2.5;
/** of every minute: taps first, then somebody speaks, then nothing */
const tapsAMinute = 12;
const speechAtS = 34;
const leadInS = 2;

const sentences = [
  'It still rings on, take a little more off the treble leg.',
  'Wait, let me hear the other one once more.',
  'No, that is enough for today, put the kettle on.',
];

/** What the page did while it listened. */
interface Watched {
  readonly said: readonly string[];
  readonly missingFrames: number;
  readonly blocks: number;
}

/** @param length minutes of it */
export async function endurance(length = minutes): Promise<readonly string[]> {
  const folder = mkdtempSync(path.join(tmpdir(), 'platewright-endurance-'));
  const file = path.join(folder, 'bench.wav');
  writeFileSync(file, writeWav16([sound(length, folder)], rateHz));
  const args = [
    '--use-fake-ui-for-media-stream',
    '--use-fake-device-for-media-stream',
    `--use-file-for-fake-audio-capture=${file}%noloop`,
  ];
  try {
    return await inChromium({ args }, (page, url) => listened(page, url, length));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function listened(page: Page, url: string, length: number): Promise<readonly string[]> {
  await page.addInitScript(watch);
  await page.goto(url);
  await page.waitForSelector('html[data-ready]');
  await page.goto(`${url}#/settings`);
  await fill(page, 'Taps a hold', '40');
  await fill(page, 'Holds a round', '10');
  await fill(page, 'Seconds between holds', '2');
  await page.goto(`${url}#/record`);
  await fill(page, 'Name', 'Endurance');
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await page.getByRole('heading', { name: 'Endurance', exact: true }).waitFor();
  await page.goto(`${url}#/bench`);
  const session = await page.context().newCDPSession(page);
  const heapMb = async (): Promise<number> => {
    await session.send('HeapProfiler.collectGarbage');
    const { usedSize } = await session.send('Runtime.getHeapUsage');
    return usedSize / 2 ** 20;
  };
  const before = await heapMb();
  const tapsBefore = await storedTaps(page);
  await page.getByRole('button', { name: 'Start listening' }).click();
  await page.waitForTimeout(1000 * (60 * length + leadInS + 4));
  const after = await heapMb();
  const taps = (await storedTaps(page)) - tapsBefore;
  const refused = await page.locator('.heard li:not(.accepted)').allTextContents();
  const readingFrom = Date.now();
  await page.getByRole('button', { name: 'Stop and read' }).click();
  await page.getByRole('button', { name: 'Listen again' }).waitFor({ timeout: 600_000 });
  const readS = (Date.now() - readingFrom) / 1000;
  const shown = (await page.locator('.figure-number').allTextContents()).map(Number);
  const watched = await page.evaluate(() => (window as unknown as { readonly watched: Watched }).watched);
  const wanted = modes.map(({ frequencyHz }) => frequencyHz);
  const found = wanted.filter((hz) => shown.some((figure) => Math.abs(figure - hz) < 0.5));
  return [
    `listened                      ${length} min, ${watched.blocks} blocks, ${watched.missingFrames} frames missing between them`,
    `taps kept                     ${taps} of ${tapsAMinute * length}`,
    `refused                       ${refused.length}${counted(refused)}`,
    `notices                       ${watched.said.length}${counted(watched.said)}`,
    `memory of the page            ${before.toFixed(1)} MB before, ${after.toFixed(1)} MB after`,
    `the round of all of them      read in ${readS.toFixed(1)} s, ${found.length} of ${wanted.length} modes within 0.5 Hz`,
  ];
}

/** Fills a field by its label and leaves it, as a person does. */
async function fill(page: Page, label: string, text: string): Promise<void> {
  const field = page.getByLabel(label, { exact: true }).first();
  await field.fill(text);
  await field.blur();
}

/** How often each was said. */
function counted(texts: readonly string[]): string {
  const times = new Map<string, number>();
  for (const text of texts) times.set(text.trim(), (times.get(text.trim()) ?? 0) + 1);
  return [...times].map(([text, n]) => `; ${n} x ${text}`).join('');
}

/** Runs in the page: what it says above its views, and whether blocks of sound follow one another. */
function watch(): void {
  const watched = { said: [] as string[], missingFrames: 0, blocks: 0 };
  Object.assign(window, { watched });
  let last = '';
  new MutationObserver(() => {
    const now = document.querySelector('.notices .notice > span')?.textContent ?? '';
    if (now !== '' && now !== last) watched.said.push(now);
    last = now;
  }).observe(document, { childList: true, subtree: true, characterData: true });
  const Node = AudioWorkletNode;
  let next: number | undefined;
  window.AudioWorkletNode = class extends Node {
    constructor(...given: ConstructorParameters<typeof AudioWorkletNode>) {
      super(...given);
      this.port.addEventListener('message', ({ data }) => {
        const { firstFrame, channels } = data as { firstFrame: number; channels: readonly Float32Array[] };
        const frames = channels[0]?.length ?? 0;
        watched.blocks++;
        if (next !== undefined && frames > 0) watched.missingFrames += Math.abs(firstFrame - next);
        next = firstFrame + frames;
      });
    }
  };
}

const storedTaps = (page: Page): Promise<number> =>
  page.evaluate(
    () =>
      new Promise<number>((resolve, reject) => {
        const open = indexedDB.open('platewright-sounds');
        open.onupgradeneeded = () => open.result.createObjectStore('values');
        open.onerror = () => reject(open.error);
        open.onsuccess = () => {
          const keys = open.result.transaction('values').objectStore('values').getAllKeys();
          keys.onerror = () => reject(keys.error);
          keys.onsuccess = () => {
            resolve(keys.result.filter((key) => String(key).startsWith('tap:')).length);
            open.result.close();
          };
        };
      }),
  );

const modes: Struck['modes'] = [
  { frequencyHz: 97, q: 38, level: 1, phaseRad: 0.2 },
  { frequencyHz: 168, q: 46, level: 0.8, phaseRad: 1.1 },
  { frequencyHz: 209, q: 52, level: 0.4, phaseRad: 2.3 },
  { frequencyHz: 331, q: 61, level: 0.5, phaseRad: 3.9 },
  { frequencyHz: 446, q: 57, level: 0.3, phaseRad: 5.1 },
];

/** The whole of it, full scale = 1; taps by the resonators of struck.ts, speech by the espeak-ng program. */
function sound(length: number, folder: string): Float32Array {
  const random = seeded(20_261_130);
  const total = Math.round((leadInS + 60 * length + 1) * rateHz);
  const whole = Float32Array.from(roomOf('pink', total, rateHz, random), (x) => 0.0006 * x);
  for (let minute = 0; minute < length; minute++) {
    for (let tap = 0; tap < tapsAMinute; tap++) {
      const one = soundOf(
        {
          sampleRateHz: rateHz,
          modes,
          contactS: 0.0025,
          rustle: 0.05,
          colour: 'pink',
          // The room is the whole's: this one's own is far below it.
          overRoomDb: 90,
          offset: 0,
          rumble: 0,
          onsetsS: [0.05],
          durationS: 1.6,
        },
        random,
      );
      const peak = one.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
      mix(whole, one, leadInS + 60 * minute + tap * tapEveryS, (0.25 + 0.2 * random()) / peak);
    }
    const voice = path.join(folder, 'voice.wav');
    execFileSync('espeak-ng', ['-w', voice, sentences[minute % sentences.length]!]);
    const audio = readWav(readFileSync(voice));
    if (audio.kind !== 'audio') throw new Error('espeak-ng wrote no WAV');
    const spoken = audio.channels[0]!;
    const step = audio.sampleRateHz / rateHz;
    const stretched = Float32Array.from({ length: Math.floor(spoken.length / step) }, (_, n) => {
      const at = Math.floor(n * step);
      return spoken[at]! + (n * step - at) * ((spoken[at + 1] ?? 0) - spoken[at]!);
    });
    mix(whole, stretched, leadInS + 60 * minute + speechAtS, 0.3);
  }
  // Chromium repeats the last 10 ms of its file for ever.
  whole.fill(0, total - rateHz / 2);
  return whole;
}

function mix(whole: Float32Array, part: Float32Array, atS: number, gain: number): void {
  const from = Math.round(atS * rateHz);
  for (let n = 0; n < part.length && from + n < whole.length; n++) whole[from + n]! += gain * part[n]!;
}
