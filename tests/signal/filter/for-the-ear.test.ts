import { expect, test } from 'vitest';
import { forTheEar } from '../../../src/signal/filter/for-the-ear.ts';
import type { Tap } from '../../../src/signal/tap.ts';

const sampleRateHz = 8000;
/** Tones that ring down from the strike at half a second. */
const tap = (tones: readonly (readonly [hz: number, level: number])[], decayS = 0.3): Tap => {
  const onsetIndex = sampleRateHz / 2;
  return {
    sampleRateHz,
    onsetIndex,
    samples: Float32Array.from({ length: 4 * sampleRateHz }, (_, i) => {
      const t = (i - onsetIndex) / sampleRateHz;
      return t < 0
        ? 0
        : tones.reduce((sum, [hz, level]) => sum + level * Math.exp(-t / decayS) * Math.sin(2 * Math.PI * hz * t), 0);
    }),
  };
};
const rms = (x: Float32Array) => Math.sqrt(x.reduce((sum, v) => sum + v * v, 0) / x.length);
/** Strength of a tone over the first half second, by correlation. */
const toneIn = (x: Float32Array, hz: number) => {
  const n = sampleRateHz / 2;
  const at = (of: (p: number) => number) =>
    x.subarray(0, n).reduce((sum, v, i) => sum + v * of((2 * Math.PI * hz * i) / sampleRateHz), 0) / n;
  return Math.hypot(at(Math.sin), at(Math.cos));
};

test('a loud and a quiet tap are played equally loud, from just before the strike, and end softly', () => {
  const [loud, quiet] = [forTheEar(tap([[200, 0.8]])), forTheEar(tap([[200, 0.01]]))];
  const judged = (x: Float32Array) => rms(x.subarray(160, 160 + 1600));
  expect(judged(loud.samples)).toBeCloseTo(judged(quiet.samples), 6);
  expect(judged(loud.samples)).toBeCloseTo(0.1, 3);
  // 20 ms of lead, two seconds of ring.
  expect(loud.samples).toHaveLength(sampleRateHz * 2.02);
  expect(loud.samples.subarray(0, 160).every((v) => v === 0)).toBe(true);
  expect(Math.abs(loud.samples.at(-1)!)).toBeLessThan(1e-3);
});

test('a strike that would clip is played softer instead, and silence stays silence', () => {
  const short = forTheEar(tap([[1000, 0.5]], 0.004)).samples;
  expect(short.reduce((most, v) => Math.max(most, Math.abs(v)), 0)).toBeCloseTo(0.9, 3);
  expect(forTheEar(tap([])).samples.every((v) => v === 0)).toBe(true);
});

test('of two modes one is heard alone: the other is at least 20 dB down', () => {
  const both = tap([
    [180, 0.2],
    [240, 0.2],
  ]);
  for (const [own, other] of [
    [180, 240],
    [240, 180],
  ] as const) {
    const { samples } = forTheEar(both, own);
    expect(toneIn(samples, own) / toneIn(samples, other)).toBeGreaterThan(10);
  }
  const whole = forTheEar(both).samples;
  expect(toneIn(whole, 180) / toneIn(whole, 240)).toBeCloseTo(1, 1);
});
