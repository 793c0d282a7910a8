// Guided rounds on the closed box: the bench measures as always, under the support and at the spot the state asks for. What
// was set on the bench before is put back, so that a lump at the bridge never strays into another round.
import { type BoxState, boxSpots, supportOf } from '../compare/box-state.ts';
import type { RecordHome } from '../record/round-edit.ts';
import type { Bench } from './bench.ts';
import type { Recordings } from './recordings.ts';

export class BoxRounds {
  private readonly bench: Bench;
  private readonly recordings: Recordings;

  constructor(bench: Bench, recordings: Recordings) {
    this.bench = bench;
    this.recordings = recordings;
  }

  /** Opens the microphone for a round in the state. Call inside the press. */
  listen(home: RecordHome, state: BoxState, massG: number | undefined): Promise<void> {
    return this.inState(state, massG, () => this.bench.start(home));
  }

  /** A round in the state from sound files, one a hold. */
  take(home: RecordHome, state: BoxState, massG: number | undefined, files: readonly File[]): Promise<void> {
    return this.inState(state, massG, () => this.recordings.take(() => home, files));
  }

  private async inState(state: BoxState, massG: number | undefined, measure: () => Promise<void>): Promise<void> {
    const { bench } = this;
    const before = { support: bench.support.value, spot: bench.spot.value };
    bench.support.value = supportOf(state, before.support, massG);
    bench.spot.value = boxSpots[state];
    try {
      await measure();
    } finally {
      bench.support.value = before.support;
      bench.spot.value = before.spot;
    }
  }
}
