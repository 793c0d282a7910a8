// The room's own level, learned from what lies between the sounds: the measure of "too quiet" and of "something began".

/** How loud the room is in one band: mean square, full scale = 1. */
export interface RoomLevel {
  /** mean of all but the loudest fiftieth */
  readonly mean: number;
  /** what only one cell in fifty exceeds */
  readonly busy: number;
}

/** Quieter than this a room is taken as silent, mean square: -110 dBFS, below the noise of any microphone. */
export const SILENCE = 1e-11;

const CELLS = 500; // of 4 ms: the last 2 s of room

/** Learns the room's level in one band from cells of 4 ms. */
export class RoomLearner {
  private readonly cells = new Float64Array(CELLS);
  private readonly sorted = new Float64Array(CELLS);
  private count = 0;
  private stale = true;
  private last: RoomLevel = { mean: 0, busy: 0 };

  /** cells of room heard so far, at most the 2 s that are remembered */
  get heard(): number {
    return Math.min(this.count, CELLS);
  }

  /** Take the mean square of 4 ms of room. */
  learn(energy: number): void {
    this.cells[this.count++ % CELLS] = energy;
    // sorting is the dear part: fresh while little is known, then every 50 ms
    if (this.count < 100 || this.count % 12 === 0) this.stale = true;
  }

  /**
   * The room as now known; silence where nothing was heard yet.
   * @param floor mean square below which the recorder hears nothing
   */
  level(floor = SILENCE): RoomLevel {
    const { mean, busy } = this.learned();
    return { mean: Math.max(floor, mean), busy: Math.max(floor, busy) };
  }

  private learned(): RoomLevel {
    const n = this.heard;
    if (!this.stale || n === 0) return this.last;
    this.stale = false;
    const sorted = this.sorted.subarray(0, n);
    sorted.set(this.cells.subarray(0, n));
    sorted.sort();
    const kept = Math.max(1, Math.floor(0.98 * n));
    let sum = 0;
    for (let i = 0; i < kept; i++) sum += sorted[i]!;
    this.last = { mean: sum / kept, busy: sorted[Math.min(n - 1, Math.floor(0.98 * n))]! };
    return this.last;
  }
}

/** Power ratio in dB, never below -200. */
export function decibels(power: number): number {
  return 10 * Math.log10(Math.max(power, 1e-20));
}
