// Peaks laid beside modes that are written down: which is taken for which, and what it costs.
import { describe, expect, test } from 'vitest';
import type { BoardMode } from '../../src/wood/board-modes.ts';
import { boardModes } from '../../src/wood/board-modes.ts';
import { alignPeaks, isUnlikeWood } from '../../src/wood/peak-alignment.ts';
import { once } from '../once.ts';

const some = once(
  () =>
    boardModes(
      { lengthM: 0.5, widthM: 0.2, thicknessM: 0.003 },
      { eLongPa: 11e9, eCrossPa: 0.85e9, gPa: 0.76e9, nuLR: 0.372 },
      410,
      undefined,
      { functions: 3, perParity: 1 },
    )[0]!,
);
type Part = 'long' | 'cross' | 'twist' | 'coupling';
const NONE = { long: 0, cross: 0, coupling: 0, twist: 0, shearLong: 0, shearCross: 0 };
/** A mode at a frequency that keeps all its energy in one part. */
const modeAt = (frequencyHz: number, part: Part = 'long'): BoardMode => ({
  ...some(),
  frequencyHz,
  energy: { ...NONE, [part]: 1 },
});
const peakAt = (value: number, q?: number, qSigma = 0) => ({
  frequencyHz: { value, sigma: 0.1 },
  ...(q !== undefined && { q: { value: q, sigma: qSigma } }),
});
const SPREAD = 0.05;
const aligned = (peaksHz: readonly number[], modesHz: readonly number[]) =>
  alignPeaks(
    peaksHz.map((hz) => peakAt(hz)),
    modesHz.map((hz) => modeAt(hz)),
    SPREAD,
  );
/** A frequency so many spreads above. */
const above = (hz: number, spreads: number) => hz * Math.exp(spreads * SPREAD);

describe('by frequency', () => {
  test('each peak takes the mode at its frequency, in order, at no cost', () => {
    expect(aligned([100, 150, 230], [100, 150, 230])).toEqual({ modeOf: [0, 1, 2], cost: 0 });
  });

  test('costs the squares of the distances in spreads, either way', () => {
    const { modeOf, cost } = aligned([above(100, 1), above(200, -2)], [100, 200]);
    expect(modeOf).toEqual([0, 1]);
    expect(cost).toBeCloseTo(1 + 4, 9);
  });

  test('a mode that no peak shows costs two, a peak that no mode explains twelve', () => {
    expect(aligned([150], [100, 150, 230])).toEqual({ modeOf: [1], cost: 4 });
    expect(aligned([100, 125, 150], [100, 150])).toEqual({ modeOf: [0, -1, 1], cost: 12 });
    expect(aligned([], [100, 150])).toEqual({ modeOf: [], cost: 4 });
    expect(aligned([100, 150], [])).toEqual({ modeOf: [-1, -1], cost: 24 });
    expect(aligned([], [])).toEqual({ modeOf: [], cost: 0 });
  });

  test('a pair is made while it is cheaper than both alone: fourteen, 3.74 spreads', () => {
    expect(aligned([above(100, 3.7)], [100]).modeOf).toEqual([0]);
    expect(aligned([above(100, 3.78)], [100])).toEqual({ modeOf: [-1], cost: 14 });
    expect(aligned([above(100, -3.78)], [100]).modeOf).toEqual([-1]);
  });

  test('of two peaks at one mode the nearer takes it, and none is taken twice', () => {
    expect(aligned([above(100, -0.5), above(100, 1)], [100]).modeOf).toEqual([0, -1]);
    expect(aligned([above(100, -1), above(100, 0.5)], [100]).modeOf).toEqual([-1, 0]);
  });

  test('peaks do not cross: the whole is cheapest, not each', () => {
    // Alone the upper peak would take the lower mode: but then the lower has none.
    expect(aligned([above(100, 0.1), above(100, 0.4)], [100, above(100, 2)])).toEqual({
      modeOf: [0, 1],
      cost: expect.closeTo(0.1 ** 2 + 1.6 ** 2, 9),
    });
  });
});

describe('what is barred', () => {
  test('is not taken, the others as they would be', () => {
    const peaks = [peakAt(100), peakAt(150)];
    const modes = [modeAt(100), modeAt(150)];
    const asked: (readonly [number, number])[] = [];
    const { modeOf, cost } = alignPeaks(peaks, modes, SPREAD, (peak, mode) => {
      asked.push([peak, mode.frequencyHz]);
      return peak === 1 && mode === modes[1];
    });
    expect(modeOf).toEqual([0, -1]);
    expect(cost).toBe(14);
    expect(asked).toEqual(
      expect.arrayContaining([
        [0, 100],
        [0, 150],
        [1, 100],
        [1, 150],
      ]),
    );
  });
});

describe('by how it dies away', () => {
  // Published loss factors: 0.0075 along, 0.021 across, 0.014 in twist.
  const usual = { long: 0.0075, cross: 0.021, coupling: 0.021, twist: 0.014 };
  const costOf = (part: Part, q: number, qSigma = 0) =>
    alignPeaks([peakAt(100, q, qSigma)], [modeAt(100, part)], SPREAD).cost;

  test.each(Object.entries(usual) as [Part, number][])('a peak with the usual Q of %s costs nothing', (part, loss) => {
    expect(costOf(part, 1 / loss)).toBeCloseTo(0, 9);
    // One board strays by 0.35 in the logarithm.
    expect(costOf(part, Math.exp(0.35) / loss)).toBeCloseTo(1, 9);
    expect(costOf(part, Math.exp(-0.7) / loss)).toBeCloseTo(4, 9);
  });

  test('a Q that is hardly known counts for as little', () => {
    const q = Math.exp(0.7) / usual.long;
    expect(costOf('long', q, 0.35 * q)).toBeCloseTo(2, 9);
    expect(costOf('long', q, 10 * q)).toBeLessThan(0.01);
  });

  test('tells two modes close by from one another, against their frequencies', () => {
    const modes = [modeAt(100, 'long'), modeAt(104, 'cross')];
    const taken = (q: number) => alignPeaks([peakAt(102, q)], modes, SPREAD).modeOf;
    expect(taken(1 / usual.long)).toEqual([0]);
    expect(taken(1 / usual.cross)).toEqual([1]);
  });

  test('a mode of several parts is damped by their shares', () => {
    const half: BoardMode = { ...modeAt(100), energy: { ...NONE, long: 0.5, cross: 0.3, coupling: -0.1, twist: 0.3 } };
    const loss = 0.5 * usual.long + 0.2 * usual.cross + 0.3 * usual.twist;
    expect(alignPeaks([peakAt(100, 1 / loss)], [half], SPREAD).cost).toBeCloseTo(0, 9);
  });
});

test('what no wood gives is told with the doubt of its Q, on either side', () => {
  // Bounds 16 and 625; the 95 % interval is 1.96 sigma, in the logarithm.
  const at = (q: number, relative: number) => isUnlikeWood(peakAt(100, q, q * relative));
  expect([at(15.9, 0), at(16.1, 0), at(624, 0), at(626, 0)]).toEqual([true, false, false, true]);
  // exp(1.96 x 0.1) = 1.2165: down to 13.15 and up to 760.
  expect([at(13.1, 0.1), at(13.2, 0.1), at(759, 0.1), at(762, 0.1)]).toEqual([true, false, false, true]);
});
