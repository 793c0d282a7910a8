// Intervals of a mean over a few holds must hold the truth as often as they say, whatever the holds happen to do.
import { describe, expect, test } from 'vitest';
import { randomFrom } from '../../../src/demo/random.ts';
import { HALF_WIDTH_95 } from '../../../src/quantity/estimate.ts';
import { acrossHolds, USUAL_FREQUENCY_SCATTER } from '../../../src/signal/agree/hold-scatter.ts';

const modes = 5;

/** Relative errors of rounds in which every hold shifts all modes together and each reading has its own noise. */
function rounds(holds: number, shift: number, noise: number, count: number) {
  const chance = randomFrom(700 + holds);
  return Array.from({ length: count }, () => {
    const shifts = Array.from({ length: holds }, () => shift * chance.normal());
    return acrossHolds(
      Array.from({ length: modes }, () => ({
        holds: shifts.map((common) => ({ value: common + noise * chance.normal(), variance: noise * noise })),
        inflation: 1,
      })),
      USUAL_FREQUENCY_SCATTER,
    );
  });
}

const coverage = (all: ReturnType<typeof rounds>): number => {
  const every = all.flat();
  return every.filter(({ value, stated }) => Math.abs(value) < HALF_WIDTH_95 * stated).length / every.length;
};

describe('the mean over a few holds', () => {
  // Rounds are independent, the modes of one are not: 3000 rounds leave 0.4 % of standard error on 95 %. Where the holds
  // scatter as usual or less, the interval is on the wide side.
  test.each([
    [2, 1, 0.95],
    [2, 2, 0.93],
    [3, 1, 0.95],
    [3, 2, 0.92],
    [3, 3, 0.9],
    [5, 2, 0.92],
    [5, 6, 0.91],
  ])('%i holds that scatter %i times the usual: the interval holds the truth as often as %d', (holds, times, least) => {
    expect(coverage(rounds(holds, times * USUAL_FREQUENCY_SCATTER, 0.0001, 3000))).toBeGreaterThan(least);
  });

  test('is no wider than a fifth of a per cent of the frequency for two careful holds, a tenth for three', () => {
    const typical = (holds: number) =>
      rounds(holds, USUAL_FREQUENCY_SCATTER, 0.0001, 1000)
        .map(([first]) => HALF_WIDTH_95 * first!.stated)
        .toSorted((a, b) => a - b)[500];
    expect(typical(2)).toBeLessThan(0.002);
    expect(typical(3)).toBeLessThan(0.001);
  });

  test('two holds that agree by chance are not taken for certainty', () => {
    const [pair] = acrossHolds(
      [{ holds: [0, 0].map((value) => ({ value, variance: 1e-12 })), inflation: 1 }],
      USUAL_FREQUENCY_SCATTER,
    );
    expect(pair!.stated).toBeGreaterThan(USUAL_FREQUENCY_SCATTER / 2);
  });

  test('one hold adds no scatter: it says nothing of it', () => {
    const [one] = acrossHolds([{ holds: [{ value: 0, variance: 4e-8 }], inflation: 1 }], USUAL_FREQUENCY_SCATTER);
    expect(one!.stated).toBeCloseTo(2e-4, 12);
  });

  test('by hand: two holds of two modes, one of which moved', () => {
    // Student's t of 2 degrees is 4.30265: the usual counts as a third hold.
    const widening = (4.30265 / 1.959964) ** 2;
    const variance = 1e-8;
    const of = (inflation: number) =>
      acrossHolds(
        [
          { holds: [2e-3, 4e-3].map((value) => ({ value, variance })), inflation },
          { holds: [5e-3, 5e-3].map((value) => ({ value, variance })), inflation: 1 },
        ],
        5e-4,
      );
    const [moved, still] = of(1);
    // Seen beyond the noise: 2e-6 - 1e-8 and -1e-8, half of it each mode's own, half the mean of both, 0.99e-6.
    const scatter = (beyond: number) => (5e-4 ** 2 + (0.99e-6 + beyond) / 2) / 2;
    const stated = (beyond: number) => Math.sqrt(variance / 2 + (scatter(beyond) / 2) * widening);
    expect(moved!.stated / stated(1.99e-6)).toBeCloseTo(1, 5);
    expect(still!.stated / stated(-1e-8)).toBeCloseTo(1, 5);
    expect(moved!.value).toBeCloseTo(3e-3, 12);
    expect(moved!.noiseOnly).toBeCloseTo(Math.sqrt(variance / 2), 12);
    // What the taps of a hold scatter counts as noise in what is stated, and not in what noise alone would leave.
    const [wide] = of(100);
    expect(wide!.noiseOnly).toBe(moved!.noiseOnly);
    expect(wide!.stated).toBeGreaterThan(Math.sqrt((100 * variance) / 2));
  });

  test('a mode that is well known says more of the common scatter than one that is not', () => {
    const of = (known: number, unknown: number) =>
      acrossHolds(
        [
          { holds: [0, 4e-3].map((value) => ({ value, variance: known })), inflation: 1 },
          { holds: [0, 0].map((value) => ({ value, variance: unknown })), inflation: 1 },
        ],
        5e-4,
      )[1]!.stated;
    // The moved one known well: the still one is told to be off as well; known badly: hardly.
    expect(of(1e-9, 4e-6)).toBeGreaterThan(1.2 * Math.sqrt(4e-6 / 2));
    expect(of(4e-6, 1e-9)).toBeLessThan(of(1e-9, 1e-9));
  });
});
