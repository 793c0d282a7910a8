// The checks of a reference stick, told from its record.
import { expect, test } from 'vitest';
import { checksOf, trustOf } from '../../src/compare/trust.ts';
import { story } from './story.ts';

const told = story([{ modesHz: [300, 412] }, { modesHz: [] }, { modesHz: [412.5, 300, 900] }]);
/** The mode near 412 Hz is the loudest of each step. */
const stick = {
  ...told,
  steps: told.steps.map((step) => ({
    ...step,
    rounds: step.rounds.map((round) => {
      const loud = (hz: number) => (Math.abs(hz - 412) < 5 ? -10 : -30);
      const modes = round.fit!.modes.map((mode) => ({ ...mode, levelDb: loud(mode.frequencyHz.value) }));
      return { ...round, fit: { ...round.fit!, modes } };
    }),
  })),
};

test('a check is the loudest mode of its step, and a step that heard nothing is none', () => {
  expect(checksOf(stick).map(({ step, frequencyHz }) => [step.id, frequencyHz])).toEqual([
    ['s0', { value: 412, sigma: 0.1 }],
    ['s2', { value: 412.5, sigma: 0.1 }],
  ]);
});

test('of two ways of holding it the loudest of both counts', () => {
  const [first, , third] = stick.steps;
  const louder = third!.rounds.map((round) => ({
    ...round,
    support: { ...round.support, hold: 'at-node' as const },
    fit: { ...round.fit!, modes: round.fit!.modes.map((mode) => ({ ...mode, levelDb: mode.levelDb + 5 })) },
  }));
  const both = { ...stick, steps: [{ ...first!, rounds: [...louder, ...first!.rounds] }] };
  expect(checksOf(both)[0]!.frequencyHz.value).toBe(412.5);
});

test('the chart is that of the checks, and a stick never read has none', () => {
  expect(trustOf(stick)).toMatchObject({ usualHz: 412, goodDays: 1, verdict: 'too-few' });
  expect(() => trustOf({ ...stick, steps: [] })).toThrow('controlChart: 0 checks');
});
