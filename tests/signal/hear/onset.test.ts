import { describe, expect, it } from 'vitest';
import { randomFrom } from '../../../src/demo/random.ts';
import { contactIndex } from '../../../src/signal/hear/onset.ts';
import { PIECES, scene } from '../../bench/listener-sounds.ts';

/** Samples between the first one after contact and the one found, for taps of known onset; coarse guess off by some ms. */
function misses(pieceName: string, snrDb: number, sampleRateHz: number, trials: number): number[] {
  return Array.from({ length: trials }, (_, i) => {
    const chance = randomFrom(1009 * i + snrDb);
    const onsetS = 0.5 + 0.01 * chance.uniform();
    const piece = PIECES[pieceName]!;
    const sound = scene({ piece, sampleRateHz, taps: [[onsetS, 1]], durationS: 0.8, snrDb, seed: i });
    const coarse = Math.round((onsetS + chance.between(-0.001, 0.005)) * sampleRateHz);
    return contactIndex(sound, sampleRateHz, coarse) - Math.ceil(onsetS * sampleRateHz);
  });
}

describe('the first sample of contact', () => {
  it('is found to one sample in clean taps, from 8 to 96 kHz', () => {
    for (const rate of [8000, 44_100, 96_000]) {
      for (const miss of misses('six modes', 60, rate, 8)) expect(Math.abs(miss)).toBeLessThanOrEqual(1);
    }
  });

  it('is found within 0.15 ms at 20 dB', () => {
    for (const miss of misses('one mode', 20, 44_100, 30)) expect(Math.abs(miss) / 44.1).toBeLessThan(0.15);
  });

  it('is the first sample that is not zero after digital silence', () => {
    const sound = new Float32Array(4000);
    for (let n = 2000; n < 4000; n++) sound[n] = Math.sin((n - 1999) / 20) * Math.exp((2000 - n) / 800);
    expect(contactIndex(sound, 8000, 2010)).toBe(2000);
  });

  it('is found in the ring of the tap before', () => {
    const piece = PIECES['one mode']!;
    const taps = [[0.5, 1] as const, [0.62, 1] as const];
    const sound = scene({ piece, sampleRateHz: 44_100, taps, durationS: 1, snrDb: 50, seed: 3 });
    // the ring is a tone that the whitener takes off; 3 samples are 0.07 ms
    expect(Math.abs(contactIndex(sound, 44_100, 27_400) - 27_342)).toBeLessThanOrEqual(3);
  });
});
