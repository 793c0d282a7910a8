import { describe, expect, it } from 'vitest';
import { flatness } from '../../../src/signal/hear/features.ts';
import { evenly, roomOf } from '../../bench/struck.ts';
import { seeded } from '../../bench/tap-signals.ts';

const RATE = 48_000;
const CONTACT = RATE / 2;
const sound = (at: (n: number) => number) => Float32Array.from({ length: RATE }, (_, n) => at(n));
const tone = (hz: number) => (n: number) => (n < CONTACT ? 0 : 0.1 * Math.sin((2 * Math.PI * hz * n) / RATE));
const hiss = roomOf('white', RATE, RATE, seeded(1));

describe('how much like noise a sound is', () => {
  it('is little for a tone, wherever in the band it lies, and much for a burst of noise', () => {
    for (const hz of [60, 400, 2093]) expect([hz, flatness(sound(tone(hz)), RATE, CONTACT) < 0.03]).toEqual([hz, true]);
    // geometric over arithmetic mean of the power of white noise: e^-0.5772 = 0.56 (the mean of ln of an exponential
    // deviate is minus Euler’s constant), within three standard errors of some 250 independent bins
    const burst = flatness(
      sound((n) => (n < CONTACT ? 0 : 0.1 * hiss[n]!)),
      RATE,
      CONTACT,
    );
    expect(burst).toBeGreaterThan(0.45);
    expect(burst).toBeLessThan(0.7);
  });

  it('does not count the room: a quick mode in a hiss stays a tone, a clap in the same hiss stays noise', () => {
    const random = seeded(2);
    const quick = (n: number) => (n < CONTACT ? 0 : Math.exp((CONTACT - n) / (0.01 * RATE)));
    for (let i = 0; i < 5; i++) {
      const hz = evenly(random, 100, 900);
      const ring = (n: number) => quick(n) * Math.sin((2 * Math.PI * hz * (n - CONTACT)) / RATE);
      const clap = roomOf('white', RATE, RATE, random);
      // 0.01 is 37 dB under the start of the ring, but over 0.15 s and all bins it holds most of the lines
      const tapped = sound((n) => 0.1 * ring(n) + 0.001 * hiss[n]!);
      const clapped = sound((n) => 0.1 * quick(n) * clap[n]! + 0.001 * hiss[n]!);
      expect(flatness(tapped, RATE, CONTACT)).toBeLessThan(0.05);
      expect(flatness(clapped, RATE, CONTACT)).toBeGreaterThan(0.3);
    }
  });

  it('hears nothing of what lies above the band of the modes', () => {
    const both = sound((n) => tone(400)(n) + (n < CONTACT ? 0 : tone(9000)(n)));
    expect(flatness(both, RATE, CONTACT)).toBeCloseTo(flatness(sound(tone(400)), RATE, CONTACT), 2);
  });

  it('is a number for silence and for a recording that ends at its contact', () => {
    for (const length of [RATE, CONTACT + 10]) expect(flatness(new Float32Array(length), RATE, CONTACT)).toBe(1);
  });
});
