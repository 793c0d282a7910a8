import { describe, expect, it } from 'vitest';
import { randomFrom } from '../../src/demo/random.ts';
import { addHum, reverberated, roomNoise } from '../../src/demo/room.ts';

const RATE = 16_000;

/** Mean power of a sound near a frequency: squared DFT over whole blocks of 0.1 s, averaged over 9 bins around it. */
function powerNear(sound: Float64Array, hz: number): number {
  const block = RATE / 10;
  let sum = 0;
  for (let start = 0; start + block <= sound.length; start += block) {
    for (let bin = -4; bin <= 4; bin++) {
      let [re, im] = [0, 0];
      for (let n = 0; n < block; n++) {
        const window = Math.sin((Math.PI * n) / block) ** 2;
        const angle = (2 * Math.PI * (hz + 10 * bin) * n) / RATE;
        re += window * sound[start + n]! * Math.cos(angle);
        im += window * sound[start + n]! * Math.sin(angle);
      }
      sum += re * re + im * im;
    }
  }
  return sum;
}

describe('room noise', () => {
  it('falls by 9 dB an octave above 80 Hz and has the stated level', () => {
    const noise = roomNoise(8 * RATE, RATE, 0.01, randomFrom(4), -120);
    const rms = Math.sqrt(noise.reduce((sum, x) => sum + x * x, 0) / noise.length);
    expect(rms).toBeCloseTo(0.01, 6);
    const octaves = [300, 600, 1200].map((hz) => 10 * Math.log10(powerNear(noise, hz) / powerNear(noise, 2 * hz)));
    // 9.03 dB is 1/f^3; poles and zeros an octave apart ripple by under 1 dB, and 700 lines scatter by 0.2 dB
    for (const fall of octaves) expect(Math.abs(fall - 9.03)).toBeLessThan(1);
  });

  it('stands on a white floor', () => {
    // 5 dB under the whole the floor lies 24 dB over what 1/f^3 leaves at 3 kHz
    const noise = roomNoise(4 * RATE, RATE, 0.01, randomFrom(4), -5);
    expect(10 * Math.log10(powerNear(noise, 3000) / powerNear(noise, 6000))).toBeCloseTo(0, 0);
  });
});

it('hum is a line at the stated frequency and level, from the moment it is switched on', () => {
  const sound = new Float64Array(RATE);
  addHum(sound, RATE, 50, [0.1], randomFrom(1), 0.5);
  expect(sound.subarray(0, RATE / 2).every((x) => x === 0)).toBe(true);
  const rms = Math.sqrt(sound.reduce((sum, x) => sum + x * x, 0) / (RATE / 2));
  expect(rms).toBeCloseTo(0.1 / Math.SQRT2, 6); // 25 whole periods
});

it('a room rings in its own modes and its tail falls by 60 dB in T60', () => {
  const click = new Float64Array(RATE);
  click[0] = 1;
  const tail = reverberated(click, RATE, { modes: [], t60S: 0.4, tail: 0.5 }, randomFrom(2));
  const energy = (from: number, to: number) => tail.subarray(from * RATE, to * RATE).reduce((sum, x) => sum + x * x, 0);
  expect(energy(0.0001, 1)).toBeCloseTo(0.25, 6);
  // 0.2 s later the energy is 30 dB less; 120 pulses a window of 0.1 s scatter little since their heights are fixed
  expect(10 * Math.log10(energy(0.05, 0.15) / energy(0.25, 0.35))).toBeCloseTo(30, 0);
  const ringing = reverberated(
    click,
    RATE,
    { modes: [{ frequencyHz: 100, q: 20, level: 1 }], t60S: 0.4, tail: 0 },
    randomFrom(2),
  );
  const later = ringing.subarray(RATE / 10);
  const crossings = later.subarray(0, RATE / 2).filter((x, n) => n > 0 && x * later[n - 1]! < 0).length;
  expect(crossings).toBeGreaterThanOrEqual(99);
  expect(crossings).toBeLessThanOrEqual(101);
});
