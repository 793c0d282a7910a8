// Taps as a microphone hands them over, and the microphone that does it.
import { type Microphone, MicrophoneError, type MicrophoneListeners } from '../../src/capture/microphone.ts';
import { randomFrom } from '../../src/demo/random.ts';
import { roomNoise } from '../../src/demo/room.ts';
import { addTap } from '../../src/demo/tap-synth.ts';

export const rateHz = 48_000;

/** Some taps of one hold, two seconds apart, in blocks as the microphone hands them over. */
export function blocks(taps: number, seed: number): readonly Float32Array[] {
  const chance = randomFrom(seed);
  const sound = roomNoise((1.5 + 2 * taps) * rateHz, rateHz, 0.0008, chance);
  const modes = [
    { frequencyHz: 98, q: 35, level: 0.12 },
    { frequencyHz: 172, q: 45, level: 0.085 },
    { frequencyHz: 236, q: 50, level: 0.06 },
  ];
  for (let tap = 0; tap < taps; tap++)
    addTap(
      sound,
      rateHz,
      modes,
      { onsetS: 1.2 + 2 * tap, contactS: 0.003, strength: 1, spot: [0.5, 0.5], rustle: 0.3 },
      chance,
    );
  return Array.from({ length: Math.floor(sound.length / 2048) }, (_, i) =>
    Float32Array.from(sound.subarray(2048 * i, 2048 * (i + 1))),
  );
}

/** A microphone that hears what the test says. */
export class StagedMicrophone {
  listeners: MicrophoneListeners | undefined;
  /** left undefined it opens at once */
  opening: Promise<void> | undefined;
  closed = 0;

  readonly open = async (_device: string | undefined, listeners: MicrophoneListeners): Promise<Microphone> => {
    this.listeners = listeners;
    const givenUp = new Promise<never>((_, reject) =>
      listeners.signal?.addEventListener('abort', () => reject(new MicrophoneError('given-up'))),
    );
    await Promise.race([this.opening ?? Promise.resolve(), givenUp]);
    return {
      facts: {
        deviceId: 'd',
        label: 'Test',
        sampleRateHz: rateHz,
        echoCancellation: 'off',
        noiseSuppression: 'off',
        autoGainControl: 'off',
      },
      close: async () => {
        this.closed++;
      },
    };
  };

  /** @param gain above 1 the machine is overdriven */
  async hear(taps: number, seed: number, gain = 1): Promise<void> {
    for (const block of blocks(taps, seed))
      this.listeners?.onBlock(
        block.map((sample) => Math.max(-1, Math.min(1, gain * sample))),
        0,
      );
    await settled();
  }
}

export const settled = () => new Promise((resolve) => setTimeout(resolve, 30));
