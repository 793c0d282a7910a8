// Taps of known truth for the bench and the tests. Knows nothing of the estimator.
import FFT from 'fft.js';
import { randomFrom } from '../../src/demo/random.ts';
import { reverberated } from '../../src/demo/room.ts';
import type { Tap } from '../../src/signal/tap.ts';

/** A generator of uniform numbers in [0, 1). */
export type Random = () => number;

/** Seeded generator. Source: mulberry32, public domain (Tommy Ettinger, 2017). */
export function seeded(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Standard normal number. Source: Box & Muller, Ann. Math. Stat. 29 (1958) 610. */
export const normal = (random: Random): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

/** A mode of the truth; amplitude relative to the strongest, onset phase random. */
export interface TrueMode {
  readonly frequencyHz: number;
  readonly q: number;
  readonly levelDb: number;
}

/** The six-mode top of the tap-analysis study. */
export const SIX_MODES: readonly TrueMode[] = [
  { frequencyHz: 98, q: 35, levelDb: 0 },
  { frequencyHz: 172, q: 45, levelDb: -3 },
  { frequencyHz: 205, q: 60, levelDb: -10 },
  { frequencyHz: 236, q: 50, levelDb: -6 },
  { frequencyHz: 318, q: 70, levelDb: -12 },
  { frequencyHz: 420, q: 55, levelDb: -8 },
];

/** Two modes of Q 50, 5 Hz apart, amplitudes 1 : 0.7. */
export const pairAt = (frequencyHz: number): readonly TrueMode[] => [
  { frequencyHz, q: 50, levelDb: 0 },
  { frequencyHz: frequencyHz + 5, q: 50, levelDb: 20 * Math.log10(0.7) },
];

/** One-sided noise spectra, any scale. `room`: flat to 80 Hz, then falling with the cube of frequency. */
export const NOISE_COLOURS = {
  white: () => 1,
  pink: (frequencyHz: number) => 1 / Math.max(20, frequencyHz),
  room: (frequencyHz: number) => 1 / Math.max(80, frequencyHz) ** 3,
} as const;
export type NoiseColour = keyof typeof NOISE_COLOURS;

/** How a tap is disturbed; everything left out is absent. */
export interface Disturbance {
  readonly sampleRateHz?: number;
  /** level of each mode varies evenly by +- this from tap to tap, dB */
  readonly spreadDb?: number;
  readonly noise?: NoiseColour;
  /** a contact of this length, half-sine times noise, three times the strongest mode */
  readonly hitMs?: number;
  /** mains hum: fundamental level re the strongest mode, harmonics 2..5 falling by 6 dB each */
  readonly humDb?: number;
  readonly mainsHz?: number;
  /** further modes that sound but are not asked for (above the band, or the room's) */
  readonly others?: readonly TrueMode[];
  /** standard deviation of a common relative shift of each mode's frequency, drawn by the caller for each hold */
  readonly shifts?: readonly number[];
  /** the room's diffuse answer: amplitude over the direct sound, reverberation time; taps of one seed share the room */
  readonly room?: { readonly tail: number; readonly t60S: number; readonly seed: number };
  readonly beforeS?: number;
  readonly afterS?: number;
}

/** A generated tap and the amplitudes and phases its modes were given. */
export interface TrueTap {
  readonly tap: Tap;
  /** amplitude (strongest mode = about 1) and phase of each mode at the onset */
  readonly strikes: readonly { readonly amplitude: number; readonly phaseRad: number }[];
  /** noise variance per hertz (one-sided) at unit colour, same scale as the amplitudes */
  readonly noisePerHz: number;
  readonly hum?: TrueHum;
}

/** Mains hum that runs through a whole tap: amplitude and phase, at the onset, of each harmonic from the fundamental on. */
export interface TrueHum {
  readonly mainsHz: number;
  readonly harmonics: readonly { readonly amplitude: number; readonly phaseRad: number }[];
}

/** Scale from unit amplitude to full scale: leaves head room for several modes and the hit. */
export const FULL_SCALE = 0.1;

/**
 * One tap: sum of A exp(-pi f t / Q) cos(2 pi f t + phase) from the onset, in noise.
 * @param snrDb power of the strongest mode at onset (A^2 / 2, A = 1) over the noise power in 0-1500 Hz, dB
 */
export function trueTap(modes: readonly TrueMode[], snrDb: number, random: Random, how: Disturbance = {}): TrueTap {
  const rate = how.sampleRateHz ?? 48000;
  const before = Math.round((how.beforeS ?? 0.5) * rate);
  const after = Math.round((how.afterS ?? 1.2) * rate);
  const colour = NOISE_COLOURS[how.noise ?? 'white'];
  let colourPower = 0;
  for (let f = 0.5; f < 1500; f++) colourPower += colour(f);
  const noisePerHz = 0.5 / 10 ** (snrDb / 10) / colourPower;
  const x = colouredNoise(before + after, rate, (f) => noisePerHz * colour(f), random);
  const strikes = modes.map(({ levelDb }) => ({
    amplitude: 10 ** ((levelDb + (how.spreadDb ?? 0) * (2 * random() - 1)) / 20),
    phaseRad: 2 * Math.PI * random(),
  }));
  const sound = how.room === undefined ? x : new Float64Array(x.length);
  modes.forEach((mode, m) => {
    const frequencyHz = mode.frequencyHz * (1 + (how.shifts?.[m] ?? 0));
    ring(sound, before, rate, { ...mode, frequencyHz }, strikes[m]!.amplitude, strikes[m]!.phaseRad);
  });
  for (const other of how.others ?? []) {
    ring(sound, before, rate, other, 10 ** (other.levelDb / 20), 2 * Math.PI * random());
  }
  if (how.hitMs) {
    const length = Math.round((how.hitMs / 1000) * rate);
    for (let n = 0; n < length; n++)
      sound[before + n]! += 3 * Math.sin((Math.PI * n) / length) * (1 + 0.3 * normal(random));
  }
  if (how.room !== undefined) {
    const impulse = new Float64Array(Math.ceil((how.room.t60S + 0.01) * rate)).fill(1, 0, 1);
    const response = reverberated(impulse, rate, { modes: [], ...how.room }, randomFrom(how.room.seed));
    convolved(sound.subarray(before), response).forEach((v, n) => {
      x[before + n]! += v;
    });
  }
  const hum = how.humDb === undefined ? undefined : addHum(x, rate, before, how.humDb, how.mainsHz ?? 50.03, random);
  const samples = Float32Array.from(x, (v) => v * FULL_SCALE);
  return { tap: { samples, sampleRateHz: rate, onsetIndex: before }, strikes, noisePerHz, ...(hum && { hum }) };
}

function addHum(x: Float64Array, rate: number, onset: number, humDb: number, mainsHz: number, random: Random): TrueHum {
  const phase = 2 * Math.PI * random();
  const harmonics = [1, 2, 3, 4, 5].map((k) => {
    const amplitude = 10 ** ((humDb - 6 * (k - 1)) / 20);
    const step = (2 * Math.PI * k * mainsHz) / rate;
    for (let n = 0; n < x.length; n++) x[n]! += amplitude * Math.cos(step * n + k * phase);
    return { amplitude, phaseRad: step * onset + k * phase };
  });
  return { mainsHz, harmonics };
}

/** What a room of this impulse response makes of a sound, as long as the sound. */
function convolved(sound: Float64Array, response: Float64Array): Float64Array {
  const fft = new FFT(2 ** Math.ceil(Math.log2(sound.length + response.length)));
  const [a, b] = [sound, response].map((signal) => {
    const padded = new Float64Array(fft.size);
    padded.set(signal);
    const spectrum = new Float64Array(2 * fft.size);
    fft.realTransform(spectrum, padded);
    fft.completeSpectrum(spectrum);
    return spectrum;
  }) as [Float64Array, Float64Array];
  const product = new Float64Array(2 * fft.size);
  for (let k = 0; k < product.length; k += 2) {
    product[k] = a[k]! * b[k]! - a[k + 1]! * b[k + 1]!;
    product[k + 1] = a[k]! * b[k + 1]! + a[k + 1]! * b[k]!;
  }
  const out = new Float64Array(2 * fft.size);
  fft.inverseTransform(out, product);
  return sound.map((_, n) => out[2 * n]!);
}

export function ring(
  x: Float64Array,
  from: number,
  rate: number,
  mode: TrueMode,
  amplitude: number,
  phaseRad: number,
): void {
  const decay = (Math.PI * mode.frequencyHz) / mode.q / rate;
  const step = (2 * Math.PI * mode.frequencyHz) / rate;
  const zRe = Math.exp(-decay) * Math.cos(step);
  const zIm = Math.exp(-decay) * Math.sin(step);
  let re = amplitude * Math.cos(phaseRad);
  let im = amplitude * Math.sin(phaseRad);
  for (let n = from; n < x.length; n++) {
    x[n]! += re;
    const next = re * zRe - im * zIm;
    im = re * zIm + im * zRe;
    re = next;
  }
}

/** Gaussian noise of a given one-sided spectrum, white drawn sample by sample, coloured by shaping a random spectrum. */
export function colouredNoise(
  length: number,
  rate: number,
  perHz: (frequencyHz: number) => number,
  random: Random,
): Float64Array {
  if (perHz(1) === perHz(0.4 * rate)) {
    const sigma = Math.sqrt((perHz(1) * rate) / 2);
    return Float64Array.from({ length }, () => sigma * normal(random));
  }
  const size = 2 ** Math.ceil(Math.log2(length));
  const spectrum = new Float64Array(2 * size);
  for (let k = 1; k < size / 2; k++) {
    const scale = Math.sqrt((perHz((k * rate) / size) * rate * size) / 4);
    const [re, im] = [scale * normal(random), scale * normal(random)];
    spectrum[2 * k] = re;
    spectrum[2 * k + 1] = im;
    spectrum[2 * (size - k)] = re;
    spectrum[2 * (size - k) + 1] = -im;
  }
  const out = new Float64Array(2 * size);
  new FFT(size).inverseTransform(out, spectrum);
  return Float64Array.from({ length }, (_, n) => out[2 * n]!);
}
