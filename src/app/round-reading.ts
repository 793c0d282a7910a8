// Reads the modes of a round in the worker: once it is over, and meanwhile as far as it goes.
import type { Round } from '../record/record.ts';
import type { RoundFit, Tap } from '../signal/tap.ts';
import type { RoomPole } from '../signal/tell/room-poles.ts';
import { SilentError, type Solver } from '../solver/solver.ts';
import type { Notices } from './notices.ts';

type Holds = readonly (readonly Tap[])[];

/** What of a round counts beside its taps. */
type Counting = Pick<Round, 'roomPoles' | 'countsEveryHold'>;

export class RoundReading {
  private isBusy = false;
  private stop = new AbortController();
  private readonly solver: Pick<Solver, 'run'>;
  private readonly notices: Notices;

  constructor(solver: Pick<Solver, 'run'>, notices: Notices) {
    this.solver = solver;
    this.notices = notices;
  }

  /** @returns the modes, or undefined where reading was stopped or failed; the maker was told of a failure */
  async read(
    holds: Holds,
    { roomPoles = [], countsEveryHold }: Counting,
    onProgress: (fraction: number) => void,
  ): Promise<RoundFit | undefined> {
    this.stop = new AbortController();
    const { signal } = this.stop;
    try {
      return await this.solver.run('fit-round', { holds, roomPoles, countsEveryHold }, { signal, onProgress });
    } catch (cause) {
      if (!signal.aborted) this.sayNotRead(cause);
      return undefined;
    }
  }

  /** Reads the taps so far, if the last such reading is done; a later tap asks again. */
  async readMeanwhile(holds: Holds, roomPoles: readonly RoomPole[]): Promise<RoundFit | undefined> {
    if (this.isBusy) return undefined;
    this.isBusy = true;
    try {
      return await this.solver.run('fit-round', { holds: holds.map((hold) => [...hold]), roomPoles });
    } catch (cause) {
      this.sayNotRead(cause);
      return undefined;
    } finally {
      this.isBusy = false;
    }
  }

  /** Stops reading. */
  cancel(): void {
    this.stop.abort();
  }

  private sayNotRead(cause: unknown): void {
    if (cause instanceof SilentError) this.notices.show({ kind: 'reading-silent' });
    else this.notices.show({ kind: 'fit-failed', message: cause instanceof Error ? cause.message : String(cause) });
  }
}
