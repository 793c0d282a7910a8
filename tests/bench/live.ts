// How soon the page answers: the built page in Chromium, its worker, taps through the fake microphone.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { tapsForMicrophone, topModes } from '../browser/sound.ts';
import { inChromium } from './built-page.ts';

const holds = 3;
const tapsPerHold = 8;

/** What the page notes: when each tap was kept, when figures changed, when the answer stood. */
interface Noted {
  readonly kept: readonly number[];
  readonly figures: readonly number[];
}

/** From a tap being kept (its decay has ended) to figures on screen, and from the last tap to the answer, ms. */
export async function liveTimes(): Promise<readonly string[]> {
  const folder = mkdtempSync(path.join(tmpdir(), 'platewright-live-'));
  const sound = path.join(folder, 'taps.wav');
  writeFileSync(
    sound,
    tapsForMicrophone({ modes: topModes, holds, tapsPerHold, pauseS: 5, holdScatter: 0.0005, seed: 11 }),
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
    await page.evaluate(() => {
      const noted = { kept: [] as number[], figures: [] as number[] };
      Object.assign(window, { noted });
      let last: Element | null = null;
      let shown = '';
      new MutationObserver(() => {
        const now = performance.now();
        // The newest sound stands first; each keeps its element.
        const newest = document.querySelector('.heard li.accepted:first-child');
        if (newest !== null && newest !== last) noted.kept.push(now);
        last = newest ?? last;
        const figures = document.querySelector('.session .figures')?.textContent ?? '';
        if (figures !== '' && figures !== shown) noted.figures.push(now);
        shown = figures;
      }).observe(document.body, { subtree: true, childList: true, characterData: true, attributes: true });
    });
    await page.getByRole('button', { name: 'Start listening' }).click();
    const answer = page.getByRole('button', { name: 'Listen again' });
    // The fake microphone may lose a tap on a busy machine, and then the last hold waits for it.
    await answer.waitFor({ timeout: 90_000 }).catch(() => page.getByRole('button', { name: 'Stop and read' }).click());
    await answer.waitFor();
    const { kept, figures } = await page.evaluate(() => (window as unknown as { readonly noted: Noted }).noted);
    const waits = kept.map((at) => (figures.find((shown) => shown > at) ?? Number.NaN) - at);
    const between = waits.slice(1, -1).toSorted((a, b) => a - b);
    return [
      `taps kept                     ${kept.length} of ${holds * tapsPerHold}`,
      `figures after the first tap   ${waits[0]?.toFixed(0)} ms (aim 100)`,
      `figures after a later tap     ${between[between.length >> 1]?.toFixed(0)} ms median, ${between.at(-1)?.toFixed(0)} ms at most`,
      `answer after the last tap     ${waits.at(-1)?.toFixed(0)} ms (aim 300)`,
    ];
  });
  rmSync(folder, { recursive: true });
  return lines;
}
