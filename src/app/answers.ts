// What the worker makes of boards, for the eye: asked for when first looked at, and kept while it may be looked at again.
import { type ReadonlySignal, signal } from '@preact/signals';
import type { Work } from '../solver/messages.ts';
import type { Solver } from '../solver/solver.ts';

export type AnswerState<T> =
  | { readonly kind: 'working' }
  | { readonly kind: 'answer'; readonly answer: T }
  | { readonly kind: 'failed'; readonly message: string };

/** Requests about wood, and tops as drawn. All are plain data, so that the question itself is the name of its answer. */
type Question = 'read-board' | 'name-peaks' | 'hold-guides' | 'modes-against-thickness' | 'top-modes';

/** How many are kept; each is some kilobytes. */
const kept = 60;

export class Answers {
  private readonly known = new Map<string, ReadonlySignal<AnswerState<unknown>>>();
  private readonly solver: Pick<Solver, 'run'>;

  constructor(solver: Pick<Solver, 'run'>) {
    this.solver = solver;
  }

  /** The answer to a question; the signal changes when it is there. */
  of<K extends Question>(kind: K, ask: Work[K]['ask']): ReadonlySignal<AnswerState<Work[K]['answer']>> {
    const key = `${kind} ${JSON.stringify(ask)}`;
    const found = this.known.get(key);
    if (found !== undefined) return found as ReadonlySignal<AnswerState<Work[K]['answer']>>;
    const state = signal<AnswerState<Work[K]['answer']>>({ kind: 'working' });
    this.known.set(key, state);
    const oldest = this.known.keys().next().value;
    if (this.known.size > kept && oldest !== undefined) this.known.delete(oldest);
    this.solver.run(kind, ask).then(
      (answer) => {
        state.value = { kind: 'answer', answer };
      },
      (cause: unknown) => {
        state.value = { kind: 'failed', message: cause instanceof Error ? cause.message : String(cause) };
      },
    );
    return state;
  }
}
