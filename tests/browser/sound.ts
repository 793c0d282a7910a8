// Sounds for the fake microphone. Chromium's fake device is lossy in its first half second and repeats its last 10 ms
// for ever, so every sound begins late and ends in silence.
import { randomFrom } from '../../src/demo/random.ts';
import { roomNoise } from '../../src/demo/room.ts';
import { addTap, type PieceMode, quantised } from '../../src/demo/tap-synth.ts';
import { writeWav16 } from '../../src/files/wav-write.ts';

const sampleRateHz = 44_100;
const leadInS = 2;
const silenceS = 0.3;

/** Modes of an invented braced top; the frequencies are the truth the page is held against. */
export const topModes: readonly PieceMode[] = [
  { frequencyHz: 98, q: 35, level: 0.12 },
  { frequencyHz: 172, q: 45, level: 0.085 },
  { frequencyHz: 205, q: 60, level: 0.04 },
  { frequencyHz: 236, q: 50, level: 0.06 },
  { frequencyHz: 318, q: 70, level: 0.03 },
  { frequencyHz: 420, q: 55, level: 0.05 },
];

export interface Taps {
  readonly modes: readonly PieceMode[];
  readonly holds: number;
  readonly tapsPerHold: number;
  readonly tapEveryS?: number;
  readonly pauseS: number;
  /** relative scatter of the frequencies from hold to hold */
  readonly holdScatter?: number;
  readonly seed: number;
}

/** Taps in a quiet room, as a WAV for the fake microphone. */
export function tapsForMicrophone(taps: Taps): Uint8Array {
  const everyS = taps.tapEveryS ?? 2;
  const holdS = taps.tapsPerHold * everyS + taps.pauseS;
  const chance = randomFrom(taps.seed);
  const sound = roomNoise(Math.round((leadInS + taps.holds * holdS) * sampleRateHz), sampleRateHz, 0.0008, chance);
  for (let hold = 0; hold < taps.holds; hold++) {
    const shift = 1 + (taps.holdScatter ?? 0) * chance.normal();
    const modes = taps.modes.map((mode) => ({ ...mode, frequencyHz: mode.frequencyHz * shift }));
    for (let tap = 0; tap < taps.tapsPerHold; tap++) {
      const onsetS = leadInS + hold * holdS + tap * everyS + 0.01 * chance.uniform();
      addTap(
        sound,
        sampleRateHz,
        modes,
        { onsetS, contactS: 0.003, strength: chance.between(0.7, 1.2), spot: [0.5, 0.5], rustle: 0.3 },
        chance,
      );
    }
  }
  return forMicrophone(sound);
}

/** Any sound as a WAV for the fake microphone. */
export function forMicrophone(sound: Float64Array): Uint8Array {
  const whole = new Float64Array(sound.length + Math.round(silenceS * sampleRateHz));
  whole.set(sound);
  return writeWav16([quantised(whole)], sampleRateHz);
}

export { sampleRateHz as microphoneRateHz };
