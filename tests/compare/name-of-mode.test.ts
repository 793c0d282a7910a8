import { expect, test } from 'vitest';
import { nameOfMode } from '../../src/compare/name-of-mode.ts';
import { story } from './story.ts';

const record = story([{ modesHz: [194, 270] }, { modesHz: [189, 266] }]);
const [first, second] = record.steps;
const at = (hz: number, cents: number) => hz * 2 ** (cents / 1200);

test('a frequency goes by the name of the mode that lies within 20 cents of it at the same step, and by no other', () => {
  for (const cents of [-19, 0, 19]) expect(nameOfMode(record, first!, at(194, cents))).toBe('monopole');
  for (const cents of [-21, 21, 300]) expect(nameOfMode(record, first!, at(194, cents))).toBeUndefined();
  // Where it went to at the next step, and not where it was.
  expect(nameOfMode(record, second!, 189)).toBe('monopole');
  expect(nameOfMode(record, second!, 194)).toBeUndefined();
  expect(nameOfMode(record, first!, 270)).toBeUndefined();
});

test('under whichever support the step was measured', () => {
  const told = story([
    { modesHz: [194] },
    { modesHz: [120], support: { hold: 'at-node', bridge: 'taped', strung: false } },
  ]);
  const rounds = told.steps.flatMap((step) => step.rounds);
  const pins = [...told.pins, { id: 'p2', stepId: 's0', mode: 'free', frequencyHz: 120 }];
  const both = { ...told, pins, steps: [{ ...told.steps[0]!, rounds }] };
  expect([194, 120, 150].map((hz) => nameOfMode(both, both.steps[0]!, hz))).toEqual(['monopole', 'free', undefined]);
});

test('of two modes within 20 cents of it the nearer gives its name, or none where it has none', () => {
  // 17 cents apart.
  const close = story([{ modesHz: [200, 202] }]);
  const names = (of: typeof close) => [200, 201.4, 202].map((hz) => nameOfMode(of, of.steps[0]!, hz));
  expect(names(close)).toEqual(['monopole', undefined, undefined]);
  const pins = [...close.pins, { id: 'p2', stepId: 's0', mode: 'upper', frequencyHz: 202 }];
  expect(names({ ...close, pins })).toEqual(['monopole', 'upper', 'upper']);
  expect(names({ ...close, pins: pins.toReversed() })).toEqual(['monopole', 'upper', 'upper']);
});
