// What roving rounds tell of the shapes, computed in a worker of their own when it is first looked at, and kept while it may be
// looked at again.
import { type ReadonlySignal, signal } from '@preact/signals';
import type { RovingQuestion } from '../forecast/roving-question.ts';
import type { TapShapesAnswer } from '../forecast/tap-shapes.ts';
import type { Tap } from '../signal/tap.ts';
import { Solver } from '../solver/solver.ts';

export type ShapeReading =
  | { readonly kind: 'reading'; readonly fraction: number }
  /** `tapIds` are the taps of the answer, whose sounds are here */
  | { readonly kind: 'read'; readonly answer: TapShapesAnswer; readonly tapIds: readonly string[] }
  | { readonly kind: 'failed'; readonly message: string };

/** Each is some hundreds of kilobytes of polygons. */
const kept = 8;

export class ShapeReadings {
  private readonly known = new Map<string, ReadonlySignal<ShapeReading>>();
  private readonly getTaps: (ids: readonly string[]) => Promise<readonly (Tap | undefined)[]>;
  private readonly solver: Pick<Solver, 'run'>;

  constructor(
    getTaps: (ids: readonly string[]) => Promise<readonly (Tap | undefined)[]>,
    solver: Pick<Solver, 'run'> = new Solver(),
  ) {
    this.getTaps = getTaps;
    this.solver = solver;
  }

  /** The answer to a question; the signal changes when it is there. */
  of(question: RovingQuestion): ReadonlySignal<ShapeReading> {
    const key = JSON.stringify(question);
    const found = this.known.get(key);
    if (found !== undefined) return found;
    const state = signal<ShapeReading>({ kind: 'reading', fraction: 0 });
    this.known.set(key, state);
    const oldest = this.known.keys().next().value;
    if (this.known.size > kept && oldest !== undefined) this.known.delete(oldest);
    this.read(question, (fraction) => {
      state.value = { kind: 'reading', fraction };
    }).then(
      (read) => {
        state.value = read;
      },
      (cause: unknown) => {
        state.value = { kind: 'failed', message: cause instanceof Error ? cause.message : String(cause) };
      },
    );
    return state;
  }

  private async read(
    { tapIds, spotOf, ...question }: RovingQuestion,
    onProgress: (fraction: number) => void,
  ): Promise<ShapeReading> {
    const sounds = await this.getTaps(tapIds);
    const here = tapIds.flatMap((_, i) => (sounds[i] === undefined ? [] : [i]));
    const ask = { ...question, taps: here.map((i) => sounds[i]!), spotOf: here.map((i) => spotOf[i]!) };
    const answer = await this.solver.run('tap-shapes', ask, { onProgress });
    return { kind: 'read', answer, tapIds: here.map((i) => tapIds[i]!) };
  }
}
