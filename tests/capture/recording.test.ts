import { afterEach, describe, expect, test, vi } from 'vitest';
import { readRecording } from '../../src/capture/recording.ts';
import { writeWav, writeWav16 } from '../../src/files/wav-write.ts';

afterEach(() => vi.unstubAllGlobals());

const ramp = (frames: number, most: number) => Float32Array.from({ length: frames }, (_, n) => (most * (n % 64)) / 64);
const bytesOf = (wav: Uint8Array): Uint8Array<ArrayBuffer> => new Uint8Array(wav);
/** The WAV file with one field of its head changed. */
const spoilt = (wav: Uint8Array, at: number, value: number) => {
  const bytes = bytesOf(wav);
  new DataView(bytes.buffer).setUint16(at, value, true);
  return bytes;
};

/** A browser that decodes what its coder knows; as the Web Audio API (W3C) has it, what is decoded is taken away. */
function browserDecoding(sound: readonly Float32Array[] | Error, rateHz = 48_000) {
  const asked: number[] = [];
  vi.stubGlobal(
    'OfflineAudioContext',
    class {
      constructor(_channels: number, _frames: number, sampleRateHz: number) {
        asked.push(sampleRateHz);
      }
      async decodeAudioData(bytes: ArrayBuffer) {
        structuredClone(bytes, { transfer: [bytes] });
        if (sound instanceof Error) throw sound;
        return {
          numberOfChannels: sound.length,
          sampleRate: rateHz,
          getChannelData: (c: number) => {
            const channel = sound[c];
            if (channel === undefined) throw new DOMException('', 'IndexSizeError');
            return channel;
          },
        };
      }
    },
  );
  return asked;
}
const compressed = () => bytesOf(new TextEncoder().encode('some other kind of sound'));

describe('a WAV file', () => {
  test('is read at its own rate, its louder channel sample by sample', async () => {
    const loud = ramp(500, 0.5);
    const read = await readRecording(bytesOf(writeWav([ramp(500, 0.1), loud], 96_000)));
    expect(read).toEqual({ kind: 'recording', samples: loud, sampleRateHz: 96_000, breaksOff: false });
  });

  test('that ends before its sound does is read as far as it goes, and says so', async () => {
    const whole = writeWav([ramp(500, 0.5)], 48_000);
    const data = new TextDecoder('latin1').decode(whole).indexOf('data');
    const read = await readRecording(bytesOf(whole.slice(0, data + 8 + 4 * 100)));
    expect(read).toEqual({
      kind: 'recording',
      samples: ramp(500, 0.5).slice(0, 100),
      sampleRateHz: 48_000,
      breaksOff: true,
    });
  });

  test.each([7999, 192_001])('at %i Hz is none we can read', async (rateHz) => {
    const read = await readRecording(bytesOf(writeWav([ramp(500, 0.5)], rateHz)));
    expect(read).toEqual({ kind: 'refused', because: 'rate' });
  });

  const plain = writeWav16([ramp(500, 0.5)], 48_000);
  test.each([
    ['that holds no sound', bytesOf(writeWav([new Float32Array(0)], 48_000)), 'empty'],
    ['with samples that are no numbers', bytesOf(writeWav([Float32Array.of(0, Number.NaN)], 48_000)), 'no-numbers'],
    ['in a coding nobody knows', spoilt(plain, 20, 0x55), 'not-audio'],
    ['without channels', spoilt(plain, 22, 0), 'not-audio'],
    ['without its format', bytesOf(plain.slice(0, 20)), 'not-audio'],
    ['of no bytes', new Uint8Array(0), 'empty'],
  ])('%s', async (_, bytes, because) => {
    expect(await readRecording(bytes)).toEqual({ kind: 'refused', because });
  });

  test('of more than an hour and a half is more than anyone taps', async () => {
    const data = new TextDecoder('latin1').decode(plain).indexOf('data');
    const frames = 2 ** 28 + 1;
    const long = new Uint8Array(data + 8 + frames);
    long.set(plain.slice(0, data + 8));
    const view = new DataView(long.buffer);
    // Samples of one byte: block, bits, and how many there are.
    view.setUint16(32, 1, true);
    view.setUint16(34, 8, true);
    view.setUint32(data + 4, frames, true);
    view.setUint32(4, long.length - 8, true);
    expect(await readRecording(long)).toEqual({ kind: 'refused', because: 'too-long' });
  });
});

describe('any other file', () => {
  test('is decoded by the browser at 48 kHz; the bytes stay with the caller, and the louder channel is taken', async () => {
    const loud = ramp(300, 0.5);
    const asked = browserDecoding([ramp(300, 0.2), loud]);
    const bytes = compressed();
    expect(await readRecording(bytes)).toEqual({
      kind: 'recording',
      samples: loud,
      sampleRateHz: 48_000,
      breaksOff: false,
    });
    expect(asked).toEqual([48_000]);
    expect(bytes).toEqual(compressed());
  });

  test('that the browser cannot decode is no sound; a fault of ours is not taken for that', async () => {
    browserDecoding(new DOMException('', 'EncodingError'));
    expect(await readRecording(compressed())).toEqual({ kind: 'refused', because: 'not-audio' });
    const fault = new TypeError('not the file');
    browserDecoding(fault);
    await expect(readRecording(compressed())).rejects.toBe(fault);
  });

  test('without a channel or without a sample is empty', async () => {
    browserDecoding([]);
    expect(await readRecording(compressed())).toEqual({ kind: 'refused', because: 'empty' });
    browserDecoding([new Float32Array(0)]);
    expect(await readRecording(compressed())).toEqual({ kind: 'refused', because: 'empty' });
  });

  test('of twenty minutes is taken, a longer one is not', async () => {
    const rateHz = 8000;
    const frames = 20 * 60 * rateHz;
    browserDecoding([new Float32Array(frames)], rateHz);
    expect((await readRecording(compressed())).kind).toBe('recording');
    browserDecoding([new Float32Array(frames + 1)], rateHz);
    expect(await readRecording(compressed())).toEqual({ kind: 'refused', because: 'too-long' });
  });
});
