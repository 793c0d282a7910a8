// How soon the page answers: the built page in Chromium, its worker, taps through the fake microphone.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { tapsForMicrophone, topModes } from '../browser/sound.ts';
import { inChromium } from './built-page.ts';

const holds = 3;
const tapsPerHold = 8;

/** The page asks for six seconds between holds; a luthier takes the piece up in them and taps after. */
const pauseS = 9;

/** What the page showed, and when, ms. */
interface Noted {
  /** taps kept: the newest line of what was heard became another one */
  readonly kept: readonly number[];
  readonly refused: readonly string[];
  readonly figures: readonly number[];
  readonly answer: number;
}

/** From a tap being kept (its decay has ended) to figures on screen, and from the last tap of a round to its answer. */
export async function liveTimes(): Promise<readonly string[]> {
  const folder = mkdtempSync(path.join(tmpdir(), 'platewright-live-'));
  const sound = path.join(folder, 'taps.wav');
  writeFileSync(
    sound,
    tapsForMicrophone({ modes: topModes, holds, tapsPerHold, pauseS, holdScatter: 0.0005, seed: 11 }),
  );
  const args = [
    '--use-fake-ui-for-media-stream',
    '--use-fake-device-for-media-stream',
    `--use-file-for-fake-audio-capture=${sound}%noloop`,
  ];
  const lines = await inChromium({ args }, async (page, url) => {
    await page.goto(url);
    await page.waitForSelector('html[data-ready]');
    await page.waitForTimeout(5000);
    await page.evaluate(note);
    await page.getByRole('button', { name: 'Start listening' }).click();
    const answer = page.getByRole('button', { name: 'Listen again' });
    // The fake microphone may lose a tap on a busy machine, and then the last hold waits for it.
    await answer.waitFor({ timeout: 100_000 }).catch(() => page.getByRole('button', { name: 'Stop and read' }).click());
    await answer.waitFor();
    const noted = await page.evaluate(() => (window as unknown as { readonly noted: Noted }).noted);
    const { kept, refused, figures } = noted;
    const isWhole = kept.length === holds * tapsPerHold;
    const waits = kept.slice(0, -1).map((at) => (figures.find((shown) => shown > at) ?? Number.NaN) - at);
    const later = waits.slice(1).toSorted((a, b) => a - b);
    return [
      `taps kept                     ${kept.length} of ${holds * tapsPerHold}${refused.map((why) => `; ${why}`).join('')}`,
      `figures after the first tap   ${waits[0]?.toFixed(0)} ms (aim 100)`,
      `figures after a later tap     ${later[later.length >> 1]?.toFixed(0)} ms median, ${later.at(-1)?.toFixed(0)} ms at most`,
      `answer after the last tap     ${isWhole ? `${(noted.answer - kept.at(-1)!).toFixed(0)} ms` : 'not measured: taps were lost'} (aim 300)`,
    ];
  });
  rmSync(folder, { recursive: true });
  return lines;
}

/** Runs in the page: notes what is shown from now on. */
function note(): void {
  const noted = { kept: [] as number[], refused: [] as string[], figures: [] as number[], answer: Number.NaN };
  Object.assign(window, { noted });
  let last: Element | null = null;
  let shown = '';
  new MutationObserver(() => {
    const now = performance.now();
    const isListening = document.querySelector('.session .level') !== null;
    // The newest sound stands first; each keeps its element while the bench listens.
    const newest = document.querySelector('.session .heard li:first-child');
    if (isListening && newest !== null && newest !== last) {
      if (newest.classList.contains('accepted')) noted.kept.push(now);
      else noted.refused.push(newest.textContent ?? '');
      last = newest;
    }
    const figures = document.querySelector('.session .figures')?.textContent ?? '';
    if (figures !== '' && figures !== shown) noted.figures.push(now);
    shown = figures;
    if (!isListening && figures !== '' && Number.isNaN(noted.answer)) noted.answer = now;
  }).observe(document.body, { subtree: true, childList: true, characterData: true, attributes: true });
}
