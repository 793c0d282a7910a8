// From the recording to the few samples the fit works on: one linear-phase low-pass filter and every D-th sample. The
// grid is laid so that one sample falls exactly on the onset, and each kept sample is a weighted mean of the recording
// within half the filter's length of it, so a sample later than the contact by that much holds nothing of the contact.

/** A decimating filter: symmetric coefficients around `half`, and every `factor`-th sample kept. */
export interface Decimator {
  /** recording rate / decimated rate, a whole number >= 1: the decimated rate is exact, nothing is interpolated */
  readonly factor: number;
  /** impulse response, (2 half + 1,), sum 1 */
  readonly taps: Float64Array;
  /** samples of the recording reached on each side */
  readonly half: number;
  /** recording rate, Hz */
  readonly sampleRateHz: number;
}

/** A recording on the decimated grid. */
export interface DecimatedSound {
  readonly samples: Float64Array;
  /** sample of the grid that lies on the onset; below 0 where the recording begins too late to filter that sample */
  readonly onset: number;
  /** decimated rate, Hz */
  readonly sampleRateHz: number;
}

/** Decimated rate over the top of the reported band: room for the filter to fall, and for modes above the band. */
const RATE_OVER_BAND = 3.325;

/**
 * The filter for a band: pass up to `topHz`, 60 dB down at (rate - topHz), so nothing folds into the band.
 * Kaiser window, beta 5.65 (60 dB), length (60 - 8) / (2.285 dw). Source: Oppenheim & Schafer, Discrete-Time Signal
 * Processing, 3rd ed., section 7.5.3, eqs. 7.75 and 7.76.
 * @param sampleRateHz recording rate, Hz
 * @param topHz        top of the band that must come through unharmed, Hz
 */
export function decimator(sampleRateHz: number, topHz: number): Decimator {
  const factor = Math.max(1, Math.floor(sampleRateHz / (RATE_OVER_BAND * topHz)));
  if (factor === 1) return { factor, taps: Float64Array.of(1), half: 0, sampleRateHz };
  const stopHz = sampleRateHz / factor - topHz;
  const { taps, half } = kaiserLowPass((topHz + stopHz) / 2 / sampleRateHz, (stopHz - topHz) / sampleRateHz);
  return { factor, taps, half, sampleRateHz };
}

/**
 * Low-pass by the Kaiser window, 60 dB.
 * @param cutoff     half-amplitude frequency, cycles per sample, 0 to 0.5
 * @param transition width of the fall from pass to stop, cycles per sample
 */
export function kaiserLowPass(cutoff: number, transition: number): { taps: Float64Array; half: number } {
  const beta = 0.1102 * (60 - 8.7);
  const half = Math.ceil((60 - 8) / (2.285 * 2 * Math.PI * transition) / 2);
  const taps = new Float64Array(2 * half + 1);
  let sum = 0;
  for (let i = -half; i <= half; i++) {
    const ideal = i === 0 ? 2 * cutoff : Math.sin(2 * Math.PI * cutoff * i) / (Math.PI * i);
    const tap = ideal * besselI0(beta * Math.sqrt(1 - (i / half) ** 2));
    taps[i + half] = tap;
    sum += tap;
  }
  return { taps: taps.map((tap) => tap / sum), half };
}

/** Modified Bessel function of order zero by its series. Source: Abramowitz & Stegun, eq. 9.6.12. */
function besselI0(x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; term > 1e-12 * sum; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}

/**
 * The recording on the decimated grid; only samples whose whole filter support lies inside the recording are made.
 * @param samples    recording, (n,)
 * @param onsetIndex index of the first sample of contact; lies on the grid
 */
export function decimate(samples: Float32Array, onsetIndex: number, filter: Decimator): DecimatedSound {
  const { factor, taps, half } = filter;
  const before = Math.floor((onsetIndex - half) / factor);
  const after = Math.floor((samples.length - 1 - half - onsetIndex) / factor);
  const first = onsetIndex - before * factor;
  const count = Math.max(0, before + 1 + after);
  const out = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const centre = first + k * factor;
    let sum = taps[half]! * samples[centre]!;
    for (let i = 1; i <= half; i++) sum += taps[half + i]! * (samples[centre - i]! + samples[centre + i]!);
    out[k] = sum;
  }
  return { samples: out, onset: before, sampleRateHz: filter.sampleRateHz / factor };
}

/** Gain of the filter at a frequency (real: the filter is symmetric). */
export function gainAt(filter: Decimator, frequencyHz: number): number {
  const step = (2 * Math.PI * frequencyHz) / filter.sampleRateHz;
  let sum = filter.taps[filter.half]!;
  for (let i = 1; i <= filter.half; i++) sum += 2 * filter.taps[filter.half + i]! * Math.cos(step * i);
  return sum;
}
