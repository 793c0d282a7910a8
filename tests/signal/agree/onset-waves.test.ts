// Every mode keeps what it sounded with in every tap, sign and all: what was put in, by plain trigonometry.
import { expect, test } from 'vitest';
import { fitRound } from '../../../src/signal/round.ts';
import type { Tap } from '../../../src/signal/tap.ts';
import { normal, seeded } from '../../bench/tap-signals.ts';

const RATE_HZ = 48_000;
const ONSET = 24_000;
const MODES = [
  { hz: 140, q: 45, phase: 0.3 },
  { hz: 233, q: 60, phase: -1.2 },
] as const;
/** Size of each mode in each tap; the second mode is struck on its other side in the second tap. */
const SIZES = [
  [0.2, 0.1],
  [0.15, -0.08],
  [0.1, 0.02],
] as const;

function tapOf(sizes: readonly number[], seed: number): Tap {
  const random = seeded(seed);
  const samples = Float32Array.from({ length: 2 * RATE_HZ }, (_, n) => {
    const t = (n - ONSET) / RATE_HZ;
    const ring = MODES.reduce(
      (sum, { hz, q, phase }, m) =>
        sum + sizes[m]! * Math.exp((-Math.PI * hz * t) / q) * Math.cos(2 * Math.PI * hz * t + phase),
      0,
    );
    return (t < 0 ? 0 : ring) + 1e-5 * normal(random);
  });
  return { samples, sampleRateHz: RATE_HZ, onsetIndex: ONSET };
}

const fit = fitRound([SIZES.map((sizes, k) => tapOf(sizes, 90 + k))]);

test.each([
  ['lower', 0],
  ['upper', 1],
] as const)('the %s mode has its cosine, its sine and their sign in every tap', (_, m) => {
  const mode = fit.modes[m]!;
  expect(mode.frequencyHz.value).toBeCloseTo(MODES[m]!.hz, 1);
  expect(mode.waves).toHaveLength(3);
  SIZES.forEach((sizes, k) => {
    const { cosine, sine } = mode.waves![k]!;
    // A cos(w t + p) = A cos p cos w t - A sin p sin w t. 1 %: noise 80 dB down, and the onset lies on the grid.
    expect(Math.abs(cosine - sizes[m]! * Math.cos(MODES[m]!.phase))).toBeLessThan(0.01 * Math.abs(sizes[m]!));
    expect(Math.abs(sine + sizes[m]! * Math.sin(MODES[m]!.phase))).toBeLessThan(0.01 * Math.abs(sizes[m]!));
    // Both are kept to six figures.
    expect(mode.amplitudes[k]! / Math.hypot(cosine, sine)).toBeCloseTo(1, 5);
  });
});
