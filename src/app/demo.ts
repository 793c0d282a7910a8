// Puts the demo on the shelf: the sound of every tap first, then the records that speak of them.
import type { DemoReadings } from '../demo/demo-board.ts';
import { demoFinishedGuitar, demoInstrument, demoRounds, demoStick, demoTapId } from '../demo/demo-record.ts';
import { cutTap, type HeardRound } from '../demo/demo-taps.ts';
import type { Tap } from '../signal/tap.ts';
import { readWav } from '../signal/wav.ts';
import type { Shelf } from './shelf.ts';

const urls = import.meta.glob<string>(
  [
    '../../reference-audio/demo/*.wav',
    '../../reference-audio/demo/heard.json',
    '../../reference-audio/demo/readings.json',
  ],
  {
    eager: true,
    query: '?url',
    import: 'default',
  },
);

/** What the demo needs of the machine. */
export interface DemoPorts {
  fetchBytes(url: string): Promise<Uint8Array>;
  putTaps(taps: readonly (readonly [string, Tap])[]): Promise<void>;
  removeSounds(tapIds: readonly string[], photoIds: readonly string[]): Promise<void>;
}

/**
 * Opens the demo with the modes that were read when it was made.
 * @throws StorageError
 */
export async function openDemo(ports: DemoPorts, shelf: Shelf): Promise<void> {
  const fetched = (file: string): Promise<Uint8Array> => {
    const url = urls[`../../reference-audio/demo/${file}`];
    if (url === undefined) throw new Error(`openDemo: ${file} is not in the build`);
    return ports.fetchBytes(url);
  };
  const made = async (file: string): Promise<unknown> => JSON.parse(new TextDecoder().decode(await fetched(file)));
  const heard = new Map(Object.entries((await made('heard.json')) as Readonly<Record<string, HeardRound>>));
  const readings = (await made('readings.json')) as DemoReadings;
  const cutOut = async (file: string): Promise<readonly (readonly [string, Tap])[]> => {
    const audio = readWav(await fetched(`${file}.wav`));
    const samples = audio.kind === 'audio' ? audio.channels[0] : undefined;
    if (audio.kind !== 'audio' || samples === undefined) throw new Error(`openDemo: ${file}.wav cannot be read`);
    const cuts = heard.get(file)?.taps ?? [];
    return cuts.map((cut) => [demoTapId(file, cut), cutTap(samples, audio.sampleRateHz, cut)]);
  };
  const cut = await Promise.all(demoRounds.map(({ file }) => cutOut(file)));
  const stored: string[] = [];
  try {
    for (const taps of cut) {
      await ports.putTaps(taps);
      stored.push(...taps.map(([id]) => id));
    }
  } catch (cause) {
    // Where there is no room for the demo, what room there is stays the maker's.
    await ports.removeSounds(stored, []);
    throw cause;
  }
  await shelf.put(demoStick(heard));
  await shelf.put(demoFinishedGuitar(heard));
  await shelf.put(demoInstrument(heard, readings));
}
