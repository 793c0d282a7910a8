import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loudestChannel, readWav } from '../../src/files/wav.ts';
import { writeWav, writeWav16 } from '../../src/files/wav-write.ts';

const read = (bytes: Uint8Array) => {
  const audio = readWav(bytes);
  if (audio.kind !== 'audio') throw new Error(`refused: ${audio.because}`);
  return audio;
};

/** A WAV file put together chunk by chunk, sizes as given. */
function wav(...chunks: readonly (readonly [id: string, bytes: readonly number[], statedSize?: number])[]): Uint8Array {
  const letters = (text: string) => [...text].map((letter) => letter.charCodeAt(0));
  const size = (n: number) => [n & 255, (n >>> 8) & 255, (n >>> 16) & 255, (n >>> 24) & 255];
  const body = chunks.flatMap(([id, bytes, stated]) => [
    ...letters(id),
    ...size(stated ?? bytes.length),
    ...bytes,
    ...(bytes.length % 2 === 1 ? [0] : []),
  ]);
  return Uint8Array.from([...letters('RIFF'), ...size(body.length + 4), ...letters('WAVE'), ...body]);
}

/** The 16 bytes of a plain format chunk at 8000 Hz. */
function format(tag: number, channels: number, bits: number): number[] {
  const block = (channels * bits) / 8;
  const rate = 8000 * block;
  return [
    tag & 255,
    tag >>> 8,
    channels,
    0,
    64,
    31,
    0,
    0,
    rate & 255,
    (rate >>> 8) & 255,
    rate >>> 16,
    0,
    block,
    0,
    bits,
    0,
  ];
}

describe('reading WAV', () => {
  it('gives the samples, texts and cues of the golden file as SciPy 1.17 reads them', () => {
    const audio = read(readFileSync(new URL('../reference/golden-sample.wav', import.meta.url)));
    const samples = audio.channels[0]!;
    expect([audio.sampleRateHz, audio.channels.length, samples.length]).toEqual([48_000, 1, 4800]);
    // scipy.io.wavfile.read of the same bytes: exact, both are 32-bit floats
    expect([samples[1], samples[65]]).toEqual([0.023533601313829422, 0.9296069145202637]);
    expect(audio.cues).toEqual([
      { sample: 100, label: 'tap 1' },
      { sample: 2400, label: 'tap 2' },
    ]);
    expect(audio.info).toEqual({ INAM: 'Top, step 7', ICRD: '2026-11-25', ISFT: 'demo', ICMT: '{"fs":48000}' });
    expect(audio.truncated).toBe(false);
  });

  it('scales every width of PCM to full scale 1', () => {
    const cases: [number, number[], number[]][] = [
      [8, [128, 192, 0], [0, 0.5, -1]],
      [16, [0, 0, 0, 64, 0, 128], [0, 0.5, -1]],
      [24, [0, 0, 0, 0, 0, 64, 0, 0, 128], [0, 0.5, -1]],
      [32, [0, 0, 0, 0, 0, 0, 0, 64, 0, 0, 0, 128], [0, 0.5, -1]],
    ];
    for (const [bits, bytes, expected] of cases) {
      expect([...read(wav(['fmt ', format(1, 1, bits)], ['data', bytes])).channels[0]!]).toEqual(expected);
    }
  });

  it('reads 64-bit floats, and refuses a file with samples that are no numbers or too large for what is kept', () => {
    const floats = (...values: readonly number[]) =>
      readWav(wav(['fmt ', format(3, 1, 64)], ['data', [...new Uint8Array(Float64Array.from(values).buffer)]]));
    expect(floats(0.25, 1, -0.75)).toMatchObject({ kind: 'audio', channels: [Float32Array.of(0.25, 1, -0.75)] });
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 1e300])
      expect([bad, floats(0.25, bad)]).toEqual([bad, { kind: 'refused', because: 'no-numbers' }]);
    const single = [...new Uint8Array(Float32Array.of(0.5, Number.NaN).buffer)];
    expect(readWav(wav(['fmt ', format(3, 1, 32)], ['data', single]))).toEqual({
      kind: 'refused',
      because: 'no-numbers',
    });
  });

  it('takes the encoding of an extensible file from its sub-format', () => {
    const extensible = [...format(0xfffe, 1, 16), 22, 0, 16, 0, 4, 0, 0, 0, 1, 0, ...new Array(14).fill(0)];
    expect([...read(wav(['fmt ', extensible], ['data', [0, 64]])).channels[0]!]).toEqual([0.5]);
  });

  it('steps over unknown chunks of odd length and keeps channels apart', () => {
    const bytes = wav(
      ['JUNK', [1, 2, 3]],
      ['fmt ', format(1, 2, 16)],
      ['bext', [9]],
      ['data', [0, 64, 0, 192, 0, 32, 0, 0]],
    );
    expect(read(bytes).channels.map((row) => [...row])).toEqual([
      [0.5, 0.25],
      [-0.5, 0],
    ]);
  });

  it('gives what is there of a file that breaks off, and says so', () => {
    const whole = writeWav16([Float32Array.of(0.5, 0.25, -0.5, 0.125)], 8000);
    const audio = read(whole.subarray(0, whole.length - 3));
    expect([[...audio.channels[0]!], audio.truncated]).toEqual([[0.5, 0.25], true]);
  });

  it('refuses what is no sound, each with its reason', () => {
    const reason = (bytes: Uint8Array) => {
      const result = readWav(bytes);
      return result.kind === 'refused' ? result.because : result.kind;
    };
    expect(reason(new Uint8Array(0))).toBe('not-wav');
    expect(reason(wav(['data', [0, 0]]))).toBe('no-format');
    expect(reason(wav(['fmt ', format(1, 1, 16)]))).toBe('no-data');
    expect(reason(wav(['fmt ', format(1, 1, 16)], ['data', []]))).toBe('no-data');
    expect(reason(wav(['fmt ', format(2, 1, 16)], ['data', [0, 0]]))).toBe('unknown-encoding');
    expect(reason(wav(['fmt ', format(1, 0, 16)], ['data', [0, 0]]))).toBe('bad-format');
    // a size of 4 GB in a file of 48 bytes: only what is there is read
    expect(reason(wav(['fmt ', format(1, 1, 16)], ['data', [0, 64], 0xffffffff]))).toBe('audio');
  });

  it('never throws, whatever the bytes', () => {
    const golden = readFileSync(new URL('../reference/golden-sample.wav', import.meta.url)).subarray(0, 400);
    const damage = fc.array(fc.tuple(fc.nat(399), fc.nat(255)), { maxLength: 12 });
    fc.assert(
      fc.property(damage, fc.nat(400), (changes, length) => {
        const bytes = Uint8Array.from(golden);
        for (const [at, value] of changes) bytes[at] = value;
        expect(['audio', 'refused']).toContain(readWav(bytes.subarray(0, length)).kind);
      }),
      { seed: 1, numRuns: 500 },
    );
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
        expect(['audio', 'refused']).toContain(readWav(bytes).kind);
      }),
      { seed: 2, numRuns: 300 },
    );
  });
});

