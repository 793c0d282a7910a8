// What chance does to the curvature along a mode, over many rounds of noise.
import { expect, test } from 'vitest';
import { fitRound } from '../../../src/signal/round.ts';
import { bends, curvatures } from '../../../src/signal/search/curvature.ts';
import type { TrueMode } from '../../bench/tap-signals.ts';
import { jointOf, tapsOf } from './joint-taps.ts';

const ONE: readonly TrueMode[] = [{ frequencyHz: 180, q: 50, levelDb: 0 }];

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;

test('a single mode is split by chance in less than one round of a hundred', () => {
  let split = 0;
  for (let i = 0; i < 100; i++) {
    const { modes } = fitRound([tapsOf(ONE, 20, 50_000 + i)]);
    if (modes.length !== 1 || modes[0]!.resolution !== 'single') split++;
  }
  expect(split).toBeLessThan(2);
});

test('is chi-square in noise, two degrees of freedom a tap; what all taps share has the variance it states', () => {
  const rounds = Array.from({ length: 30 }, (_, i) => {
    const { search, fit } = jointOf(tapsOf(ONE, 30, 100 + i, 3));
    return { energy: curvatures(search, fit)[0]!.energy, shared: bends(search, fit)[0]! };
  });
  // Mean n, standard deviation sqrt(2 n) of one value: four standard errors of 30.
  expect(Math.abs(mean(rounds.map(({ energy }) => energy)) - 6)).toBeLessThan(4 * Math.sqrt(12 / 30));
  for (const order of [0, 1, 2]) {
    const over = rounds.map(
      ({ shared }) => (2 * (shared[order]!.re ** 2 + shared[order]!.im ** 2)) / shared[order]!.variance,
    );
    expect(Math.abs(mean(over) - 2)).toBeLessThan(4 * Math.sqrt(4 / 30));
  }
});
