// Puts the demo on the shelf: its records, and the sound of every tap.
import { demoFinishedGuitar, demoInstrument, demoRounds, demoStick, type Heard } from '../demo/demo-record.ts';
import { demoHolds, type TapTimes } from '../demo/demo-taps.ts';
import type { StoredFit, TapNote } from '../record/record.ts';
import { METHOD } from '../signal/round.ts';
import type { RoundFit, Tap } from '../signal/tap.ts';
import { readWav } from '../signal/wav.ts';
import type { Solver } from '../solver/solver.ts';
import type { Shelf } from './shelf.ts';

const sounds = import.meta.glob<string>('../../reference-audio/demo/*.wav', {
  eager: true,
  query: '?url',
  import: 'default',
});
const truths = import.meta.glob<string>('../../reference-audio/demo/*.truth.json', {
  eager: true,
  query: '?url',
  import: 'default',
});
const fits = import.meta.glob<string>('../../reference-audio/demo/fits.json', {
  eager: true,
  query: '?url',
  import: 'default',
});

/** What the demo needs of the machine. */
export interface DemoPorts {
  fetchBytes(url: string): Promise<Uint8Array>;
  putTaps(taps: readonly (readonly [string, Tap])[]): Promise<void>;
}

const folder = '../../reference-audio/demo/';

/** Opens the demo. The modes read when it was made are used as long as the method is still the same. */
export async function openDemo(ports: DemoPorts, solver: Solver, shelf: Shelf): Promise<void> {
  const json = async (url: string | undefined): Promise<unknown> =>
    url === undefined ? {} : JSON.parse(new TextDecoder().decode(await ports.fetchBytes(url)));
  const known = (await json(fits[`${folder}fits.json`])) as Readonly<Record<string, RoundFit>>;
  const heard = new Map<string, { taps: readonly TapNote[]; fit: StoredFit | undefined }>();
  for (const { file } of demoRounds) {
    const sound = sounds[`${folder}${file}.wav`];
    const audio = sound === undefined ? undefined : readWav(await ports.fetchBytes(sound));
    const samples = audio?.kind === 'audio' ? audio.channels[0] : undefined;
    if (audio?.kind !== 'audio' || samples === undefined) continue;
    const holds = demoHolds(
      samples,
      audio.sampleRateHz,
      (await json(truths[`${folder}${file}.truth.json`])) as TapTimes,
    );
    const named = holds.flatMap((taps, hold) =>
      taps.map((heardTap, i) => ({ ...heardTap, hold, id: `demo-${file}-${hold + 1}-${i + 1}` })),
    );
    await ports.putTaps(named.map(({ id, tap }) => [id, tap]));
    const ready = known[file];
    const fit =
      ready?.method === METHOD
        ? ready
        : await solver.run('fit-round', { holds: holds.map((hold) => hold.map(({ tap }) => tap)) });
    heard.set(file, {
      fit,
      taps: named.map(({ id, hold, aboveRoomDb }) => ({
        id,
        hold,
        aboveRoomDb,
        sampleRateHz: audio.sampleRateHz,
        atIso: '2026-03-09T08:25:00.000Z',
      })),
    });
  }
  await shelf.put(demoStick(heard as Heard));
  await shelf.put(demoFinishedGuitar(heard as Heard));
  await shelf.put(demoInstrument(heard as Heard));
}
