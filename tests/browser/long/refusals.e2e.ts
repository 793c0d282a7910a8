// What the workshop throws at the page: no microphone, no permission, speech, noise, rubbish files, a full disk, a
// second tab, a closed lid. Each gets a plain sentence, and nothing is lost.
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { otherSound } from '../../../src/demo/other-sounds.ts';
import { randomFrom } from '../../../src/demo/random.ts';
import { roomNoise } from '../../../src/demo/room.ts';
import { writeWav } from '../../../src/files/wav-write.ts';
import { builtPage, fill, microphoneFile, openPage } from '../page.ts';
import { forMicrophone, microphoneRateHz, tapsForMicrophone, topModes } from '../sound.ts';

let site: Awaited<ReturnType<typeof builtPage>>;
beforeAll(async () => {
  site = await builtPage();
});
afterAll(() => site.close());

async function beginInstrument(page: Page, name = 'A top'): Promise<void> {
  await page.goto(`${site.url}#/record`);
  await fill(page, 'Name', name);
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await page.getByRole('heading', { name }).waitFor();
  await page.goto(`${site.url}#/bench`);
  await page.getByRole('button', { name: 'Start listening' }).waitFor();
  // How it is held is asked before the first taps.
  const asked = page.getByRole('button', { name: 'Yes, like this' });
  if ((await asked.count()) > 0) await asked.click();
}

const start = (page: Page) => page.getByRole('button', { name: 'Start listening' }).click();

describe('when there is nothing to hear with', () => {
  test('no microphone: the page says so and offers recordings', async () => {
    const { page } = await openPage(site.url);
    await beginInstrument(page);
    await start(page);
    await page.getByRole('alert').getByText('No microphone was found').waitFor();
    expect(await page.getByRole('button', { name: 'Start listening' }).isEnabled()).toBe(true);
  });

  test('permission refused: the page says where to allow it', async () => {
    const sound = microphoneFile(forMicrophone(new Float64Array(microphoneRateHz)));
    const { page } = await openPage(site.url, { microphone: sound.file, permission: 'refused' });
    await beginInstrument(page);
    await start(page);
    await page.getByRole('alert').getByText('not allowed to use the microphone').waitFor();
    sound.remove();
  });
});

describe('when what is heard is no tap', () => {
  test.each([
    ['speech', (seed: number) => otherSound('speech', microphoneRateHz, 8, randomFrom(seed))],
    ['noise', (seed: number) => roomNoise(8 * microphoneRateHz, microphoneRateHz, 0.05, randomFrom(seed))],
  ])('%s gives no tap', async (_name, make) => {
    const lead = new Float64Array(10 * microphoneRateHz);
    lead.set(make(3), 2 * microphoneRateHz);
    const sound = microphoneFile(forMicrophone(lead));
    const { page } = await openPage(site.url, { microphone: sound.file });
    await beginInstrument(page);
    await start(page);
    await page.getByText('0 of 8 taps').waitFor();
    await page.waitForTimeout(11_000);
    expect(await page.locator('.heard .accepted').count()).toBe(0);
    await page.getByText('0 of 8 taps').waitFor();
    sound.remove();
  });

  test('a file that holds no tap is refused in words and leaves no step behind it', async () => {
    const { page } = await openPage(site.url);
    await beginInstrument(page);
    for (const [name, buffer, words] of [
      ['text.wav', Buffer.from('this is no sound at all'), 'is not a sound'],
      ['empty.wav', Buffer.alloc(0), 'holds no sound'],
      ['silence.wav', Buffer.from(writeWav([new Float32Array(48_000)], 48_000)), 'No tap was found'],
    ] as const) {
      await page.locator('#recordings').setInputFiles({ name, mimeType: 'audio/wav', buffer });
      await page.getByRole('alert').getByText(words).waitFor();
    }
    await page.goto(`${site.url}#/steps`);
    await page.getByText('No round has been read yet').waitFor();
  });
});

