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
});
