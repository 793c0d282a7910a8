import { describe, expect, it } from 'vitest';
import { randomFrom } from '../../src/demo/random.ts';
import { character } from '../../src/signal/features.ts';

const RATE = 48_000;
const tone = (hz: number) =>
  Float32Array.from({ length: RATE / 2 }, (_, n) => 0.1 * Math.sin((2 * Math.PI * hz * n) / RATE));
const chance = randomFrom(1);
const noise = Float32Array.from({ length: RATE / 2 }, () => 0.1 * chance.normal());

describe('the character of a sound', () => {
  it('is flat for noise and not for a tone, and places the tone at its frequency', () => {
    const ofTone = character(tone(400), RATE, RATE / 10);
    const ofNoise = character(noise, RATE, RATE / 10);
    expect(ofTone.flatness).toBeLessThan(0.05);
    expect(ofNoise.flatness).toBeGreaterThan(0.4);
    // the taper spreads the line over a few bins of 6 Hz, and all leakage draws the mean upwards
    expect(ofTone.centroidHz).toBeGreaterThan(390);
    expect(ofTone.centroidHz).toBeLessThan(440);
    expect(ofTone.crest).toBeGreaterThan(2 * ofNoise.crest);
  });

  it('hears nothing of what lies above the band of the modes', () => {
    const high = tone(9000);
    // 4 poles at 1.9 kHz give 54 dB at 9 kHz
    expect(character(high, RATE, RATE / 10).rms).toBeLessThan(0.005 * character(tone(400), RATE, RATE / 10).rms);
  });

  it('counts what lies beyond the end of the recording as silence', () => {
    const cut = tone(400).subarray(0, RATE / 10 + 100);
    expect(character(cut, RATE, RATE / 10).rms).toBeLessThan(0.3 * character(tone(400), RATE, RATE / 10).rms);
  });
});
