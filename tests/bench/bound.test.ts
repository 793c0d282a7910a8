import { describe, expect, test } from 'vitest';
import { jointBound } from './bound.ts';
import { pairAt, seeded, trueTap } from './tap-signals.ts';

describe('the Cramer-Rao bound of the bench', () => {
  test('of one long decay is sigma_Q / Q = sqrt(8 a / (rho 3000 Hz)), sigma_f = a / (2 pi) of it', () => {
    // Closed form of the white-noise bound for T >> 1 / a with noise counted in 0-1500 Hz; our derivation from the Fisher
    // matrix of a damped sinusoid (Yao & Pandit, IEEE Trans. SP 43 (1995) 878, give the discrete form).
    const modes = [{ frequencyHz: 180, q: 50, levelDb: 0 }];
    const taps = [trueTap(modes, 20, seeded(1))];
    const [bound] = jointBound(modes, taps);
    const a = (Math.PI * 180) / 50;
    const relativeQ = Math.sqrt((8 * a) / (100 * 3000));
    // Sums over samples at 4 kHz against integrals: a / (2 rate) = 0.15 % for each of three factors.
    expect(Math.abs(bound!.lnQ / relativeQ - 1)).toBeLessThan(0.01);
    expect(Math.abs(bound!.frequencyHz / ((a / (2 * Math.PI)) * relativeQ) - 1)).toBeLessThan(0.01);
  });

  test('falls with the square root of the number of like taps', () => {
    const tap = trueTap(pairAt(200), 20, seeded(2));
    const one = jointBound(pairAt(200), [tap]);
    const four = jointBound(pairAt(200), [tap, tap, tap, tap]);
    expect(one[0]!.frequencyHz / four[0]!.frequencyHz).toBeCloseTo(2, 9);
  });

  test('grows by exp(a t) where the first t are left out', () => {
    const modes = [{ frequencyHz: 400, q: 50, levelDb: 0 }];
    const tap = trueTap(modes, 20, seeded(3));
    const late = jointBound(modes, [tap], () => 1, 0.006);
    const growth = Math.exp(((Math.PI * 400) / 50) * 0.006);
    expect(late[0]!.lnQ / jointBound(modes, [tap])[0]!.lnQ / growth).toBeCloseTo(1, 2);
  });
});
