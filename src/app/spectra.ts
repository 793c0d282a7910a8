// Averaged spectra for the eye, made from the stored taps when they are first looked at.
import { type ReadonlySignal, signal } from '@preact/signals';
import type { Round } from '../record/record.ts';
import type { Tap } from '../signal/tap.ts';
import type { AveragedSpectrum } from '../solver/messages.ts';
import type { Solver } from '../solver/solver.ts';

export type SpectrumState =
  | { readonly kind: 'loading' }
  | { readonly kind: 'spectrum'; readonly spectrum: AveragedSpectrum }
  | { readonly kind: 'no-sound' };

/** How many are kept in memory; each is some tens of kilobytes. */
const kept = 40;

export class Spectra {
  private readonly known = new Map<string, ReadonlySignal<SpectrumState>>();
  private readonly getTaps: (ids: readonly string[]) => Promise<readonly (Tap | undefined)[]>;
  private readonly solver: Solver;

  constructor(getTaps: (ids: readonly string[]) => Promise<readonly (Tap | undefined)[]>, solver: Solver) {
    this.getTaps = getTaps;
    this.solver = solver;
  }

  /** The spectrum over all taps of the rounds given; the signal changes when it is ready. */
  of(rounds: readonly Round[]): ReadonlySignal<SpectrumState> {
    const ids = rounds.flatMap((round) => round.taps.map((tap) => tap.id));
    const key = ids.join(' ');
    const found = this.known.get(key);
    if (found !== undefined) return found;
    const state = signal<SpectrumState>({ kind: 'loading' });
    this.known.set(key, state);
    const oldest = this.known.keys().next().value;
    if (this.known.size > kept && oldest !== undefined) this.known.delete(oldest);
    void this.load(ids).then((loaded) => {
      state.value = loaded;
    });
    return state;
  }

  private async load(ids: readonly string[]): Promise<SpectrumState> {
    const taps = (await this.getTaps(ids)).filter((tap) => tap !== undefined);
    if (taps.length === 0) return { kind: 'no-sound' };
    return { kind: 'spectrum', spectrum: await this.solver.run('average-spectrum', { taps }) };
  }
}
