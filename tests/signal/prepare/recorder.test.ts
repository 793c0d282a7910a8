// Recorders that change the sound are found out, and those that leave it alone are not accused: at most one round in fifty,
// a room that wanders included. All sounds are made here, one recording of several taps at a time.
import FFT from 'fft.js';
import { describe, expect, test } from 'vitest';
import { recorderFault } from '../../../src/signal/prepare/recorder.ts';
import { fitRound } from '../../../src/signal/round.ts';
import type { RecorderFault, Tap } from '../../../src/signal/tap.ts';
import { normal, type Random, ring, SIX_MODES, seeded } from '../../bench/tap-signals.ts';

interface Recording {
  readonly sound: Float64Array;
  readonly rateHz: number;
  readonly onsets: readonly number[];
}

/** So loud is the strongest mode, and so loud the hiss of the room, full scale = 1. */
const LOUD = 0.1;
const HISS = 1e-4;

interface Room {
  readonly rateHz?: number;
  readonly taps?: number;
  /** standard deviation of the level of the noise, dB, with half a second of memory */
  readonly wanderDb?: number;
}

/** Noise drawn once and begun anywhere, which is quick; how it wanders is drawn anew for each recording. */
const drawn = new Float64Array(1_000_000);
const draw = seeded(8000);
for (const n of drawn.keys()) drawn[n] = normal(draw);
const noise = (length: number, random: Random): Float64Array => {
  const from = Math.floor(random() * (drawn.length - length));
  return drawn.slice(from, from + length);
};

/** Taps of a plate in a hissing room, 1.7 s apart, each with a contact that the room answers for 0.3 s. */
function recording(random: Random, { rateHz = 24_000, taps = 8, wanderDb = 0 }: Room = {}): Recording {
  const sound = noise(Math.round((0.9 + 1.7 * taps) * rateHz), random);
  const step = rateHz / 100;
  const memory = Math.exp(-0.01 / 0.5);
  let wander = normal(random);
  for (let from = 0; from < sound.length; from += step) {
    const level = HISS * 10 ** ((wanderDb * wander) / 20);
    for (let n = from; n < Math.min(from + step, sound.length); n++) sound[n]! *= level;
    wander = memory * wander + Math.sqrt(1 - memory ** 2) * normal(random);
  }
  const onsets = Array.from({ length: taps }, (_, k) => Math.round((0.6 + 1.7 * k + 0.1 * random()) * rateHz));
  for (const onset of onsets) {
    const strength = LOUD * (0.8 + 0.4 * random());
    const heard = sound.subarray(0, onset + 1.1 * rateHz);
    for (const mode of SIX_MODES) ring(heard, onset, rateHz, mode, strength * 10 ** (mode.levelDb / 20), 7 * random());
    const contact = noise(0.4 * rateHz, random);
    const fall = 1000 ** (-1 / (0.3 * rateHz));
    let level = 0.003;
    for (const [n, x] of contact.entries()) {
      sound[onset + n]! += (n < 0.003 * rateHz ? 10 : 1) * level * x;
      level *= fall;
    }
  }
  return { sound, rateHz, onsets };
}

/** The taps of a recording as the listener cuts them. @param step of the format, full scale = 1; 0 for none */
const tapsOf = ({ sound, rateHz, onsets }: Recording, step = 0): Tap[] =>
  onsets.map((onset) => {
    const from = onset - 0.5 * rateHz;
    const cut = sound.subarray(from, onset + 1.1 * rateHz);
    return {
      samples: Float32Array.from(cut, (x) => (step === 0 ? x : step * Math.round(x / step))),
      sampleRateHz: rateHz,
      onsetIndex: onset - from,
    };
  });

/** A gain that falls with the level over the threshold, at once, and comes back with this time constant. */
function compressed(heard: Recording, ratio: number, releaseS: number, threshold = 0.06 * LOUD): Recording {
  const hold = Math.exp(-1 / (releaseS * heard.rateHz));
  let level = 0;
  const sound = heard.sound.map((x) => {
    level = Math.max(Math.abs(x), hold * level);
    return x * Math.max(1, level / threshold) ** -ratio;
  });
  return { ...heard, sound };
}

