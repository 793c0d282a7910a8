// Which taps of a round are left out: the odd one, not the one that was struck hardest.
import { expect, test } from 'vitest';
import { fitRound } from '../../../src/signal/round.ts';
import type { Tap } from '../../../src/signal/tap.ts';
import { normal, seeded } from '../../bench/tap-signals.ts';
import { RATE_HZ } from '../plain-taps.ts';

const ONSET = 0.5 * RATE_HZ;

/** Two modes that are no plain decays: each begins sharp by this part and settles as it dies. */
function bentTap(size: number, seed: number, sharp = 0.004, shift = 0): Tap {
  const random = seeded(seed);
  const samples = Float32Array.from({ length: 1.5 * RATE_HZ }, (_, n) => {
    const t = (n - ONSET) / RATE_HZ;
    let sum = 2e-5 * normal(random);
    if (t < 0) return sum;
    for (const hz of [160, 290]) {
      const decay = (Math.PI * hz) / 45;
      const turns = hz * (1 + shift) * (t + (sharp * (1 - Math.exp(-2 * decay * t))) / (2 * decay));
      sum += size * Math.exp(-decay * t) * Math.cos(2 * Math.PI * turns);
    }
    return sum;
  });
  return { samples, sampleRateHz: RATE_HZ, onsetIndex: ONSET };
}

test('a tap struck four times as hard leaves more over and is kept: the others explain all but a little of it', () => {
  const fit = fitRound([[bentTap(0.05, 1), bentTap(0.05, 2), bentTap(0.2, 3), bentTap(0.06, 4)]]);
  expect(fit.setAside).toEqual([]);
  expect(fit.used).toHaveLength(4);
});

test('a tap whose modes lie elsewhere is left out, however hard it was struck', () => {
  for (const size of [0.05, 0.2]) {
    const odd = bentTap(size, 7, 0, 0.02);
    const fit = fitRound([[bentTap(0.1, 4, 0), bentTap(0.1, 5, 0), odd, bentTap(0.1, 6, 0), bentTap(0.1, 8, 0)]]);
    expect(fit.setAside).toEqual([{ hold: 0, tap: 2 }]);
  }
});
