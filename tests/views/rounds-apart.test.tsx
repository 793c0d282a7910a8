// @vitest-environment happy-dom
import { act } from 'preact/test-utils';
import { describe, expect, test } from 'vitest';
import type { Step } from '../../src/record/record.ts';
import { RoundsApart } from '../../src/views/bench/rounds-apart.tsx';
import { RoundAnswer } from '../../src/views/bench/session.tsx';
import { story } from '../compare/story.ts';
import { show } from './shown.tsx';

const alike = story([{ modesHz: [180, 270] }, { modesHz: [180.3, 270.2] }, { modesHz: [183.6, 275.4] }]);
const rounds = alike.steps.map((step) => step.rounds[0]!);
const stepOf = (which: readonly number[]): Step => ({ ...alike.steps[0]!, rounds: which.map((i) => rounds[i]!) });

describe('rounds under one label', () => {
  test('that agree have nothing said of them', () => {
    expect(show(<RoundsApart recordId={alike.id} step={stepOf([0, 1])} />).textContent).toBe('');
  });

  test('that lie apart are told with the odd one, which can be set aside', () => {
    const aside: unknown[] = [];
    const bench = { setAside: (...given: unknown[]) => aside.push(given) };
    const step = stepOf([0, 1, 2]);
    const page = show(<RoundsApart recordId={alike.id} step={step} />, {}, { bench });
    expect(page.textContent).toContain('Round 3 of this step');
    // 183.6 over 180.3 and 275.4 over 270.2, the nearer of the other two
    expect(page.textContent).toContain('by 1.9 %');
    act(() => page.querySelector('button')!.click());
    expect(aside).toEqual([[{ recordId: alike.id, stepId: step.id, roundId: rounds[2]!.id }, true]]);
  });
});

describe('a hold that disagreed with the others of its round', () => {
  function answered(disagreement: { apart: number; hold?: number }) {
    const step = alike.steps[0]!;
    const fit = { ...rounds[0]!.fit!, setAside: [{ hold: 1, tap: 0 }], disagreement };
    const record = { ...alike, steps: [{ ...step, rounds: [{ ...rounds[0]!, fit }] }] };
    const pressed: string[] = [];
    const page = show(
      <RoundAnswer record={record} place={{ recordId: record.id, stepId: step.id, roundId: rounds[0]!.id }} />,
      {},
      {
        shelf: { record: { value: record } },
        recordings: {},
        bench: {
          tapAnotherHold: async () => pressed.push('more'),
          countEveryHold: async () => pressed.push('every'),
          heard: { value: [] },
          state: { value: { kind: 'idle' } },
        },
      },
    );
    const press = (text: string) =>
      act(() => [...page.querySelectorAll('button')].find(({ textContent }) => textContent === text)!.click());
    return { page, pressed, press };
  }

  test('is named, left out and can be tapped again or counted', () => {
    const { page, pressed, press } = answered({ apart: 0.0234, hold: 1 });
    expect(page.textContent).toContain('Hold 2 disagrees with the others: its modes lie 2.3 % off');
    expect(page.textContent).not.toContain('disagreed with the others and was left out');
    press('Tap one hold more');
    press('Count that hold after all');
    expect(pressed).toEqual(['more', 'every']);
  });

  test('that cannot be told from the other is not named', () => {
    const { page } = answered({ apart: 0.012 });
    expect(page.textContent).toContain('the same modes lie 1.2 % apart');
    expect(page.textContent).not.toContain('Count that hold after all');
  });
});
