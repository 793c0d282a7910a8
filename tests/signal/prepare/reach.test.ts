// How high is listened: by lines of known height above a plate's band.
import { expect, test } from 'vitest';
import { bandOf } from '../../../src/signal/prepare/reach.ts';
import { type PlainMode, plainTap, RATE_HZ } from '../plain-taps.ts';

const low: PlainMode = { hz: 300, q: 300, size: 0.1 };
const bandWith = (...modes: readonly PlainMode[]) => bandOf([plainTap([low, ...modes], 1e-5, 1)]);
/** A line so many dB under the low one all along: the same decay, 1/s. */
const line = (hz: number, underDb: number): PlainMode => ({ hz, q: hz, size: 0.1 * 10 ** (-underDb / 20) });

test('a plate is heard to 1200 Hz, a bar to the next top above its highest line', () => {
  expect(bandWith()).toEqual([30, 1200]);
  expect(bandWith(line(1150, 10))).toEqual([30, 1200]);
  expect(bandWith(line(1300, 10))).toEqual([30, 4000]);
  // never beyond 0.45 of the rate
  expect(bandWith(line(4500, 10))).toEqual([30, 0.45 * RATE_HZ]);
});

test('a line counts to 35 dB under the strongest', () => {
  expect(bandWith(line(2000, 33))).toEqual([30, 4000]);
  expect(bandWith(line(2000, 37))).toEqual([30, 1200]);
});

test('what dies within hundredths of a second does not count', () => {
  expect(bandWith({ hz: 2000, q: 40, size: 0.1 })).toEqual([30, 1200]);
});

test('more than eight lines are a strung instrument’s, which is heard as a plate', () => {
  const lines = (count: number) => Array.from({ length: count }, (_, i) => line(1400 + 250 * i, 3));
  expect(bandWith(...lines(7))).toEqual([30, 4000]);
  expect(bandWith(...lines(8))).toEqual([30, 1200]);
});

test('two peaks within 20 Hz are one line', () => {
  const lines = Array.from({ length: 7 }, (_, i) => line(1400 + 250 * i, 3));
  expect(bandWith(...lines, line(1412, 6))).toEqual([30, 4000]);
});
