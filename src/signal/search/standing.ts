// What stands out of the leftovers of a fit.

import { addPowerSpectrum, powerOfTwoFrom } from '../filter/spectrum.ts';
import type { Pole } from '../pole.ts';
import type { PoleLimits } from './varpro.ts';

/** Decay rates of the matched windows the leftover is searched with, 1/s: reverberation times of 1.7 s to 50 ms. */
const SEARCH_DECAYS_PER_S = [4, 12, 33, 80, 140] as const;
const MOST_AT_ONCE = 6;

/** Energies (in noise variances, summed over taps) that a mode must explain to be believed. */
export interface Needed {
  /** more than noise would: chi-square quantile, two degrees of freedom a tap, Bonferroni over the places in the band */
  readonly againstNoise: number;
  /** times the mean of the room's answer, which is the same in all taps: quantile of its two degrees of freedom over their mean */
  readonly overAnswer: number;
  /** more than a decay that is not quite exponential would: a small part of the energy above the noise */
  readonly againstImperfection: number;
}

/** A candidate mode and the energy it would explain, in noise variances summed over taps. */
export interface Standing {
  readonly pole: Pole;
  readonly height: number;
}

/**
 * Peaks of the tap-summed spectrum of the leftovers under matched windows exp(-a t).
 * For unit noise 2 |sum r exp(-a t) exp(-i w t)|^2 / sum exp(-2 a t) is chi-square with two degrees of freedom a tap.
 * @param leftovers whitened, (K, rows)
 * @param needed    height that counts; raised where more than noise is left around a peak: the room's answer
 * @returns strongest first, no two within each other's bandwidth, at most six
 */
export function standing(
  leftovers: readonly Float64Array[],
  sampleRateHz: number,
  needed: Needed,
  limits: PoleLimits,
): Standing[] {
  const found: Standing[] = [];
  for (const decayPerS of SEARCH_DECAYS_PER_S) {
    const sum = matchedSpectrum(leftovers, decayPerS / sampleRateHz);
    const binHz = sampleRateHz / (2 * (sum.length - 1));
    const aroundHz = Math.max(AROUND_HZ, AROUND_HZ_PER_DECAY * decayPerS);
    const around = levelAround(sum, Math.ceil(aroundHz / binHz), leftovers.length);
    for (let k = 1; k + 1 < sum.length; k++) {
      const height = sum[k]!;
      if (
        height <
          Math.max(
            needed.againstNoise + needed.overAnswer * (around(k) - 1) * 2 * leftovers.length,
            needed.againstImperfection,
          ) ||
        height < sum[k - 1]! ||
        height <= sum[k + 1]!
      )
        continue;
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

/**
 * Half width of the neighbourhood a peak must stand out of: wide against a mode (a quick mode's own skirt would else be
 * its neighbourhood), narrow against the room's answer. Hz, and Hz for each 1/s of the window's decay.
 */
const AROUND_HZ = 60;
const AROUND_HZ_PER_DECAY = 6;

/** Bins a median is taken of, evenly spread: neighbouring bins say the same. */
const MEDIAN_OF = 160;

/**
 * Level of the leftovers around a bin in noise variances, never below 1: the median of its neighbourhood, stretch by
 * stretch. What a room sends back of a tap is noise that starts loud and dies away; its peaks are no modes.
 * Source: order-statistic constant false alarm rate, Rohling, IEEE Trans. AES-19 (1983) 608; median of chi-square with n
 * degrees of freedom n (1 - 2 / (9 n))^3, Wilson & Hilferty, Proc. Natl. Acad. Sci. 17 (1931) 684.
 */
function levelAround(spectrum: Float64Array, halfBins: number, taps: number): (bin: number) => number {
  const expected = 2 * taps * (1 - 1 / (9 * taps)) ** 3;
  const medians: number[] = [];
  const step = Math.max(1, Math.floor((3 * halfBins) / MEDIAN_OF));
  const near = new Float64Array(Math.ceil((3 * halfBins) / step));
  for (let from = 0; from < spectrum.length; from += halfBins) {
    let count = 0;
    const to = Math.min(spectrum.length, from + 2 * halfBins);
    for (let k = Math.max(0, from - halfBins); k < to; k += step) near[count++] = spectrum[k]!;
    const sorted = near.subarray(0, count).sort();
    medians.push(Math.max(1, sorted[count >> 1]! / expected));
  }
  return (bin) => medians[Math.floor(bin / halfBins)]!;
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

/** Bins looked at on both sides of a mode, from and to, in half bandwidths of mode and window together. */
const BESIDE_FROM = 1;
const BESIDE_TO = 4;

/**
 * Level of the leftovers beside each pole, in noise variances: 1 where nothing but noise is left, more where the decay is not
 * quite exponential or something unexplained lies close. Heard through the matched window nearest the mode's own decay.
 * @returns level of each pole, never below 1; chance excesses (3 standard deviations of some five independent bins a tap) count as 1
 */
export function levelBeside(
  leftovers: readonly Float64Array[],
  sampleRateHz: number,
  poles: readonly Pole[],
): number[] {
  const spectra = new Map<number, Float64Array>();
  const chance = 1 + 3 / Math.sqrt(5 * leftovers.length);
  return poles.map(({ frequencyHz, decayPerS }) => {
    const distance = (i: number): number => Math.abs(Math.log(SEARCH_DECAYS_PER_S[i]! / decayPerS));
    const nearest = SEARCH_DECAYS_PER_S.reduce((best, _, i) => (distance(i) < distance(best) ? i : best), 0);
    const spectrum = spectra.get(nearest) ?? matchedSpectrum(leftovers, SEARCH_DECAYS_PER_S[nearest]! / sampleRateHz);
    spectra.set(nearest, spectrum);
    const binHz = sampleRateHz / (2 * (spectrum.length - 1));
    const widthHz = (decayPerS + SEARCH_DECAYS_PER_S[nearest]!) / (2 * Math.PI);
    let sum = 0;
    let count = 0;
    const first = Math.max(0, Math.floor((frequencyHz - BESIDE_TO * widthHz) / binHz));
    const end = Math.min(spectrum.length, Math.ceil((frequencyHz + BESIDE_TO * widthHz) / binHz) + 1);
    for (let k = first; k < end; k++) {
      const off = Math.abs(k * binHz - frequencyHz) / widthHz;
      if (off < BESIDE_FROM || off > BESIDE_TO) continue;
      sum += spectrum[k]! / (2 * leftovers.length);
      count++;
    }
    const level = count > 0 ? sum / count : 1;
    return level > chance ? level : 1;
  });
}
