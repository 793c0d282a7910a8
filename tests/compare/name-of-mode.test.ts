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