describe('writing WAV', () => {
  it('is undone by reading: samples, texts and cues', () => {
    const samples = fc.float32Array({ noNaN: true, noDefaultInfinity: true, minLength: 1, maxLength: 50 });
    const words = fc.string({ unit: 'grapheme', maxLength: 12 }).filter((text) => !text.includes('\0'));
    fc.assert(
      fc.property(samples, fc.integer({ min: 8000, max: 192_000 }), words, words, (row, rate, title, label) => {
        const notes = { info: { INAM: title, ISFT: 'Platewright' }, cues: [{ sample: 3, label }] };
        const audio = read(writeWav([row, row.map((x) => -x)], rate, notes));
        expect(audio.channels.map((channel) => [...channel])).toEqual([[...row], [...row.map((x) => -x)]]);
        expect([audio.sampleRateHz, audio.info, audio.cues]).toEqual([rate, notes.info, notes.cues]);
      }),
      { seed: 3, numRuns: 100 },
    );
  });

  it('refuses no channel, unequal channels and a rate that is no whole number', () => {
    expect(() => writeWav([], 8000)).toThrow('0 channels');
    expect(() => writeWav([new Float32Array(1), new Float32Array(2)], 8000)).toThrow('channels of 1,2 samples');
    expect(() => writeWav([new Float32Array(1)], 44_100.5)).toThrow('sampleRateHz 44100.5');
  });
});

it('loudestChannel takes the channel with the most energy and mixes nothing', () => {
  const quiet = Float32Array.of(0.1, -0.1);
  const loud = Float32Array.of(0.1, 0.3);
  expect(loudestChannel([quiet, loud])).toBe(loud);
  expect(loudestChannel([loud, quiet])).toBe(loud);
});
