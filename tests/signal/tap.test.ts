// What is said of taps and of a Q, whoever asks.
import { expect, test } from 'vitest';
import { isMeasured } from '../../src/quantity/estimate.ts';
import { isTapRate, knownModes, type Tap, tapsByHold } from '../../src/signal/tap.ts';

test('sound from 8 to 192 kHz can be read', () => {
  expect([7999, 8000, 44_100, 192_000, 192_001].map(isTapRate)).toEqual([false, true, true, true, false]);
});

test('taps come by hold, in their order; one whose sound is missing leaves its hold', () => {
  const [a, b, c] = [1, 2, 3].map(
    (onsetIndex): Tap => ({ samples: new Float32Array(9), sampleRateHz: 8000, onsetIndex }),
  );
  expect(
    tapsByHold([
      [0, a],
      [2, b],
      [0, c],
      [3, undefined],
    ]),
  ).toEqual([[a, c], [], [b], []]);
  expect(tapsByHold([])).toEqual([]);
});

test('a Q says nothing through a gain or a suppressor, and what it said through a lossy coder', () => {
  const modes = [{ q: { value: 40, sigma: 1 }, levelDb: -3 }];
  expect(knownModes({ modes })).toEqual(modes);
  for (const recorder of ['gain-control', 'noise-suppression'] as const) {
    const [mode] = knownModes({ modes, recorder });
    expect(mode).toMatchObject({ levelDb: -3, q: { value: 40 } });
    expect(isMeasured(mode!.q)).toBe(false);
  }
  expect(knownModes({ modes, recorder: 'lossy-coding' })).toEqual(modes);
});
