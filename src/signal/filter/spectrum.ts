// The only home of the FFT. Arrays are Float64Array throughout; a real transform gives bins 0 .. size / 2.
import FFT from 'fft.js';
import type { Tap } from '../tap.ts';

interface Plan {
  readonly fft: FFT;
  readonly input: Float64Array;
  readonly output: Float64Array;
}

const plans = new Map<number, Plan>();

function planOf(size: number): Plan {
  let plan = plans.get(size);
  if (plan === undefined) {
    plan = { fft: new FFT(size), input: new Float64Array(size), output: new Float64Array(2 * size) };
    plans.set(size, plan);
  }
  return plan;
}

/** Smallest power of two not below n (at least 2). */
export function powerOfTwoFrom(n: number): number {
  return 2 ** Math.max(1, Math.ceil(Math.log2(n)));
}

/** Hann's window, 0 at neither end, (size,). Source: Harris, Proc. IEEE 66 (1978) 51, eq. 27, sampled in the middles of its steps. */
export const hann = (size: number): Float64Array =>
  Float64Array.from({ length: size }, (_, n) => Math.sin((Math.PI * (n + 0.5)) / size) ** 2);

/**
 * Adds the squared magnitude of the discrete Fourier transform of x times a window, padded with zeros, to `sum`.
 * @param x      samples, at least as many as the window
 * @param window (n,), n <= size
 * @param scale  factor on what is added
 * @param sum    bins 0..size/2, (size / 2 + 1,), size a power of two; bin k lies at k / size of the sampling rate
 */
export function addPowerSpectrum(x: Float64Array, window: Float64Array, scale: number, sum: Float64Array): void {
  const size = 2 * (sum.length - 1);
  const { fft, input, output } = planOf(size);
  for (let n = 0; n < window.length; n++) input[n] = window[n]! * x[n]!;
  input.fill(0, window.length);
  fft.realTransform(output, input);
  for (let k = 0; k < sum.length; k++) sum[k]! += scale * (output[2 * k]! ** 2 + output[2 * k + 1]! ** 2);
}

/** Resolution of the display spectrum, and the stretch of decay it looks at. */
const DISPLAY_BIN_HZ = 0.5;
const DISPLAY_LENGTH_S = 1.2;
/** Start of the display window after the onset: the hit itself would lift the whole curve. */
const DISPLAY_START_S = 0.006;

/**
 * Mean spectrum of taps, for the eye (the fit does not use it).
 * Each tap's decay from 6 ms after the onset under a falling half-cosine (no rise: the loud early part is where the
 * quick modes are), levelled to equal energy so that a hard tap does not drown a soft one, powers averaged, and each
 * half-hertz bin shows the highest value inside it, so that no peak is lost between bins.
 * @param taps at least one; where their sampling rates differ (a file beside the microphone), each counts alike
 * @returns frequencies of the bins up to a quarter of the lowest rate, Hz, and levels, dB re the strongest, both (n,)
 * @throws RangeError if there is no tap
 */
export function averageSpectrum(taps: readonly Tap[]): { frequencyHz: Float64Array; levelDb: Float64Array } {
  if (taps.length === 0) throw new RangeError('averageSpectrum: 0 taps, need at least 1');
  const rates = [...new Set(taps.map((tap) => tap.sampleRateHz))];
  const ofRates = rates.map((rateHz) => peaksInBins(taps.filter((tap) => tap.sampleRateHz === rateHz)));
  const bins = Math.min(...ofRates.map(({ power }) => power.length));
  const frequencyHz = new Float64Array(bins);
  const power = new Float64Array(bins);
  for (let b = 0; b < bins; b++) {
    let most = 0;
    for (const one of ofRates) {
      power[b]! += one.power[b]!;
      if (one.power[b]! < most) continue;
      most = one.power[b]!;
      frequencyHz[b] = one.frequencyHz[b]!;
    }
  }
  const top = power.reduce((m, p) => Math.max(m, p), Number.MIN_VALUE);
  return { frequencyHz, levelDb: power.map((p) => 10 * Math.log10(Math.max(p / top, 1e-12))) };
}

/** The highest value of each half-hertz bin over taps of one rate, and where in the bin it lies; powers are summed. */
function peaksInBins(taps: readonly Tap[]): { readonly frequencyHz: Float64Array; readonly power: Float64Array } {
  const { sampleRateHz } = taps[0]!;
  const length = Math.ceil(DISPLAY_LENGTH_S * sampleRateHz);
  const size = powerOfTwoFrom(Math.max(2 * length, (2 * sampleRateHz) / DISPLAY_BIN_HZ));
  const sum = new Float64Array(size / 2 + 1);
  for (const tap of taps) {
    const from = tap.onsetIndex + Math.round(DISPLAY_START_S * sampleRateHz);
    const x = Float64Array.from(tap.samples.subarray(from, from + length));
    let energy = 0;
    for (let n = 0; n < x.length; n++) energy += x[n]! * x[n]!;
    // The sums of a finer sampling are larger by the rates' ratio, squared in the transform and once in the energy.
    if (energy > 0) addPowerSpectrum(x, fallingHalfCosine(x.length), 1 / (energy * sampleRateHz), sum);
  }
  const bins = Math.floor(sampleRateHz / 4 / DISPLAY_BIN_HZ);
  const frequencyHz = new Float64Array(bins);
  const power = new Float64Array(bins);
  const binOf = (hz: number) => Math.ceil((hz * size) / sampleRateHz);
  for (let b = 0; b < bins; b++) {
    let at = binOf(b * DISPLAY_BIN_HZ);
    for (let k = at; k < binOf((b + 1) * DISPLAY_BIN_HZ); k++) if (sum[k]! > sum[at]!) at = k;
    frequencyHz[b] = (at * sampleRateHz) / size;
    power[b] = sum[at]!;
  }
  return { frequencyHz, power };
}

function fallingHalfCosine(length: number): Float64Array {
  const window = new Float64Array(length);
  for (let n = 0; n < length; n++) window[n] = 0.5 + 0.5 * Math.cos((Math.PI * n) / length);
  return window;
}
