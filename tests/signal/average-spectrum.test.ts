import { describe, expect, test } from 'vitest';
import { averagePowerSpectrum } from '../../src/signal/average-spectrum.ts';
import type { Tap } from '../../src/signal/tap.ts';

const decay = (length: number, level: number, fall: number, turn: number, phase: number) =>
  Float64Array.from({ length }, (_, n) => level * Math.exp(-n / fall) * Math.cos(turn * n + phase));
const tapOf = (sound: Float64Array, quiet = 0, sampleRateHz = 8000): Tap => ({
  samples: Float32Array.from([...new Array<number>(quiet).fill(0.3), ...sound]),
  sampleRateHz,
  onsetIndex: quiet,
});

describe('the averaged power spectrum', () => {
  test('is the mean of the periodograms that SciPy gives, whatever lies before the contact', () => {
    const { firstHz, stepHz, power } = averagePowerSpectrum([
      tapOf(decay(100, 1, 40, 0.3, 0), 7),
      tapOf(decay(140, 0.5, 25, 0.31, 0.4), 31),
    ]);
    expect([firstHz, stepHz, power.length]).toEqual([0, 8000 / 128, 65]);
    // scipy.signal.periodogram(x, window='boxcar', nfft=128, detrend=False, scaling='spectrum') of the first 100 samples
    // of each, averaged: SciPy 1.17.1, NumPy 2.4.6.
    const scipy = new Map([
      [0, 1.4607706948639281e-5],
      [1, 7.269020106488585e-5],
      [5, 0.0060283455272548084],
      [6, 0.03783114066392835],
      [7, 0.015107117330450786],
      [20, 0.00016705561144623608],
      [63, 3.1889752517516825e-5],
      [64, 1.5821466761404043e-5],
    ]);
    // Samples are kept in 32 bits: 6e-8 of the largest amplitude, beside lines down to 1e-2 of it.
    for (const [bin, value] of scipy) expect(Math.abs(power[bin]! / value - 1)).toBeLessThan(3e-5);
  });

  test('a tone on a bin shows its mean square there: half the square of its amplitude', () => {
    const tone = Float64Array.from({ length: 256 }, (_, n) => 0.6 * Math.cos((2 * Math.PI * 32 * n) / 256));
    const { power, stepHz } = averagePowerSpectrum([tapOf(tone)]);
    expect(power[32]).toBeCloseTo(0.18, 7);
    expect(32 * stepHz).toBe(1000);
  });

  test('sums to the mean square where the decay fills the transform (Parseval)', () => {
    const sound = Float64Array.from({ length: 512 }, (_, n) => Math.sin(n * n * 0.013));
    const { power } = averagePowerSpectrum([tapOf(sound)]);
    const meanSquare = sound.reduce((sum, x) => sum + x * x, 0) / 512;
    expect(power.reduce((sum, p) => sum + p, 0)).toBeCloseTo(meanSquare, 6);
  });

  test.each([
    ['no tap', []],
    ['two rates', [tapOf(new Float64Array(9)), tapOf(new Float64Array(9), 0, 48_000)]],
    ['a tap without decay', [{ ...tapOf(new Float64Array(9)), onsetIndex: 9 }]],
  ])('%s is refused', (_what, taps) => {
    expect(() => averagePowerSpectrum(taps)).toThrow(/^averagePowerSpectrum: .*need/);
  });
});