describe('when something breaks in the middle', () => {
  test('the device goes away in the middle of a round: the taps so far are kept and can be read', async () => {
    const sound = microphoneFile(tapsForMicrophone({ modes: topModes, holds: 1, tapsPerHold: 3, pauseS: 20, seed: 5 }));
    const { page } = await openPage(site.url, {
      microphone: sound.file,
      before: () => {
        const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
        navigator.mediaDevices.getUserMedia = async (wanted) => {
          const stream = await ask(wanted);
          Object.assign(window, { unplug: () => stream.getAudioTracks()[0]?.dispatchEvent(new Event('ended')) });
          return stream;
        };
      },
    });
    await beginInstrument(page);
    await start(page);
    await page.getByText(/^[2-9] of 8 taps/).waitFor();
    await page.evaluate(() => (window as unknown as { unplug: () => void }).unplug());
    await page.getByRole('alert').getByText('unplugged').waitFor();
    await page.getByRole('button', { name: 'Read what there is' }).click();
    await page.locator('.figure-number').first().waitFor();
    sound.remove();
  });

  test('the tab is closed in the middle of a round: the taps are there when it is opened again', async () => {
    const sound = microphoneFile(tapsForMicrophone({ modes: topModes, holds: 1, tapsPerHold: 4, pauseS: 20, seed: 6 }));
    const { page, context } = await openPage(site.url, { microphone: sound.file });
    await beginInstrument(page);
    await start(page);
    // How many more come until it is closed is the machine's affair: none that was counted may be missing.
    const counted = Number.parseInt((await page.getByText(/^[2-9] of 8 taps/).textContent()) ?? '', 10);
    await page.close();
    const again = await context.newPage();
    await again.goto(`${site.url}#/bench`);
    const said = await again.getByText(/A round with \d+ taps was broken off/).textContent();
    expect(Number(/\d+/.exec(said ?? '')?.[0])).toBeGreaterThanOrEqual(counted);
    await again.getByRole('button', { name: 'Read what there is' }).click();
    await again.locator('.figure-number').first().waitFor();
    sound.remove();
  });

  test('a microphone that the browser keeps processing is called out', async () => {
    const sound = microphoneFile(forMicrophone(new Float64Array(4 * microphoneRateHz)));
    const { page } = await openPage(site.url, {
      microphone: sound.file,
      before: () => {
        const told = MediaStreamTrack.prototype.getSettings;
        MediaStreamTrack.prototype.getSettings = function () {
          return { ...told.call(this), autoGainControl: true };
        };
      },
    });
    await beginInstrument(page);
    await start(page);
    await page.getByRole('alert').getByText('The browser kept automatic gain on').waitFor();
    sound.remove();
  });

  test('the disk is full: nothing stored is lost, the page says so, and what waits is stored when there is room again', async () => {
    const { page } = await openPage(site.url, {
      before: () => {
        const put = IDBObjectStore.prototype.put;
        IDBObjectStore.prototype.put = function (...given) {
          if ((window as { full?: boolean }).full) throw new DOMException('', 'QuotaExceededError');
          return put.apply(this, given);
        };
      },
    });
    await beginInstrument(page);
    const disk = (full: boolean) => page.evaluate((is) => Object.assign(window, { full: is }), full);
    await page.getByText('Saved', { exact: true }).waitFor();
    await disk(true);
    const recordings = page.locator('#recordings');
    const taps = (seed: number) => ({
      name: 'taps.wav',
      mimeType: 'audio/wav',
      buffer: Buffer.from(tapsForMicrophone({ modes: topModes, holds: 1, tapsPerHold: 6, pauseS: 0.5, seed })),
    });
    await recordings.setInputFiles(taps(1));
    await page.getByRole('alert').getByText('The disk space the browser gives this page is full').waitFor();
    await disk(false);
    await page.locator('.session .figure-number').first().waitFor();
    await recordings.setInputFiles(taps(2));
    await page.goto(`${site.url}#/steps`);
    await page.getByText('12 taps').waitFor();
    await page.getByText('Saved', { exact: true }).waitFor();
    await page.goto(`${site.url}#/record`);
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Export this record' }).click();
    await download;
    expect(await page.locator('.notice').first().textContent()).toContain('Exported 1 record with 12 taps.');
  });

  test('two tabs on one record: what one writes appears in the other, and neither overwrites', async () => {
    const { page, context } = await openPage(site.url);
    await beginInstrument(page, 'Shared');
    await page.goto(`${site.url}#/record`);
    const other = await context.newPage();
    await other.goto(`${site.url}#/record`);
    await other.getByRole('heading', { name: 'Shared' }).waitFor();
    await fill(page, 'Notes', 'from the first tab');
    await expect.poll(() => other.getByLabel('Notes', { exact: true }).inputValue()).toBe('from the first tab');
    await fill(other, 'Model', 'from the second tab');
    await expect.poll(() => page.getByLabel('Model', { exact: true }).inputValue()).toBe('from the second tab');
    expect(await page.getByLabel('Notes', { exact: true }).inputValue()).toBe('from the first tab');
  });
});