/** Takes from each bin of short frames what the hiss has in the mean, but no more than this. */
function suppressed(heard: Recording, mostDb: number): Recording {
  const size = 512;
  const fft = new FFT(size);
  const window = Float64Array.from({ length: size }, (_, n) => Math.sin((Math.PI * (n + 0.5)) / size));
  const hiss = (HISS * HISS * size) / 2;
  const sound = new Float64Array(heard.sound.length);
  const [frame, spectrum, out] = [new Float64Array(size), new Float64Array(2 * size), new Float64Array(2 * size)];
  for (let at = 0; at + size <= sound.length; at += size / 2) {
    for (let n = 0; n < size; n++) frame[n] = window[n]! * heard.sound[at + n]!;
    fft.realTransform(spectrum, frame);
    fft.completeSpectrum(spectrum);
    for (let k = 0; k < size; k++) {
      const left = 1 - hiss / Math.max(1e-30, spectrum[2 * k]! ** 2 + spectrum[2 * k + 1]! ** 2);
      const gain = Math.max(10 ** (-mostDb / 20), Math.sqrt(Math.max(0, left)));
      spectrum[2 * k]! *= gain;
      spectrum[2 * k + 1]! *= gain;
    }
    fft.inverseTransform(out, spectrum);
    for (let n = 0; n < size; n++) sound[at + n]! += window[n]! * out[2 * n]!;
  }
  return { ...heard, sound };
}

const found = (heard: Recording, step = 0): RecorderFault | undefined => recorderFault(tapsOf(heard, step));

describe('a gain that gives way to the taps', () => {
  test.each([0.1, 0.2, 0.5].flatMap((ratio) => [0.15, 0.4, 1].map((releaseS): [number, number] => [ratio, releaseS])))(
    'of ratio %f, back in %f s',
    (ratio, releaseS) => {
      expect(found(compressed(recording(seeded(8100 + 100 * ratio + releaseS)), ratio, releaseS))).toBe('gain-control');
    },
  );

  test('is found in a room that wanders, and where the samples are rounded', () => {
    const heard = compressed(recording(seeded(8201), { taps: 8, wanderDb: 1 }), 0.3, 0.5);
    expect(found(heard)).toBe('gain-control');
    expect(found(heard, 2 ** -15)).toBe('gain-control');
  });

  test('is found where only the first tap of a round met it at rest', () => {
    expect(found(compressed(recording(seeded(8202)), 0.3, 1, 0.01 * LOUD))).toBe('gain-control');
  });

  test('is found by three taps and not by two', () => {
    const taps = tapsOf(compressed(recording(seeded(8203), { taps: 4 }), 0.3, 0.3)).slice(1);
    expect(recorderFault(taps)).toBe('gain-control');
    expect(recorderFault(taps.slice(1))).toBe(undefined);
  });

  test('is found by three taps that it met differently, where it is deep', () => {
    const faults = [8220, 8221, 8222, 8223].map((seed) =>
      found(compressed(recording(seeded(seed), { taps: 3 }), 0.3, 0.5)),
    );
    expect(faults).toEqual(faults.map(() => 'gain-control'));
  });

  test('cannot be decided without a hiss: below 16 kHz, under the rounding, or with the sound cut short', () => {
    expect(found(compressed(recording(seeded(8204), { rateHz: 12_000 }), 0.3, 0.5))).toBe(undefined);
    const heard = compressed(recording(seeded(8205)), 0.3, 0.5);
    expect(found(heard, 2 ** -10)).toBe(undefined);
    const short = tapsOf(heard).map((tap) => ({ ...tap, samples: tap.samples.subarray(0, 1.2 * 24_000) }));
    expect(recorderFault(short)).toBe(undefined);
  });
});

describe('noise suppression', () => {
  test.each([
    [18, 24_000, 1],
    [18, 8000, 3],
    [18, 48_000, 2],
    [8, 24_000, 1],
    [8, 24_000, 5],
    [8, 16_000, 3],
  ])('of %i dB, at %i Hz, in %i taps', (mostDb, rateHz, taps) => {
    expect(found(suppressed(recording(seeded(8300 + taps), { rateHz, taps }), mostDb))).toBe('noise-suppression');
  });

  test('is found in a room that wanders', () => {
    expect(found(suppressed(recording(seeded(8310), { wanderDb: 1 }), 18))).toBe('noise-suppression');
  });

  test('cannot be decided by a tap with hardly any room before it', () => {
    const taps = tapsOf(suppressed(recording(seeded(8311), { taps: 1 }), 18));
    const late = taps.map((tap) => ({
      ...tap,
      samples: tap.samples.subarray(8000),
      onsetIndex: tap.onsetIndex - 8000,
    }));
    expect(recorderFault(late)).toBe(undefined);
  });
});

