import { inverse, Matrix } from 'ml-matrix';
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

  test('with hum is the bound of the whole record, room and decay, with the mains and its harmonics unknown', () => {
    const modes = [{ frequencyHz: 98, q: 35, levelDb: 0 }];
    const tap = trueTap(modes, 20, seeded(4), { humDb: -20 });
    const { mainsHz, harmonics } = tap.hum!;
    const { amplitude, phaseRad } = tap.strikes[0]!;
    const truth = [
      98,
      Math.log(35),
      amplitude,
      phaseRad,
      mainsHz,
      ...harmonics.flatMap((h) => [h.amplitude, h.phaseRad]),
    ];
    const rateHz = 4000;
    const times = Array.from({ length: 6800 }, (_, n) => (n - 2000) / rateHz);
    const signal = ([f, lnQ, a, p, mains, ...hum]: readonly number[]): number[] =>
      times.map((t) => {
        const ring =
          t < 0 ? 0 : a! * Math.exp((-Math.PI * f! * t) / Math.exp(lnQ!)) * Math.cos(2 * Math.PI * f! * t + p!);
        return harmonics.reduce(
          (sum, _, k) => sum + hum[2 * k]! * Math.cos(2 * Math.PI * (k + 1) * mains! * t + hum[2 * k + 1]!),
          ring,
        );
      });
    const slopes = truth.map((value, i) => {
      const step = 1e-5 * Math.max(1e-3, Math.abs(value));
      const at = (sign: number) => signal(truth.map((v, j) => (j === i ? v + sign * step : v)));
      const [above, below] = [at(1), at(-1)];
      return above.map((x, n) => (x - below[n]!) / (2 * step));
    });
    const perSample = (tap.noisePerHz * rateHz) / 2;
    const fisher = new Matrix(
      slopes.map((x) => slopes.map((y) => x.reduce((sum, v, n) => sum + v * y[n]!, 0) / perSample)),
    );
    const covariance = inverse(fisher);
    const [bound] = jointBound(modes, [tap]);
    // differences of 1e-5 and a spectrum without its first and last bin
    expect(Math.abs(bound!.frequencyHz / Math.sqrt(covariance.get(0, 0)) - 1)).toBeLessThan(1e-3);
    expect(Math.abs(bound!.lnQ / Math.sqrt(covariance.get(1, 1)) - 1)).toBeLessThan(1e-3);
    const { hum: _, ...without } = tap;
    expect(bound!.frequencyHz).toBeGreaterThan(1.01 * jointBound(modes, [without])[0]!.frequencyHz);
  });
});
