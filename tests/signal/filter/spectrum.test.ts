import { expect, test } from 'vitest';
import { averageSpectrum } from '../../../src/signal/filter/spectrum.ts';
import type { Tap } from '../../../src/signal/tap.ts';

/** Rings at two frequencies, sampled at a rate. */
function tapAt(sampleRateHz: number, hz: readonly [number, number], gain = 1): Tap {
  const samples = Float32Array.from({ length: 2 * sampleRateHz }, (_, n) => {
    const t = n / sampleRateHz;
    return gain * Math.exp(-8 * t) * (Math.sin(2 * Math.PI * hz[0] * t) + 0.3 * Math.sin(2 * Math.PI * hz[1] * t));
  });
  return { samples, sampleRateHz, onsetIndex: 0 };
}

/** The level at a frequency, dB, by the nearest bin. */
function levelAt({ frequencyHz, levelDb }: ReturnType<typeof averageSpectrum>, hz: number): number {
  const near = [...frequencyHz.keys()].filter((k) => Math.abs(frequencyHz[k]! - hz) < 1);
  return Math.max(...near.map((k) => levelDb[k]!));
}

test('a second ring of 0.3 the size lies 10.5 dB below the first: 20 log10 0.3', () => {
  const spectrum = averageSpectrum([tapAt(48_000, [180, 350])]);
  expect(levelAt(spectrum, 180)).toBe(0);
  expect(levelAt(spectrum, 350)).toBeCloseTo(20 * Math.log10(0.3), 0);
});

test.each([16_000, 44_100, 48_000, 96_000])(
  'taps of 48 kHz and of %i Hz count alike, and nothing is hidden above a quarter of the lower rate',
  (rateHz) => {
    const spectrum = averageSpectrum([tapAt(48_000, [180, 350]), tapAt(rateHz, [240, 410], 0.1)]);
    // Levelled to equal energy: neither the gain nor the rate of a tap changes what it weighs.
    expect(Math.abs(levelAt(spectrum, 240) - levelAt(spectrum, 180))).toBeLessThan(0.1);
    expect(Math.abs(levelAt(spectrum, 410) - levelAt(spectrum, 350))).toBeLessThan(0.2);
    expect(spectrum.frequencyHz.length).toBe(Math.min(48_000, rateHz) / 4 / 0.5);
    for (const [b, hz] of spectrum.frequencyHz.entries()) expect(Math.floor(hz / 0.5 + 1e-9)).toBe(b);
  },
);

test('no tap at all is a mistake of the caller', () => {
  expect(() => averageSpectrum([])).toThrow(/^averageSpectrum: 0 taps/);
});
