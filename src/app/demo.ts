// The demo: its records from what was heard in its files, its sounds from the generator those files were made with. It is
// fetched when it is first wanted.
import heardRounds from '../../reference-audio/demo/heard.json';
import readings from '../../reference-audio/demo/readings.json';
import type { DemoReadings } from '../demo/demo-board.ts';
import { demoFinishedGuitar, demoInstrument, demoRounds, demoStick, type HeardRounds } from '../demo/demo-record.ts';
import { demoTapId } from '../demo/demo-tap-id.ts';
import type { HeardRound } from '../demo/demo-taps.ts';
import type { Tap } from '../signal/tap.ts';
import type { Solver } from '../solver/solver.ts';
import type { Shelf, ShelfPorts } from './shelf.ts';

const heard: HeardRounds = new Map(Object.entries(heardRounds as unknown as Readonly<Record<string, HeardRound>>));

/** What the demo needs of the machine. */
export interface DemoPorts extends Pick<ShelfPorts, 'putRecord' | 'announce' | 'nowIso'> {
  removeRecord(id: string): Promise<void>;
}

/**
 * Puts the demo on the shelf with the modes that were read when it was made, and opens its instrument.
 * @throws StorageError where it cannot be stored; then none of it is
 */
export async function openDemo(ports: DemoPorts, shelf: Shelf): Promise<void> {
  const instrument = demoInstrument(heard, readings as unknown as DemoReadings);
  const stored: string[] = [];
  try {
    for (const record of [demoStick(heard), demoFinishedGuitar(heard), instrument]) {
      await ports.putRecord(record, ports.nowIso());
      stored.push(record.id);
    }
  } catch (cause) {
    // Where there is no room for the demo, what room there is stays the maker's.
    for (const id of stored) await ports.removeRecord(id);
    throw cause;
  }
  for (const id of stored) ports.announce(id);
  await shelf.refresh();
  await shelf.open(instrument.id);
}

/** Makes the sound of every tap of one file of the demo, each with its id; none where there is no such file. */
export async function demoTapsOf(
  file: string,
  solver: Pick<Solver, 'run'>,
): Promise<readonly (readonly [string, Tap])[]> {
  const round = demoRounds.find((each) => each.file === file);
  const cuts = heard.get(file)?.taps;
  if (round === undefined || cuts === undefined) return [];
  const taps = await solver.run('demo-taps', { round, cuts });
  return cuts.map((cut, i) => [demoTapId(file, cut), taps[i]!]);
}
