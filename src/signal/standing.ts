// What stands out of the leftovers of a fit.
import type { Pole } from './atoms.ts';
import { addPowerSpectrum, powerOfTwoFrom } from './spectrum.ts';
import type { PoleLimits } from './varpro.ts';

/** Decay rates of the matched windows the leftover is searched with, 1/s: reverberation times of 1.7 s to 50 ms. */
const SEARCH_DECAYS_PER_S = [4, 12, 33, 80, 140] as const;
const MOST_AT_ONCE = 6;

/** A candidate mode and the energy it would explain, in noise variances summed over taps. */
export interface Standing {
  readonly pole: Pole;
  readonly height: number;
}

/**
 * Peaks of the tap-summed spectrum of the leftovers under matched windows exp(-a t).
 * For unit noise 2 |sum r exp(-a t) exp(-i w t)|^2 / sum exp(-2 a t) is chi-square with two degrees of freedom a tap.
 * @param leftovers whitened, (K, rows)
 * @param needed    height that counts
 * @returns strongest first, no two within each other's bandwidth, at most six
 */
export function standing(
  leftovers: readonly Float64Array[],
  sampleRateHz: number,
  needed: number,
  limits: PoleLimits,
): Standing[] {
  const found: Standing[] = [];
  for (const decayPerS of SEARCH_DECAYS_PER_S) {
    const sum = matchedSpectrum(leftovers, decayPerS / sampleRateHz);
    const binHz = sampleRateHz / (2 * (sum.length - 1));
    for (let k = 1; k + 1 < sum.length; k++) {
      const height = sum[k]!;
      if (height < needed || height < sum[k - 1]! || height <= sum[k + 1]!) continue;
      const frequencyHz = k * binHz;
      if (frequencyHz < limits.lowestHz || frequencyHz > limits.highestHz) continue;
      if ((Math.PI * frequencyHz) / decayPerS < limits.lowestQ) continue;
      found.push({ pole: { frequencyHz, decayPerS }, height });
    }
  }
  found.sort((a, b) => b.height - a.height);
  const kept: Standing[] = [];
  for (const one of found) {
    if (kept.length < MOST_AT_ONCE && !kept.some((other) => overlap(other.pole, one.pole))) kept.push(one);
  }
  return kept;
}

function overlap(a: Pole, b: Pole): boolean {
  return Math.abs(a.frequencyHz - b.frequencyHz) * 2 * Math.PI < Math.max(a.decayPerS, b.decayPerS);
}

/** Spectrum of the leftovers under exp(-decay n), n up to four time constants, normalised to unit noise. */
function matchedSpectrum(leftovers: readonly Float64Array[], decay: number): Float64Array {
  const rows = Math.min(leftovers[0]!.length, Math.ceil(4 / decay));
  const window = new Float64Array(rows);
  let energy = 0;
  for (let n = 0; n < rows; n++) {
    window[n] = Math.exp(-decay * n);
    energy += window[n]! * window[n]!;
  }
  const sum = new Float64Array(powerOfTwoFrom(1.5 * rows) / 2 + 1);
  for (const r of leftovers) addPowerSpectrum(r, window, 2 / energy, sum);
  return sum;
}
