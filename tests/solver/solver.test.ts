// The page's side of the worker, with workers that answer when they are told to.
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { Reply, Request } from '../../src/solver/messages.ts';
import { CancelledError, Solver } from '../../src/solver/solver.ts';

class ToldWorker {
  static readonly all: ToldWorker[] = [];
  readonly asked: Request[] = [];
  isEnded = false;
  onmessage: ((event: { readonly data: Reply }) => void) | undefined;
  constructor() {
    ToldWorker.all.push(this);
  }
  postMessage(request: Request): void {
    this.asked.push(request);
  }
  terminate(): void {
    this.isEnded = true;
  }
  reply(data: Reply): void {
    this.onmessage?.({ data });
  }
}

beforeEach(() => {
  ToldWorker.all.length = 0;
  vi.stubGlobal('Worker', ToldWorker);
});
afterEach(() => {
  vi.unstubAllGlobals();
});

const turn = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));

test('a reading that is cancelled ends at once and says so; the next one has a new worker', async () => {
  const solver = new Solver();
  const fractions: number[] = [];
  const end = new AbortController();
  const reading = solver.run(
    'fit-round',
    { holds: [] },
    { signal: end.signal, onProgress: (part) => fractions.push(part) },
  );
  await turn();
  const first = ToldWorker.all[0]!;
  first.reply({ kind: 'progress', fraction: 0.4 });
  end.abort();
  await expect(reading).rejects.toThrow(CancelledError);
  expect([first.isEnded, fractions]).toEqual([true, [0.4]]);

  const next = solver.run('average-spectrum', { taps: [] });
  await turn();
  expect(ToldWorker.all).toHaveLength(2);
  const answer = { frequencyHz: new Float64Array(1), levelDb: new Float64Array(1) };
  ToldWorker.all[1]!.reply({ kind: 'answer', answer });
  expect(await next).toBe(answer);
});

test('what is cancelled before its turn is never asked', async () => {
  const solver = new Solver();
  const end = new AbortController();
  end.abort();
  await expect(solver.run('fit-round', { holds: [] }, { signal: end.signal })).rejects.toThrow('cancelled');
  expect(ToldWorker.all).toEqual([]);
});

test('a failure in the worker is told with its words, and the worker goes on', async () => {
  const solver = new Solver();
  const reading = solver.run('fit-round', { holds: [] });
  await turn();
  ToldWorker.all[0]!.reply({ kind: 'failed', message: 'fitRound: onset 5, need less' });
  await expect(reading).rejects.toThrow('fitRound: onset 5, need less');
  void solver.run('fit-round', { holds: [] });
  await turn();
  expect([ToldWorker.all.length, ToldWorker.all[0]!.asked.length]).toEqual([1, 2]);
});

test('a worker is warmed up once, and again where it had to be replaced', async () => {
  const solver = new Solver();
  solver.warmUp();
  solver.warmUp();
  await turn();
  const first = ToldWorker.all[0]!;
  expect(first.asked.map(({ kind }) => kind)).toEqual(['warm-up']);
  first.reply({ kind: 'answer', answer: null });
  const end = new AbortController();
  const reading = solver.run('fit-round', { holds: [] }, { signal: end.signal });
  await turn();
  end.abort();
  await expect(reading).rejects.toThrow(CancelledError);
  solver.warmUp();
  await turn();
  expect(ToldWorker.all[1]!.asked.map(({ kind }) => kind)).toEqual(['warm-up']);
});
