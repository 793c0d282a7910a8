// How high to listen. A plate's useful modes lie below 1200 Hz and its higher ones die within hundredths of a second; a
// bar or a block may ring on far above.
import { median } from '../../quantity/median.ts';
import { addPowerSpectrum, powerOfTwoFrom } from '../filter/spectrum.ts';
import type { Tap } from '../tap.ts';

/** Lowest frequency reported, and the tops a band can have, Hz; the first is a plate's. */
const LOWEST_HZ = 30;
const TOPS_HZ = [1200, 4000, 12000] as const;
/** The stretch of decay that shows what rings on. */
const LATE_FROM_S = 0.05;
const LATE_TO_S = 0.3;
/** A line counts if it is this much below the strongest at most, and this much above the middle of the spectrum over it. */
const BELOW_STRONGEST = 10 ** -3.5;
const ABOVE_FLOOR = 50;
const APART_HZ = 20;
/** A bar has a few lines; more than this are the partials of strings, and those are not asked for. */
const MOST_LINES = 8;
/** Taps looked at; one hears as much as the other. */
const MOST_TAPS = 3;

/**
 * The band to report: 30 to 1200 Hz, or up to 4000 or 12000 Hz where between 50 and 300 ms after the onset a line above
 * still stands no more than 35 dB below the strongest, and no more than eight lines do (our choice: plates of Q 100 stay
 * below, bars and blocks do not, a strung guitar has too many).
 * @returns lowest and highest frequency, Hz; the highest never above 0.45 of the sampling rate
 */
export function bandOf(taps: readonly Tap[]): readonly [number, number] {
  const first = taps[0]!;
  const limitHz = 0.45 * first.sampleRateHz;
  const length = Math.round((LATE_TO_S - LATE_FROM_S) * first.sampleRateHz);
  const power = new Float64Array(powerOfTwoFrom(length) / 2 + 1);
  const hann = new Float64Array(length).map((_, n) => 1 - Math.cos((2 * Math.PI * (n + 0.5)) / length));
  const x = new Float64Array(length);
  for (const { samples, onsetIndex, sampleRateHz } of taps.slice(0, MOST_TAPS)) {
    const from = onsetIndex + Math.round(LATE_FROM_S * sampleRateHz);
    x.fill(0);
    x.set(samples.subarray(from, from + length));
    addPowerSpectrum(x, hann, 1, power);
  }
  const binHz = first.sampleRateHz / (2 * (power.length - 1));
  const strong = linesIn(power, binHz, Math.min(limitHz, TOPS_HZ[2]));
  if (strong.length > MOST_LINES) return [LOWEST_HZ, TOPS_HZ[0]];
  const highestHz = strong.at(-1) ?? 0;
  return [LOWEST_HZ, Math.min(limitHz, TOPS_HZ.find((topHz) => highestHz < topHz) ?? TOPS_HZ[2])];
}

/** Frequencies of the lines no more than 35 dB below the strongest, each the highest within 20 Hz, ascending. */
function linesIn(power: Float64Array, binHz: number, topHz: number): number[] {
  const from = Math.ceil(LOWEST_HZ / binHz);
  const to = Math.floor(topHz / binHz);
  const heard = power.subarray(from, to);
  const bar = Math.max(BELOW_STRONGEST * peakOf(heard), ABOVE_FLOOR * median(heard)!);
  const near = Math.ceil(APART_HZ / binHz);
  const lines: number[] = [];
  for (let k = from; k < to; k++) {
    if (power[k]! > bar && power[k]! === peakOf(power.subarray(Math.max(0, k - near), k + near + 1)))
      lines.push(k * binHz);
  }
  return lines;
}

const peakOf = (x: Float64Array): number => x.reduce((peak, v) => Math.max(peak, v), 0);
