import { describe, expect, test } from 'vitest';
import { createForecasts } from '../../src/app/forecasts.ts';
import { CancelledError } from '../../src/solver/solver.ts';

/** A solver that answers when it is told to, and counts what it was asked. */
function slowSolver() {
  const asked: string[] = [];
  let answer: (value: unknown) => void = () => undefined;
  const run = (kind: string, _question: unknown, { signal }: { readonly signal: AbortSignal }) =>
    new Promise((resolve, reject) => {
      asked.push(kind);
      answer = resolve;
      signal.addEventListener('abort', () => reject(new CancelledError('cancelled')));
    });
  return { asked, answer: (value: unknown) => answer(value), solver: { run } as never };
}

describe('a forecast', () => {
  const question = { steps: [], parameters: [] };

  test('that is given up is forgotten, so that the same question is asked anew', async () => {
    const { asked, answer, solver } = slowSolver();
    const { agreement } = createForecasts(solver);
    agreement.ask(question);
    expect(agreement.current.value).toMatchObject({ kind: 'computing' });
    agreement.giveUp();
    await Promise.resolve();
    expect(agreement.current.value).toEqual({ kind: 'none' });
    agreement.ask(question);
    answer({ kind: 'unsolvable' });
    await expect.poll(() => agreement.current.value.kind).toBe('ready');
    expect(asked).toHaveLength(2);
  });

  test('that is ready is not given up, and that was cancelled stays so until it is asked again', async () => {
    const { asked, answer, solver } = slowSolver();
    const { agreement } = createForecasts(solver);
    agreement.ask(question);
    agreement.cancel();
    await expect.poll(() => agreement.current.value.kind).toBe('cancelled');
    agreement.ask(question);
    expect(asked).toHaveLength(1);
    agreement.again(question);
    answer({ kind: 'unsolvable' });
    await expect.poll(() => agreement.current.value.kind).toBe('ready');
    agreement.giveUp();
    expect(agreement.current.value.kind).toBe('ready');
  });

  test('is asked for once, and says how far it is', async () => {
    const asked: [string, unknown][] = [];
    let progress: (fraction: number) => void = () => undefined;
    const run = (kind: string, ask: unknown, given: { readonly onProgress: (fraction: number) => void }) => {
      asked.push([kind, ask]);
      progress = given.onProgress;
      return new Promise(() => undefined);
    };
    const { agreement } = createForecasts({ run } as never);
    expect(agreement.current.value).toEqual({ kind: 'none' });
    agreement.ask(question);
    agreement.ask({ ...question });
    const key = JSON.stringify(question);
    expect(agreement.current.value).toEqual({ kind: 'computing', key, fraction: 0 });
    progress(0.25);
    expect(agreement.current.value).toEqual({ kind: 'computing', key, fraction: 0.25 });
    expect(asked).toEqual([['top-agreement', question]]);
  });

  test('of an earlier question is given up for a later one, and shown neither as an answer nor as a failure', async () => {
    const running: {
      readonly signal: AbortSignal;
      readonly answer: (value: unknown) => void;
      fail(cause: unknown): void;
    }[] = [];
    const run = (_kind: string, _ask: unknown, { signal }: { readonly signal: AbortSignal }) =>
      new Promise((answer, fail) => running.push({ signal, answer, fail }));
    const { agreement } = createForecasts({ run } as never);
    const later = (n: number) => ({ ...question, parameters: [n] }) as never;
    for (const n of [1, 2, 3]) agreement.ask(later(n));
    expect(running.map(({ signal }) => signal.aborted)).toEqual([true, true, false]);
    running[0]!.answer('early');
    running[1]!.fail(new CancelledError('cancelled'));
    await new Promise((resolve) => setImmediate(resolve));
    expect(agreement.current.value).toMatchObject({ kind: 'computing', key: JSON.stringify(later(3)) });
    running[2]!.answer('late');
    await expect
      .poll(() => agreement.current.value)
      .toEqual({
        kind: 'ready',
        key: JSON.stringify(later(3)),
        answer: 'late',
      });
  });

  test.each([
    [new RangeError('no such plate'), 'no such plate'],
    ['no worker', 'no worker'],
  ])('that fails says why, and is asked again only when the maker says so', async (thrown, message) => {
    let times = 0;
    const run = async () => {
      times++;
      throw thrown;
    };
    const { agreement } = createForecasts({ run } as never);
    agreement.ask(question);
    const failed = { kind: 'failed', key: JSON.stringify(question), message };
    await expect.poll(() => agreement.current.value).toEqual(failed);
    agreement.ask(question);
    expect(times).toBe(1);
    agreement.again(question);
    expect(times).toBe(2);
    await expect.poll(() => agreement.current.value).toEqual(failed);
  });

  test('of each kind is asked as that kind, and none gives up another', () => {
    const kinds: string[] = [];
    const signals: AbortSignal[] = [];
    const run = (kind: string, _ask: unknown, { signal }: { readonly signal: AbortSignal }) => {
      kinds.push(kind);
      signals.push(signal);
      return new Promise(() => undefined);
    };
    const { modes, strung, agreement, advice, stages } = createForecasts({ run } as never);
    for (const forecast of [modes, strung, agreement, advice, stages]) forecast.ask(question as never);
    expect(kinds).toEqual(['top-modes', 'top-strung', 'top-agreement', 'top-advice', 'stage-shapes']);
    expect(signals.some(({ aborted }) => aborted)).toBe(false);
  });
});
