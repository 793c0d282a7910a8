// The averaged power spectrum of taps in plain units, for programs that read spectra. The one drawn on screen, levelled
// tap by tap, is in spectrum.ts; the fit uses neither.
import { addPowerSpectrum, powerOfTwoFrom } from './filter/spectrum.ts';
import type { Tap } from './tap.ts';

/** A one-sided power spectrum. */
export interface PowerSpectrum {
  readonly firstHz: number;
  readonly stepHz: number;
  /** FS^2, (n,) from 0 to half the sampling rate: a steady tone that falls on a bin shows its mean square there */
  readonly power: Float64Array;
}

/**
 * Mean over the taps of the periodogram from first contact on: rectangular window as long as the shortest of the decays,
 * zeros to a power of two. No window but the rectangle, for any other would add to the damping that a reader takes from
 * the width of a peak; no tap is levelled.
 * @param taps at least one, all of one sampling rate, each with a sample from its contact on
 * @throws RangeError if there is no tap, a tap has no decay, or rates differ
 * Source: Schuster 1898, periodogram; scaling as `scipy.signal.periodogram(..., window='boxcar', scaling='spectrum')`.
 */
export function averagePowerSpectrum(taps: readonly Tap[]): PowerSpectrum {
  const [first] = taps;
  if (first === undefined) throw new RangeError('averagePowerSpectrum: 0 taps, need at least 1');
  const { sampleRateHz } = first;
  const other = taps.find((tap) => tap.sampleRateHz !== sampleRateHz);
  if (other !== undefined)
    throw new RangeError(`averagePowerSpectrum: rates ${sampleRateHz} and ${other.sampleRateHz} Hz, need one rate`);
  const length = Math.min(...taps.map((tap) => tap.samples.length - tap.onsetIndex));
  if (length < 1) throw new RangeError(`averagePowerSpectrum: a decay of ${length} samples, need at least 1`);
  const size = powerOfTwoFrom(length);
  const power = new Float64Array(size / 2 + 1);
  const rectangle = new Float64Array(length).fill(1);
  const scale = 2 / (length * length * taps.length);
  for (const { samples, onsetIndex } of taps)
    addPowerSpectrum(Float64Array.from(samples.subarray(onsetIndex, onsetIndex + length)), rectangle, scale, power);
  // The ends of the band stand for one bin, all others for two.
  power[0]! /= 2;
  power[size / 2]! /= 2;
  return { firstHz: 0, stepHz: sampleRateHz / size, power };
}
