// The forecast of the open record: asked for, computed in a worker of its own, cancelled, kept until the question changes.
import { type ReadonlySignal, signal } from '@preact/signals';
import type { Work } from '../solver/messages.ts';
import { CancelledError, Solver } from '../solver/solver.ts';
import { Answers } from './answers.ts';

export type ForecastKind = 'top-modes' | 'top-strung' | 'top-agreement' | 'top-advice' | 'stage-shapes';

export type Asked<K extends ForecastKind> =
  | { readonly kind: 'none' }
  | { readonly kind: 'computing'; readonly key: string; readonly fraction: number }
  | { readonly kind: 'ready'; readonly key: string; readonly answer: Work[K]['answer'] }
  | { readonly kind: 'cancelled'; readonly key: string }
  | { readonly kind: 'failed'; readonly key: string; readonly message: string };

/** One kind of question: the latest one counts, an earlier one is given up. */
class Forecast<K extends ForecastKind> {
  private readonly state = signal<Asked<K>>({ kind: 'none' });
  readonly current: ReadonlySignal<Asked<K>> = this.state;
  private running: AbortController | undefined;
  private readonly kind: K;
  private readonly solver: Pick<Solver, 'run'>;

  constructor(kind: K, solver: Pick<Solver, 'run'>) {
    this.kind = kind;
    this.solver = solver;
  }

  /** Asks, unless the very same has been asked before. */
  ask(question: Work[K]['ask']): void {
    const key = JSON.stringify(question);
    const state = this.state.peek();
    if (state.kind !== 'none' && state.key === key) return;
    void this.run(key, question);
  }

  /** Asks once more what was cancelled or failed. */
  again(question: Work[K]['ask']): void {
    void this.run(JSON.stringify(question), question);
  }

  cancel(): void {
    this.running?.abort();
  }

  /** Stops what is being computed, and forgets that it was asked. */
  giveUp(): void {
    if (this.state.peek().kind !== 'computing') return;
    this.cancel();
    this.running = undefined;
    this.state.value = { kind: 'none' };
  }

  private async run(key: string, question: Work[K]['ask']): Promise<void> {
    this.cancel();
    const running = new AbortController();
    this.running = running;
    const show = (state: Asked<K>) => {
      if (this.running === running) this.state.value = state;
    };
    show({ kind: 'computing', key, fraction: 0 });
    try {
      const answer = await this.solver.run(this.kind, question, {
        signal: running.signal,
        onProgress: (fraction) => show({ kind: 'computing', key, fraction }),
      });
      show({ kind: 'ready', key, answer });
    } catch (cause) {
      if (cause instanceof CancelledError) show({ kind: 'cancelled', key });
      else show({ kind: 'failed', key, message: cause instanceof Error ? cause.message : String(cause) });
    }
  }
}

/** All questions. They have a worker apart from the bench's, so that a tap never waits for a forecast. */
export interface Forecasts {
  readonly modes: Forecast<'top-modes'>;
  readonly strung: Forecast<'top-strung'>;
  readonly agreement: Forecast<'top-agreement'>;
  readonly advice: Forecast<'top-advice'>;
  readonly stages: Forecast<'stage-shapes'>;
  /** tops as drawn, several of which are looked at together */
  readonly tops: Answers;
}

export function createForecasts(solver: Pick<Solver, 'run'> = new Solver()): Forecasts {
  return {
    modes: new Forecast('top-modes', solver),
    strung: new Forecast('top-strung', solver),
    agreement: new Forecast('top-agreement', solver),
    advice: new Forecast('top-advice', solver),
    stages: new Forecast('stage-shapes', solver),
    tops: new Answers(solver),
  };
}
