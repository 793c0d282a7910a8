// What a bad recorder or room does to taps of known truth; the wide table is `npm run bench -- robustness`.
import { expect, test } from 'vitest';
import { CONDITIONS, outcomeOf } from '../bench/robustness.ts';

const under = (name: string, rounds = 1) => outcomeOf(CONDITIONS.find((one) => one.name.startsWith(name))!, rounds);

test.each(['16 kHz', '8 kHz', '8 bits', 'hum 20 dB under', 'hum 20 dB over', 'living room'])(
  '%s: every tap is kept, every mode found to 5e-4, and no other told',
  (name) => {
    const { tapsKept, tapsMade, foundRatio, frequencyError, spurious, loudRooms } = under(name);
    expect([tapsKept, foundRatio, spurious, loudRooms]).toEqual([tapsMade, 1, 0, 0]);
    // At 40 dB the bound is about 0.005 %; a diffuse answer 34 dB down may pull by some hundredths of a bandwidth of 2 %.
    expect(frequencyError).toBeLessThan(0.0005);
  },
);

test('what cannot be promised is refused with its reason', () => {
  expect(under('clipped, top 30 %').refusals).toEqual({ clipped: 4 });
});

test('a hall that rings along is said, and the intervals are as wide as its pull', () => {
  const { loudRooms, frequencyError, coverage } = under('hall');
  expect(loudRooms).toBe(1);
  // The hall pulls by a fifth of a bandwidth, 0.3 % at a Q of 50: what would be wrong is a narrow interval about it.
  expect(frequencyError).toBeGreaterThan(0.001);
  expect(coverage).toBeGreaterThan(0.6);
});
