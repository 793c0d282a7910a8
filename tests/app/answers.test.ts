import { describe, expect, test } from 'vitest';
import { Answers } from '../../src/app/answers.ts';
import { Spectra } from '../../src/app/spectra.ts';
import type { Tap } from '../../src/signal/tap.ts';
import { roundOf } from '../record/small-record.ts';
import { soundOf } from './storage-machine.ts';
import { settled } from './taps-heard.ts';

/** A worker that answers at once, or fails as it is told to. */
function worker(fails?: unknown) {
  const asked: unknown[] = [];
  const run = async (kind: string, ask: unknown) => {
    asked.push([kind, ask]);
    if (fails !== undefined) throw fails;
    return { answerTo: ask };
  };
  return { asked, solver: { run } as never };
}

const question = (thicknessMm: number) => ({ thicknessMm }) as never;

describe('what the worker makes of boards', () => {
  test('is asked once for each question, and different questions have different answers', async () => {
    const { asked, solver } = worker();
    const answers = new Answers(solver);
    const first = answers.of('read-board', question(3));
    expect(first.value).toEqual({ kind: 'working' });
    expect(answers.of('read-board', question(3))).toBe(first);
    const others = [answers.of('read-board', question(4)), answers.of('hold-guides', question(3))];
    await settled();
    expect(answers.of('read-board', question(3)).value).toEqual({ kind: 'answer', answer: { answerTo: question(3) } });
    expect(others.map(({ value }) => value)).toEqual(
      [4, 3].map((mm) => ({ kind: 'answer', answer: { answerTo: question(mm) } })),
    );
    expect(asked).toEqual([
      ['read-board', question(3)],
      ['read-board', question(4)],
      ['hold-guides', question(3)],
    ]);
  });

  test.each([
    [new RangeError('too thin'), 'too thin'],
    ['gone', 'gone'],
  ])('a failure is told in its own words', async (thrown, message) => {
    const state = new Answers(worker(thrown).solver).of('read-board', question(3));
    await settled();
    expect(state.value).toEqual({ kind: 'failed', message });
  });

  test('the last sixty are kept; an older one is asked for anew', () => {
    const { asked, solver } = worker();
    const answers = new Answers(solver);
    for (let mm = 0; mm <= 60; mm++) answers.of('read-board', question(mm));
    for (let mm = 1; mm <= 60; mm++) answers.of('read-board', question(mm));
    expect(asked).toHaveLength(61);
    answers.of('read-board', question(0));
    expect(asked).toHaveLength(62);
  });
});

describe('spectra for the eye', () => {
  const spectraOn = (getTaps: (ids: readonly string[]) => Promise<readonly (Tap | undefined)[]>) => {
    const { asked, solver } = worker();
    return { asked, spectra: new Spectra(getTaps, solver) };
  };

  test('are made of all taps of the rounds that are here, and not at all where none is', async () => {
    const here = new Map([
      ['a', soundOf(0.5)],
      ['c', soundOf(0.25)],
    ]);
    const { asked, spectra } = spectraOn(async (ids) => ids.map((id) => here.get(id)));
    const both = spectra.of([roundOf('r', ['a', 'b']), roundOf('q', ['c'])]);
    const none = spectra.of([roundOf('r', ['b'])]);
    expect([both.value, none.value]).toEqual([{ kind: 'loading' }, { kind: 'loading' }]);
    await settled();
    const taps = [soundOf(0.5), soundOf(0.25)];
    expect(asked).toEqual([['average-spectrum', { taps }]]);
    expect(both.value).toEqual({ kind: 'spectrum', spectrum: { answerTo: { taps } } });
    expect(none.value).toEqual({ kind: 'no-sound' });
    expect(spectra.of([roundOf('r', ['a', 'b']), roundOf('q', ['c'])])).toBe(both);
  });

  test('the last forty are kept', async () => {
    const fetched: string[] = [];
    const { spectra } = spectraOn(async (ids) => {
      fetched.push(ids.join(' '));
      return [undefined];
    });
    const look = (id: number) => spectra.of([roundOf('r', [`t${id}`])]);
    for (let id = 0; id <= 40; id++) look(id);
    for (let id = 1; id <= 40; id++) look(id);
    expect(fetched).toHaveLength(41);
    look(0);
    expect(fetched).toHaveLength(42);
  });
});
