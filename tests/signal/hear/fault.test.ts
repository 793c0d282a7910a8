import { describe, expect, it } from 'vitest';
import { hasDropOut, isClipped } from '../../../src/signal/hear/fault.ts';
import { PIECES, scene } from '../../bench/listener-sounds.ts';

const RATE = 44_100;
const sound = (snrDb: number, piece = PIECES['six modes']!) =>
  scene({ piece, sampleRateHz: RATE, taps: [[0.6, 1]], durationS: 1.5, snrDb, seed: 5 });
const onset = Math.round(0.6 * RATE);
const clippedAt = (x: Float32Array, limit: number) => x.map((y) => Math.max(-limit, Math.min(limit, y)));
const judged = (x: Float32Array) => isClipped(x, onset, onset + 6000);

describe('clipping', () => {
  it('is seen where the tops of a loud tap are cut off, at full scale or below it', () => {
    const loud = sound(60).map((x) => 3 * x);
    const top = loud.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
    expect(
      judged(
        clippedAt(
          loud.map((x) => (x / top) * 1.5),
          1,
        ),
      ),
    ).toBe(true);
    expect(
      judged(
        clippedAt(
          loud.map((x) => (x / top) * 0.6),
          0.4,
        ),
      ),
    ).toBe(true);
  });

  it('is not seen in a tap that just reaches full scale, in 16 or in 8 bits', () => {
    for (const piece of Object.values(PIECES)) {
      const tap = sound(60, piece);
      const top = tap.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
      const full = tap.map((x) => x / top);
      expect(judged(full)).toBe(false);
      expect(judged(full.map((x) => Math.round(x * 127) / 128))).toBe(false);
    }
  });
});

describe('a drop-out', () => {
  const lost = (x: Float32Array, fromS: number, length: number) =>
    x.map((y, n) => (n >= fromS * RATE && n < fromS * RATE + length ? 0 : y));

  it('is 64 exact zeros or more in the ring or in the room before, and not fewer', () => {
    const tap = sound(40);
    expect(hasDropOut(tap, RATE, onset)).toBe(false);
    expect(hasDropOut(lost(tap, 0.65, 441), RATE, onset)).toBe(true);
    expect(hasDropOut(lost(tap, 0.3, 441), RATE, onset)).toBe(true);
    expect(hasDropOut(lost(tap, 0.65, 64), RATE, onset)).toBe(true);
    expect(hasDropOut(lost(tap, 0.65, 40), RATE, onset)).toBe(false);
  });

  it('is not the digital silence before a tap or after its ring', () => {
    const tap = sound(Number.POSITIVE_INFINITY);
    const padded = new Float32Array(tap.length + RATE);
    padded.set(tap);
    expect(hasDropOut(padded, RATE, onset)).toBe(false);
    expect(hasDropOut(lost(sound(40), 0, onset), RATE, onset)).toBe(false);
    expect(hasDropOut(lost(sound(40), 1, RATE), RATE, onset)).toBe(false);
  });

  it('is not a quiet sound that rests at zero between the steps of its number format', () => {
    // swings of 0.8 and of 3 steps of 16 bits, slow enough to stay at zero for hundreds of samples
    for (const steps of [0.8, 3]) {
      const swing = Float32Array.from({ length: 192_000 }, (_, n) => Math.round(steps * Math.sin(n / 900)) / 32_768);
      expect(hasDropOut(swing, 192_000, 100)).toBe(false);
    }
  });
});
