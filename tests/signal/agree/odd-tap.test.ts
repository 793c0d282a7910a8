// Which tap of a fit is the odd one: by where its modes lie next to those of its own hold, and by what it leaves over.
import { expect, test } from 'vitest';
import { disagreeing } from '../../../src/signal/agree/set-aside.ts';
import { jointOf, plainTap } from '../plain-taps.ts';

/** One tap of two modes for each shift, as a part of the frequency. */
const tapsAt = (shifts: readonly number[], size = 0.1) =>
  shifts.map((shift, k) =>
    plainTap(
      [
        { hz: 180 * (1 + shift), q: 45, size },
        { hz: 330 * (1 + shift), q: 60, size: 0.6 * size, phase: 1 },
      ],
      1e-4,
      300 + k,
    ),
  );
const oddOf = (shifts: readonly number[], holdOf: readonly number[] = shifts.map(() => 0)) =>
  disagreeing(jointOf(tapsAt(shifts), holdOf), holdOf);

test('of taps that agree none is odd, and of two nobody can tell which', () => {
  expect(oddOf([0, 0, 0, 0])).toEqual([]);
  expect(oddOf([0, 0.01])).toEqual([]);
});

test('of four or five the one that lies elsewhere is, above or below', () => {
  for (const shift of [0.01, -0.01]) {
    expect(oddOf([0, shift, 0, 0])).toEqual([1]);
    expect(oddOf([0, 0, 0, shift, 0])).toEqual([3]);
  }
});

test('a hold that lies elsewhere as a whole has no odd tap', () => {
  expect(oddOf([0, 0, 0, 0, 0, 0.004, 0.004, 0.004], [0, 0, 0, 0, 0, 1, 1, 1])).toEqual([]);
});

test('no more than a third of the taps are left out', () => {
  expect(oddOf([0, 0.01, 0, -0.02, 0, 0.03, 0]).length).toBeLessThanOrEqual(2);
});
