// What a luthier is told of a fit, figure by figure, by what was put into the sound.
import { describe, expect, test } from 'vitest';
import { fitRound } from '../../../src/signal/round.ts';
import { reportedModes } from '../../../src/signal/tell/report.ts';
import { trustedPoles } from '../../../src/signal/tell/scatter.ts';
import { jointOf, type PlainMode, plainTap } from '../plain-taps.ts';

const QUIET = 2e-5;
const told = (modes: readonly PlainMode[], seed = 1, noise = QUIET) => fitRound([[plainTap(modes, noise, seed)]]).modes;
const near = (modes: ReturnType<typeof told>, hz: number) =>
  modes.find(({ frequencyHz }) => Math.abs(frequencyHz.value - hz) < 2);

describe('a mode', () => {
  const sizes = [0.2, 0.05, 0.1];
  const taps = sizes.map((size, k) =>
    plainTap(
      [{ hz: 180, q: 45, size, phase: 0.7 }, ...(k === 1 ? [{ hz: 420, q: 60, size: 0.05 }] : [])],
      QUIET,
      k + 1,
    ),
  );
  const { modes } = fitRound([taps]);
  const mode = near(modes, 180)!;

  test('has the amplitude it began with in each tap, and the level of their root mean square', () => {
    sizes.forEach((size, k) => {
      expect(mode.amplitudes[k]! / size).toBeCloseTo(1, 2);
    });
    const meanSquare = sizes.reduce((sum, size) => sum + size * size, 0) / 3;
    expect(mode.levelDb).toBeCloseTo(10 * Math.log10(meanSquare), 1);
    expect(mode.resolution).toBe('single');
    expect(Object.keys(mode)).not.toContain('ofPiece');
  });

  test('heard in one tap of three is told, and its level is that over all three', () => {
    expect(near(modes, 420)!.levelDb).toBeCloseTo(10 * Math.log10(0.05 ** 2 / 3), 1);
  });

  test('has the Q of its frequency and decay, its ± those of both', () => {
    const joint = jointOf(taps);
    const holdOf = [0, 0, 0];
    const [told] = reportedModes(joint, holdOf, [30, 1200], [], undefined).modes;
    const { frequencyHz, lnDecay } = trustedPoles(joint, holdOf, 0)
      .map(({ stated }) => stated)
      .find((pole) => Math.abs(pole.frequencyHz.value - 180) < 2)!;
    const q = (Math.PI * frequencyHz.value) / Math.exp(lnDecay.value);
    expect(told!.q.value / q).toBeCloseTo(1, 3);
    expect(told!.q.value / 45).toBeCloseTo(1, 2);
    const part = Math.sqrt(lnDecay.sigma ** 2 + (frequencyHz.sigma / frequencyHz.value) ** 2);
    // what the room may have done is in one and not in the other, and widens
    expect(told!.q.sigma / q).toBeGreaterThan(0.99 * part);
  });
});

test('only modes of the band are told, in ascending order', () => {
  const taps = [
    plainTap(
      [400, 150, 800].map((hz) => ({ hz, q: 50, size: 0.1 })),
      QUIET,
      3,
    ),
  ];
  const all = fitRound([taps]).modes.map(({ frequencyHz }) => Math.round(frequencyHz.value));
  expect(all).toEqual([150, 400, 800]);
  const some = fitRound([taps], { bandHz: [160, 700] }).modes.map(({ frequencyHz }) => Math.round(frequencyHz.value));
  expect(some).toEqual([400]);
});

test('a decay that is too quick to be told from the contact, or too slow to be one, is no mode', () => {
  const beside = { hz: 500, q: 50, size: 0.1 };
  expect(near(told([beside, { hz: 200, q: 7, size: 0.1 }]), 200)).toBeUndefined();
  expect(near(told([beside, { hz: 200, q: 14, size: 0.1 }]), 200)).toBeDefined();
  // pi 200 / 1400 = 0.45 1/s, and 0.9 1/s
  expect(near(told([beside, { hz: 200, q: 1400, size: 0.1 }]), 200)).toBeUndefined();
  expect(near(told([beside, { hz: 200, q: 700, size: 0.1 }]), 200)).toBeDefined();
});

test('a faint mode far from the others is told, and one in the skirts of a loud one is not', () => {
  const loud = { hz: 300, q: 30, size: 0.3 };
  // Lines, level^2 over half the bandwidth squared: the first is 8 dB over the skirt of the loud one at its place, 0.3^2 / 600^2,
  // the second 31 dB under it, 0.3^2 / (5^2 + 30^2). Both have over 25 dB less energy than the loud one.
  expect(near(told([loud, { hz: 900, q: 60, size: 0.0095 }]), 900)).toBeDefined();
  expect(near(told([loud, { hz: 330, q: 60, size: 0.0008 }]), 330)).toBeUndefined();
});

test('a trace within a bandwidth of a mode 30 dB louder is not told, and of one 20 dB louder it is', () => {
  const loud = { hz: 300, q: 30, size: 0.3 };
  // bandwidth 10 Hz; 36 and 14 dB
  expect(told([loud, { hz: 308, q: 60, size: 0.0048 }], 4, 2e-6)).toHaveLength(1);
  expect(told([loud, { hz: 308, q: 60, size: 0.06 }], 4, 2e-6)).toHaveLength(2);
});

test('two modes that noise keeps together are one entry at their middle, as loud as both', () => {
  const pair = [400, 405].map((hz, i) => ({ hz, q: 50, size: 0.1, phase: 2 * i }));
  const entries = Array.from({ length: 12 }, (_, i) => told(pair, 60 + i, 0.012)).filter(
    (modes) => modes[0]?.resolution === 'pair',
  );
  expect(entries.length).toBeGreaterThan(3);
  for (const [mode] of entries) {
    expect(Math.abs(mode!.frequencyHz.value - 402.5)).toBeLessThan(3 * mode!.frequencyHz.sigma);
    expect(Math.abs(mode!.q.value - 50)).toBeLessThan(3.5 * mode!.q.sigma);
    expect(mode!.q.sigma).toBeLessThan(25);
    expect(mode!.waves).toBeUndefined();
    expect(mode!.amplitudes[0]! / 10 ** (mode!.levelDb / 20)).toBeCloseTo(1, 3);
  }
});

test('what a clap has shown to be the room’s is told apart from the piece’s', () => {
  const taps = [
    plainTap(
      [200, 330].map((hz) => ({ hz, q: 40, size: 0.1 })),
      QUIET,
      5,
    ),
  ];
  const room = [{ frequencyHz: { value: 330, sigma: 0.05 }, q: { value: 40, sigma: 0.5 } }];
  const { modes, ofRoom } = fitRound([taps], { roomPoles: room });
  expect(modes.map(({ frequencyHz }) => Math.round(frequencyHz.value))).toEqual([200]);
  expect(ofRoom!.map(({ frequencyHz }) => Math.round(frequencyHz.value))).toEqual([330]);
});
