import { describe, expect, test } from 'vitest';
import { decimate, decimator, gainAt } from '../../../src/signal/filter/decimate.ts';

const tone = (frequencyHz: number, rate: number, onset: number, length: number): Float32Array =>
  Float32Array.from({ length }, (_, n) => Math.cos((2 * Math.PI * frequencyHz * (n - onset)) / rate));

describe.each([8000, 22050, 44100, 48000, 96000, 192000])('decimation from %i Hz', (rate) => {
  const filter = decimator(rate, 1200);

  test('lands near 4 kHz by a whole factor', () => {
    expect(Number.isInteger(filter.factor)).toBe(true);
    expect(rate / filter.factor).toBeGreaterThan(3900);
    expect(rate / filter.factor).toBeLessThan(4700);
  });

  test('passes the band and lets nothing fold into it', () => {
    for (let f = 30; f <= 1200; f += 30) {
      // 60 dB Kaiser design, 0.1 %; Kaiser's length formula is an empirical one, some dB short: 0.2 %.
      expect(Math.abs(gainAt(filter, f) - 1)).toBeLessThan(0.002);
      expect(Math.abs(gainAt(filter, rate / filter.factor - f))).toBeLessThan(0.002);
    }
  });

  test('keeps a sample on the onset and delays nothing', () => {
    const onset = Math.round(0.2 * rate) + 3;
    const { samples, onset: row, sampleRateHz } = decimate(tone(300, rate, onset, rate), onset, filter);
    const gain = gainAt(filter, 300);
    for (let k = -50; k < 50; k++) {
      // Single precision samples: 6e-8 each, averaged.
      expect(samples[row + k]).toBeCloseTo(gain * Math.cos((2 * Math.PI * 300 * k) / sampleRateHz), 5);
    }
  });
});

test('a recording that begins at the onset has its grid there, before the first filtered sample', () => {
  const filter = decimator(48000, 1200);
  const { samples, onset } = decimate(tone(300, 48000, 0, 4800), 0, filter);
  expect(onset).toBeLessThan(0);
  expect(samples[0]).toBeCloseTo(gainAt(filter, 300) * Math.cos((2 * Math.PI * 300 * -onset) / 4000), 5);
});
