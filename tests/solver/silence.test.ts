import { afterEach, describe, expect, test, vi } from 'vitest';
import { CancelledError, SilentError, Solver } from '../../src/solver/solver.ts';

/** Workers made since the test began; each does with a request what the test says. */
const workers: FakeWorker[] = [];
let behave: (worker: FakeWorker, nth: number) => void = () => undefined;

class FakeWorker {
  onmessage: ((event: { data: unknown }) => void) | null = null;
  onerror: ((event: { message: string }) => void) | null = null;
  onmessageerror: (() => void) | null = null;
  isEnded = false;
  constructor() {
    workers.push(this);
  }
  postMessage(): void {
    behave(this, workers.length);
  }
  terminate(): void {
    this.isEnded = true;
  }
  answer(data: unknown): void {
    if (!this.isEnded) this.onmessage?.({ data });
  }
}

function solver(silenceMs: number) {
  vi.stubGlobal('Worker', FakeWorker);
  vi.useFakeTimers();
  return new Solver(silenceMs);
}

afterEach(() => {
  vi.unstubAllGlobals();
  vi.useRealTimers();
  workers.length = 0;
});

describe('a worker that says nothing', () => {
  test('is ended, and a fresh one is given the same work', async () => {
    const made = solver(1000);
    behave = (worker, nth) => {
      if (nth === 2) worker.answer({ kind: 'answer', answer: null });
    };
    const answer = made.run('warm-up', null);
    await vi.advanceTimersByTimeAsync(1001);
    expect(await answer).toBeNull();
    expect(workers.map(({ isEnded }) => isEnded)).toEqual([true, false]);
  });

  test('twice in a row is said; the next work is taken up by a third', async () => {
    const made = solver(1000);
    behave = (worker, nth) => {
      if (nth === 3) worker.answer({ kind: 'answer', answer: null });
    };
    const first = made.run('warm-up', null).catch((cause: unknown) => cause);
    await vi.advanceTimersByTimeAsync(2002);
    expect(await first).toBeInstanceOf(SilentError);
    expect(await made.run('warm-up', null)).toBeNull();
    expect(workers).toHaveLength(3);
  });

  test('is not taken for dead as long as it says how far it is', async () => {
    const made = solver(1000);
    behave = () => undefined;
    const seen: number[] = [];
    const answer = made.run('warm-up', null, { onProgress: (fraction) => seen.push(fraction) });
    for (let k = 1; k <= 5; k++) {
      await vi.advanceTimersByTimeAsync(900);
      workers[0]!.answer({ kind: 'progress', fraction: k / 6 });
    }
    workers[0]!.answer({ kind: 'answer', answer: null });
    expect(await answer).toBeNull();
    expect(seen).toHaveLength(5);
    expect(workers).toHaveLength(1);
  });

  test('is not tried again where the person cancelled', async () => {
    const made = solver(1000);
    behave = () => undefined;
    const stop = new AbortController();
    const answer = made.run('warm-up', null, { signal: stop.signal }).catch((cause: unknown) => cause);
    await vi.advanceTimersByTimeAsync(10);
    stop.abort();
    expect(await answer).toBeInstanceOf(CancelledError);
    await vi.advanceTimersByTimeAsync(5000);
    expect(workers).toHaveLength(1);
  });
});
