// What a stretch of sound is like, by meyda's features: noise or tone, dull or bright. The only place that knows meyda.
import Meyda from 'meyda';
import { Biquad } from './band.ts';

/** The character of about 0.15 s of sound between 30 and 2000 Hz. */
export interface Character {
  /** root mean square, full scale = 1 */
  readonly rms: number;
  /** geometric over arithmetic mean of the spectrum, 0 (a tone) to 1 (white noise) */
  readonly flatness: number;
  /** amplitude-weighted mean frequency, Hz */
  readonly centroidHz: number;
  /** largest spectral line over the root mean square of all, 1 or more */
  readonly crest: number;
}

const FRAME = 1024;
const LOWEST_RATE_HZ = 5500;
const RISE = 0.1;

/**
 * The character of the sound from one sample on; where it ends early the rest counts as silence.
 * The sound is band-limited to 30 to 2000 Hz and thinned before, since otherwise the noise of the full band decides all.
 * @param samples (n,), full scale = 1
 * @param from    index of the first sample looked at; the filter warms up on what lies before
 */
export function character(samples: Float32Array, sampleRateHz: number, from: number): Character {
  const step = Math.max(1, Math.floor(sampleRateHz / LOWEST_RATE_HZ));
  const filters = [
    new Biquad('high-pass', 30, Math.SQRT1_2, sampleRateHz),
    new Biquad('low-pass', 1900, 0.541196100146197, sampleRateHz),
    new Biquad('low-pass', 1900, 1.3065629648763766, sampleRateHz),
  ];
  const frame = new Float32Array(FRAME);
  const warmUp = Math.max(0, from - Math.round(0.05 * sampleRateHz));
  for (let n = warmUp; n < Math.min(samples.length, from + FRAME * step); n++) {
    let x = samples[n]!;
    for (const filter of filters) x = filter.step(x);
    const at = (n - from) / step;
    if (n >= from && Number.isInteger(at)) frame[at] = x * taper(at / FRAME);
  }
  // meyda keeps its settings in one global object, and its default window (Hann) would wipe out the start of a tap
  Meyda.bufferSize = FRAME;
  Meyda.sampleRate = sampleRateHz / step;
  Meyda.windowingFunction = 'rect';
  const found = Meyda.extract(['rms', 'spectralFlatness', 'spectralCentroid', 'spectralCrest'], frame);
  return {
    rms: found?.rms ?? 0,
    flatness: finite(found?.spectralFlatness, 1),
    centroidHz: (finite(found?.spectralCentroid, 0) * sampleRateHz) / step / FRAME,
    crest: finite(found?.spectralCrest, 1),
  };
}

/** Rises as a squared sine over the first tenth of the frame and falls over the last half: less leakage than an edge. */
function taper(share: number): number {
  const way = share < RISE ? share / RISE : share > 0.5 ? (1 - share) * 2 : 1;
  return Math.sin((Math.PI / 2) * way) ** 2;
}

function finite(value: number | undefined, otherwise: number): number {
  return value !== undefined && Number.isFinite(value) ? value : otherwise;
}
