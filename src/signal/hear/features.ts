// What a stretch of sound is like: noise, or the few lines of a struck thing. The only place that knows meyda.
import Meyda from 'meyda';
import { Biquad } from '../filter/band.ts';

const FRAME = 1024;
const LOWEST_RATE_HZ = 5500;
const BAND_HZ = [30, 2500] as const;
const RISE = 0.1;
/** The frame begins this long after the contact, whose own noise says nothing of what was struck. */
const AFTER_CONTACT_S = 0.006;
/** Kept clear before the contact, and needed of the room to know its spectrum at all. */
const GUARD_S = 0.004;
const SHORTEST_ROOM_S = 0.02;
/** Bins to either side over which the room's spectrum is averaged: it was read from a few frames only. */
const SMOOTHED = 4;
/** A bin that does not stand out of the room counts as so much of the mean: what lies below the room is not known. */
const LEAST = 0.01;

/**
 * How much like noise 0.15 s of sound after a contact are, from 30 to 2500 Hz: the geometric over the arithmetic mean of
 * their power spectrum less the room's, from near 0 (a tone) to 1 (all bins alike); 0.56 for a burst of white noise.
 * Without the room taken off, one quick mode in a hiss 30 dB below it is a clap: it rings in a few bins, the hiss in all.
 * Where the sound ends early the rest counts as silence; where there is no room before the contact none is taken off.
 * @param samples    (n,), full scale = 1, what lies before the contact being the room
 * @param onsetIndex first sample of contact
 * Source: spectral flatness, A. H. Gray and J. D. Markel, IEEE Trans. Acoust. Speech Signal Process. 22 (1974) 207;
 * spectral subtraction, S. F. Boll, the same 27 (1979) 113 (both from memory).
 */
export function flatness(samples: Float32Array, sampleRateHz: number, onsetIndex: number): number {
  const step = Math.max(1, Math.floor(sampleRateHz / LOWEST_RATE_HZ));
  const rate = sampleRateHz / step;
  const start = onsetIndex + Math.round(AFTER_CONTACT_S * sampleRateHz);
  const thin = thinned(samples, sampleRateHz, step, start % step);
  const frame = (start - (start % step)) / step;
  const heard = powerSpectrum(thin.subarray(frame, frame + FRAME), TAPER);
  const room = roomSpectrum(thin.subarray(0, Math.max(0, Math.floor(onsetIndex / step - GUARD_S * rate))), rate);
  const from = Math.ceil((BAND_HZ[0] * FRAME) / rate);
  const to = Math.min(FRAME / 2 - 1, Math.floor((BAND_HZ[1] * FRAME) / rate));
  const excess = Float64Array.from(heard.subarray(from, to + 1), (power, i) => Math.max(0, power - room[from + i]!));
  const mean = excess.reduce((sum, power) => sum + power, 0) / excess.length;
  if (!(mean > 0)) return 1;
  const logarithms = excess.reduce((sum, power) => sum + Math.log(Math.max(power / mean, LEAST)), 0);
  return Math.exp(logarithms / excess.length);
}

/** The sound between 30 and 2500 Hz, every `step`th sample from one on, with a frame of silence after it. */
function thinned(samples: Float32Array, sampleRateHz: number, step: number, first: number): Float64Array {
  const filters = [
    new Biquad('high-pass', BAND_HZ[0], Math.SQRT1_2, sampleRateHz),
    new Biquad('low-pass', BAND_HZ[1], 0.541196100146197, sampleRateHz),
    new Biquad('low-pass', BAND_HZ[1], 1.3065629648763766, sampleRateHz),
  ];
  const out = new Float64Array(Math.ceil(samples.length / step) + 2 * FRAME);
  for (let n = 0; n < samples.length; n++) {
    let x = samples[n]!;
    for (const filter of filters) x = filter.step(x);
    if (n >= first && (n - first) % step === 0) out[(n - first) / step] = x;
  }
  return out;
}

/** The room's power spectrum at the scale of a tapered frame: the mean of frames half over one another, smoothed. */
function roomSpectrum(room: Float64Array, rate: number): Float64Array {
  const mean = new Float64Array(FRAME / 2);
  const settled = Math.min(room.length, Math.round(SHORTEST_ROOM_S * rate)); // of the filter, which starts at rest
  const length = Math.min(FRAME, room.length - settled);
  if (length < SHORTEST_ROOM_S * rate) return mean;
  const window = Float64Array.from({ length }, (_, n) => Math.sin((Math.PI * (n + 0.5)) / length));
  const starts: number[] = [];
  for (let at = settled; at + length <= room.length; at += Math.ceil(length / 2)) starts.push(at);
  const scale = energyOf(TAPER) / energyOf(window) / starts.length;
  for (const at of starts) {
    const power = powerSpectrum(room.subarray(at, at + length), window);
    for (const k of mean.keys()) mean[k]! += scale * power[k]!;
  }
  return mean.map((power, k) => {
    const near = mean.subarray(Math.max(0, k - SMOOTHED), k + SMOOTHED + 1);
    // a line of hum stands above what is smoothed over its neighbours
    return Math.max(power, near.reduce((sum, other) => sum + other, 0) / near.length);
  });
}

/** Power spectrum of a stretch under a window, the rest of the frame silence: (FRAME / 2,), squares of the sound's unit. */
function powerSpectrum(x: Float64Array, window: Float64Array): Float32Array {
  const frame = new Float32Array(FRAME);
  for (const n of window.keys()) frame[n] = x[n]! * window[n]!;
  // meyda keeps its settings in one global object, and its own window (Hann) would wipe out the start of a tap
  Meyda.bufferSize = FRAME;
  Meyda.windowingFunction = 'rect';
  const power = Meyda.extract('powerSpectrum', frame) as unknown;
  if (!(power instanceof Float32Array)) throw new Error('powerSpectrum: meyda gave none');
  return power;
}

/** Rises as a squared sine over the first tenth of the frame and falls over the last half: less leakage than an edge. */
const TAPER = Float64Array.from({ length: FRAME }, (_, n) => {
  const share = n / FRAME;
  const way = share < RISE ? share / RISE : share > 0.5 ? (1 - share) * 2 : 1;
  return Math.sin((Math.PI / 2) * way) ** 2;
});

const energyOf = (x: Float64Array): number => x.reduce((sum, value) => sum + value * value, 0);
