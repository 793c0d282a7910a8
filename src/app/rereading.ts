// Modes read again from the stored taps, in rounds that are not on the bench.
import type { Change } from '../record/change.ts';
import type { StoredFit } from '../record/record.ts';
import { closeRound, type RoundPlace, roundsOf } from '../record/round-edit.ts';
import { type Tap, tapsByHold } from '../signal/tap.ts';
import type { Solver } from '../solver/solver.ts';
import type { Shelf } from './shelf.ts';

export class Rereading {
  private readonly getTaps: (ids: readonly string[]) => Promise<readonly (Tap | undefined)[]>;
  private readonly solver: Pick<Solver, 'run'>;
  private readonly shelf: Shelf;

  constructor(
    getTaps: (ids: readonly string[]) => Promise<readonly (Tap | undefined)[]>,
    solver: Pick<Solver, 'run'>,
    shelf: Shelf,
  ) {
    this.getTaps = getTaps;
    this.solver = solver;
    this.shelf = shelf;
  }

  /**
   * Reads rounds of a record and stores what was found. Rounds without any sound are left as they are.
   * @returns what changed
   */
  async read(recordId: string, places: readonly RoundPlace[]): Promise<readonly Change[]> {
    const changes: Change[] = [];
    for (const place of places) {
      const fit = await this.fit(recordId, place);
      if (fit === undefined) continue;
      changes.push(...(await this.shelf.keep(recordId, (record) => closeRound(record, place, fit))));
    }
    await this.shelf.flush();
    return changes;
  }

  private async fit(recordId: string, place: RoundPlace): Promise<StoredFit | undefined> {
    const record = await this.shelf.current(recordId);
    const round = record && roundsOf(record, place).find(({ id }) => id === place.roundId);
    if (round === undefined) return undefined;
    const sounds = await this.getTaps(round.taps.map(({ id }) => id));
    const taken = tapsByHold(round.taps.map(({ hold }, i) => [hold, sounds[i]]));
    // A round that cannot be read stays unread; the diary offers to read it again.
    const { roomPoles = [], countsEveryHold } = round;
    return taken.every((hold) => hold.length === 0)
      ? undefined
      : this.solver.run('fit-round', { holds: taken, roomPoles, countsEveryHold }).catch(() => undefined);
  }
}
