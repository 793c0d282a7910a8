// The sounds of the demo are nine megabytes that few ever listen to: each is made when it is first wanted and stored then.
import { fileOfDemoTap } from '../demo/demo-tap-id.ts';
import type { Tap } from '../signal/tap.ts';
import type { Solver } from '../solver/solver.ts';
import { StorageError } from '../storage/database.ts';

export interface DemoSoundPorts {
  getTaps(ids: readonly string[]): Promise<readonly (Tap | undefined)[]>;
  putTaps(taps: readonly (readonly [string, Tap])[]): Promise<void>;
}

type Made = readonly (readonly [string, Tap])[];

/**
 * Sounds as they are stored, and those of the demo whether stored or not.
 * @returns the sounds asked for, in order; undefined where there is none
 */
export function withDemoSounds(ports: DemoSoundPorts, solver: Pick<Solver, 'run'>): DemoSoundPorts['getTaps'] {
  const making = new Map<string, Promise<Made>>();
  const make = async (file: string): Promise<Made> => {
    const made = await (await import('./demo.ts')).demoTapsOf(file, solver);
    await ports.putTaps(made).catch((cause: unknown) => {
      // Where there is no room it is made anew the next time; what room there is stays the maker's.
      if (!(cause instanceof StorageError)) throw cause;
    });
    return made;
  };
  const once = (file: string): Promise<Made> => {
    const underWay = making.get(file) ?? make(file).finally(() => making.delete(file));
    making.set(file, underWay);
    return underWay;
  };
  return async (ids) => {
    const stored = await ports.getTaps(ids);
    const files = ids.flatMap((id, i) => (stored[i] === undefined ? (fileOfDemoTap(id) ?? []) : []));
    if (files.length === 0) return stored;
    const made = new Map((await Promise.all([...new Set(files)].map(once))).flat());
    return ids.map((id, i) => stored[i] ?? made.get(id));
  };
}
