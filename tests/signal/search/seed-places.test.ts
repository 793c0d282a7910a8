// The first guesses of the poles, before any fit: near enough to each decay that was put in, in place and in decay.
import { expect, test } from 'vitest';
import { bandEdges, seedPoles } from '../../../src/signal/search/seeds.ts';
import { normal, seeded } from '../../bench/tap-signals.ts';

const RATE_HZ = 4000;
const POLES = [
  { frequencyHz: 62, decayPerS: 5 },
  { frequencyHz: 148, decayPerS: 11 },
  { frequencyHz: 171, decayPerS: 14 },
  { frequencyHz: 395, decayPerS: 25 },
  { frequencyHz: 880, decayPerS: 50 },
];

/** Whitened decays in unit noise, each tap with sizes and phases of its own. */
const taps = (count: number) => {
  const random = seeded(77);
  return Array.from({ length: count }, () => {
    const out = Float64Array.from({ length: 1.2 * RATE_HZ }, () => normal(random));
    for (const { frequencyHz, decayPerS } of POLES) {
      const [size, phase] = [60 + 80 * random(), 2 * Math.PI * random()];
      for (let n = 0; n < out.length; n++) {
        const t = n / RATE_HZ;
        out[n]! += size * Math.exp(-decayPerS * t) * Math.cos(2 * Math.PI * frequencyHz * t + phase);
      }
    }
    return out;
  });
};

test.each([1, 3])('of %s taps every decay has a guess within a fifth of its bandwidth and of its decay', (count) => {
  const seeds = seedPoles(taps(count), RATE_HZ, bandEdges(15, 0.4985 * RATE_HZ));
  for (const { frequencyHz, decayPerS } of POLES) {
    const near = seeds.filter(
      (seed) =>
        Math.abs(seed.frequencyHz - frequencyHz) < (0.2 * decayPerS) / Math.PI &&
        Math.abs(Math.log(seed.decayPerS / decayPerS)) < 0.2,
    );
    expect(near.length, `${frequencyHz} Hz`).toBeGreaterThan(0);
  }
  // what the noise adds is shed by the fit, but there are not many
  expect(seeds.length).toBeLessThan(40);
});

test('in noise alone hardly anything is guessed', () => {
  const random = seeded(78);
  const noise = [1, 2, 3].map(() => Float64Array.from({ length: 1.2 * RATE_HZ }, () => normal(random)));
  expect(seedPoles(noise, RATE_HZ, bandEdges(15, 0.4985 * RATE_HZ)).length).toBeLessThan(8);
});
