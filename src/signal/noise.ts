// What the room sounds like without the piece: read before each tap where the recording had it, else from what the
// fit leaves over.
import type { Decimator, Series } from './decimate.ts';
import { addAutocovariance, type Whitener, whiten, whitenerFrom } from './whiten.ts';

/** Colour of the noise, common to a round, and its level in each tap relative to that colour's own. */
export interface Noise {
  readonly whitener: Whitener;
  /** (K,) */
  readonly levels: readonly number[];
  /** level that each tap cannot be below, (K,): the rounding of its own peak */
  readonly least: readonly number[];
  /** false where no room noise was heard before the taps and the level is only provisional */
  readonly heard: boolean;
}

/** Order of the noise model, and the room noise needed to fit it. */
const ORDER = 12;
const SHORTEST_S = 0.06;
/** Kept clear before the onset: the onset itself may be early by this much. */
const GUARD_S = 0.002;
/** What is heard before the tap is no room noise if it is louder than this times the end of the decay. */
const LOUDEST_OVER_TAIL = 3;
/** A recorder cannot be quieter than this part of the tap's own peak: single-precision rounding. */
const ROUNDING = 1e-7;
/** White noise mixed into the covariance so that an all but noiseless band edge cannot be blown up. */
const FLOOR = 1e-4;

/** Rows of room noise before the onset, [from, to): none of the digital silence some recordings begin with. */
export function roomRows(series: Series, filter: Decimator): readonly [number, number] {
  const guard = Math.ceil((GUARD_S * filter.sampleRateHz + filter.half) / filter.factor);
  const to = Math.max(0, series.onset - guard);
  let from = 0;
  while (from < to && series.samples[from] === 0) from++;
  return [from, to];
}

/**
 * Noise of a round from the rooms before its taps.
 * @param series decimated taps with hum taken off, (K,)
 */
export function noiseBefore(series: readonly Series[], filter: Decimator): Noise {
  const sums = new Float64Array(ORDER + 1);
  const least = series.map(({ samples }) => ROUNDING * peakOf(samples));
  let count = 0;
  const rooms = series.map((one, k) => {
    const [from, to] = roomRows(one, filter);
    const enough = to - from >= SHORTEST_S * one.sampleRateHz;
    const level = enough ? rootMeanSquare(one.samples, from, to) : 0;
    const quiet = level < LOUDEST_OVER_TAIL * rootMeanSquare(one.samples, tailStart(one), one.samples.length);
    return { from, to, level: quiet && level > least[k]! ? level : 0 };
  });
  rooms.forEach(({ from, to, level }, k) => {
    if (level === 0) return;
    const scaled = series[k]!.samples.subarray(from, to).map((x) => x / level);
    count += addAutocovariance(sums, scaled, 0, scaled.length);
  });
  if (count === 0) {
    const whitener = whitenerFrom(filterCovariance(filter));
    const levels = series.map((one, k) => Math.max(tailLevel(one, whitener), least[k]!));
    return { whitener, levels, least, heard: false };
  }
  const whitener = whitenerFrom(lifted(sums.map((s) => s / count)));
  const levels = rooms.map(({ from, to, level }, k) =>
    level === 0 ? 0 : rootMeanSquare(whiten(whitener, series[k]!.samples, from, to - from, 1), 0, to - from),
  );
  const known = levels.filter((level) => level > 0).sort((a, b) => a - b);
  const middle = known[Math.floor(known.length / 2)]!;
  return { whitener, levels: levels.map((level) => (level > 0 ? level : middle)), least, heard: true };
}

/**
 * The noise with its levels set by what a fit left over, for recordings without room noise before the tap.
 * @param left mean square of each tap's whitened leftover, (K,)
 */
export function levelledBy(noise: Noise, left: readonly number[]): Noise {
  // a ring without any noise leaves nothing over: a level of nothing would make every weight infinite
  const levels = noise.levels.map((level, k) => Math.max(level * Math.sqrt(left[k]!), noise.least[k]!));
  return { ...noise, levels, heard: true };
}

const lifted = (covariance: Float64Array): Float64Array => {
  const out = covariance.slice();
  out[0]! *= 1 + FLOOR;
  return out;
};

/** Autocovariance of white noise after the decimating filter: the colour to assume where none was heard. */
function filterCovariance(filter: Decimator): Float64Array {
  const { taps, factor } = filter;
  const covariance = Float64Array.from({ length: ORDER + 1 }, (_, lag) => {
    let sum = 0;
    for (let i = 0; i + lag * factor < taps.length; i++) sum += taps[i]! * taps[i + lag * factor]!;
    return sum;
  });
  return lifted(covariance);
}

/** Where the last sixth of a recording begins. */
const tailStart = ({ onset, samples }: Series): number =>
  Math.max(0, Math.floor(onset + (5 / 6) * (samples.length - onset)));

/** Level of the whitened last sixth of a recording. */
function tailLevel(series: Series, whitener: Whitener): number {
  const from = tailStart(series);
  const tail = whiten(whitener, series.samples, from, series.samples.length - from, 1);
  return rootMeanSquare(tail, whitener.order, tail.length);
}

function rootMeanSquare(x: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let n = from; n < to; n++) sum += x[n]! * x[n]!;
  return Math.sqrt(sum / Math.max(1, to - from));
}

function peakOf(x: Float64Array): number {
  let peak = 0;
  for (let n = 0; n < x.length; n++) peak = Math.max(peak, Math.abs(x[n]!));
  return peak;
}
