// Intervals of several holds, over enough rounds to count.
import { expect, test } from 'vitest';
import { HALF_WIDTH_95 } from '../../src/quantity/estimate.ts';
import { fitRound } from '../../src/signal/round.ts';
import type { Mode } from '../../src/signal/tap.ts';
import { normal, SIX_MODES, seeded, trueTap } from '../bench/tap-signals.ts';

test.each([2, 3])('with %i holds that shift the modes by a thousandth intervals still hold the truth', (holds) => {
  const rounds = 16;
  let held = 0;
  for (let seed = 0; seed < rounds; seed++) {
    const random = seeded(640 + seed);
    const fit = fitRound(
      Array.from({ length: holds }, () => {
        const shifts = SIX_MODES.map(() => 0.001 * normal(random));
        return [0, 1].map(() => trueTap(SIX_MODES, 40, random, { spreadDb: 3, shifts }).tap);
      }),
    );
    expect(fit.modes).toHaveLength(6);
    for (const { frequencyHz } of SIX_MODES) {
      const off = (mode: Mode) => Math.abs(mode.frequencyHz.value - frequencyHz);
      const nearest = fit.modes.reduce((a, b) => (off(b) < off(a) ? b : a));
      if (off(nearest) < HALF_WIDTH_95 * nearest.frequencyHz.sigma) held++;
    }
  }
  // 96 intervals at 95 %: standard error 2.2 %, three of it; sharing the scatter between modes may make them wide.
  expect(held / (6 * rounds)).toBeGreaterThan(0.884);
});