/**
 * Writes the noise above 6 kHz anew, frame by frame and band by band of the same energy, as coders with few bits do: every bin of
 * equal size at a chance phase, or only the largest few.
 */
function coded(heard: Recording, way: 'equal' | 'largest', random: Random): Recording {
  const size = 1024;
  const band = 16;
  const fft = new FFT(size);
  const window = Float64Array.from({ length: size }, (_, n) => Math.sin((Math.PI * (n + 0.5)) / size));
  const sound = new Float64Array(heard.sound.length);
  const [frame, spectrum, out] = [new Float64Array(size), new Float64Array(2 * size), new Float64Array(2 * size)];
  for (let at = 0; at + size <= sound.length; at += size / 2) {
    for (let n = 0; n < size; n++) frame[n] = window[n]! * heard.sound[at + n]!;
    fft.realTransform(spectrum, frame);
    for (let first = Math.ceil((6000 * size) / heard.rateHz); first + band < size / 2; first += band) {
      const bins = Array.from({ length: band }, (_, i) => first + i);
      const energy = (of: readonly number[]): number =>
        of.reduce((sum, k) => sum + spectrum[2 * k]! ** 2 + spectrum[2 * k + 1]! ** 2, 0);
      const all = energy(bins);
      const kept = way === 'equal' ? bins : bins.toSorted((a, b) => energy([b]) - energy([a])).slice(0, band / 4);
      const gain = Math.sqrt(all / energy(kept));
      for (const k of bins) {
        const phase = 2 * Math.PI * random();
        const size = Math.sqrt(all / band);
        const isKept = kept.includes(k);
        spectrum[2 * k] = way === 'equal' ? size * Math.cos(phase) : isKept ? gain * spectrum[2 * k]! : 0;
        spectrum[2 * k + 1] = way === 'equal' ? size * Math.sin(phase) : isKept ? gain * spectrum[2 * k + 1]! : 0;
      }
    }
    fft.completeSpectrum(spectrum);
    fft.inverseTransform(out, spectrum);
    for (let n = 0; n < size; n++) sound[at + n]! += window[n]! * out[2 * n]!;
  }
  return { ...heard, sound };
}

describe('lossy coding', () => {
  test.each([
    ['equal', 48_000],
    ['largest', 48_000],
    ['largest', 44_100],
  ] as const)('of bins %s in size, at %i Hz', (way, rateHz) => {
    const random = seeded(8500);
    const heard = recording(random, { rateHz, taps: 3 });
    expect(found(coded(heard, way, random))).toBe('lossy-coding');
    expect(found(heard)).toBe(undefined);
  });

  test('is found in a room that wanders, and not by two taps or under the rounding', () => {
    const random = seeded(8501);
    const heard = coded(recording(random, { rateHz: 48_000, taps: 3, wanderDb: 3 }), 'largest', random);
    expect(found(heard)).toBe('lossy-coding');
    expect(recorderFault(tapsOf(heard).slice(1))).toBe(undefined);
    expect(found(heard, 10 * HISS)).toBe(undefined);
  });
});

describe('a recorder that changes nothing', () => {
  test.each([
    ['a steady room', 9000, {}, 0],
    ['a room that wanders by 1 dB', 9100, { wanderDb: 1 }, 0],
    ['a room that wanders by 3 dB', 9200, { wanderDb: 3 }, 0],
    ['samples rounded to twice the hiss', 9300, {}, 2 * HISS],
    ['the whole band of the ear', 9400, { rateHz: 48_000, taps: 3, wanderDb: 1 }, 0],
  ])('is accused in one round in fifty at the most: %s', (_, seed, room, step) => {
    const rounds = Array.from({ length: 50 }, (_, i) =>
      found(recording(seeded(seed + i), { rateHz: 16_000, taps: 4, ...room }), step),
    );
    expect(rounds.filter((fault) => fault !== undefined).length).toBeLessThanOrEqual(1);
  });

  test('nor where there is nothing to hear', () => {
    expect(recorderFault([])).toBe(undefined);
    expect(recorderFault([{ samples: new Float32Array(72_000), sampleRateHz: 48_000, onsetIndex: 24_000 }])).toBe(
      undefined,
    );
  });
});

test('a round says what its recorder did, and of a clean one nothing', () => {
  const heard = recording(seeded(8400), { rateHz: 16_000, taps: 3 });
  expect(fitRound([tapsOf(compressed(heard, 0.3, 0.3))]).recorder).toBe('gain-control');
  expect(Object.keys(fitRound([tapsOf(heard)]))).not.toContain('recorder');
});
