// What the room sounds like without the piece: read before each tap where the recording had it, else from what the
// fit leaves over.
import { median } from '../../quantity/median.ts';
import { lowerChiSquare } from '../../quantity/quantile.ts';
import { type DecimatedSound, type Decimator, gainAt } from '../filter/decimate.ts';
import { addPowerSpectrum, hann, powerOfTwoFrom } from '../filter/spectrum.ts';
import { powerGain, type Whitener, whiten, whitenerFrom } from '../filter/whiten.ts';

/** Colour of the noise, common to a round, and its level in each tap relative to that colour's own. */
export interface Noise {
  readonly whitener: Whitener;
  /** (K,) */
  readonly levels: readonly number[];
  /** level that each tap cannot be below, (K,): the rounding of its own peak */
  readonly least: readonly number[];
  /** false where no room noise was heard before the taps and the level is only provisional */
  readonly heard: boolean;
  /** the tap before still rang before every tap that has a room before it: what is taken for noise may be that */
  readonly isRungOver: boolean;
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
/**
 * Noise is smooth over frequency, what still rings of the tap before is lines: the noise at a frequency is a low quantile of
 * what is heard about it. Segments of a quarter of a second; the neighbourhood in Hz and as a part of the frequency; the
 * quantiles for colour and level. Source: a study of our own, chosen on 36 rounds and judged on 48: of 432 modes none was lost
 * to a ring before the tap, and 9 were without it.
 */
const SEGMENT_S = 0.256;
const ABOUT_HZ = 28;
const ABOUT_PART = 0.3;
const COLOUR_QUANTILE = 0.25;
const LEVEL_QUANTILE = 0.35;
/**
 * What falls by more than this from the first half of what is heard before a tap to the second is no room. Source: noise of three
 * colours fell by -1 to 1 dB, rings of plates tapped 0.4 to 1 s apart by 2 to 13 dB; of these one mode in seven is lost at 70 dB
 * where no tap had a quiet room, none where one had (five and four rounds a case, seeds 200 and 300).
 */
const RINGS_ON_DB = 3;
/** Where the decimating filter lets less than this of the power through, the noise is taken from where it lets more. */
const LEAST_GAIN = 0.01;

/** Rows of room noise before the onset, [from, to): none of the digital silence some recordings begin with. */
export function roomRows(series: DecimatedSound, filter: Decimator): readonly [number, number] {
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
export function noiseBefore(series: readonly DecimatedSound[], filter: Decimator): Noise {
  const least = series.map(({ samples }) => ROUNDING * peakOf(samples));
  const spectra = series.map((one) => roomSpectrum(one, roomRows(one, filter), filter));
  // One quiet stretch is enough, and the first that is ends the question.
  const known = series.filter((_, k) => spectra[k] !== undefined);
  const isRungOver = known.length > 0 && known.every((one) => fallBeforeDb(one, filter) > RINGS_ON_DB);
  const rooms = series.map((one, k) => {
    const room = spectra[k];
    if (room === undefined) return undefined;
    const level = Math.sqrt(sumOf(room.smooth));
    const quiet = level < LOUDEST_OVER_TAIL * rootMeanSquare(one.samples, tailStart(one), one.samples.length);
    return quiet && level > least[k]! ? { ...room, level } : undefined;
  });
  const heard = rooms.filter((room) => room !== undefined);
  const longest = Math.max(0, ...heard.map(({ power }) => power.length));
  if (longest === 0) {
    const whitener = whitenerFrom(filterCovariance(filter));
    const levels = series.map((one, k) => Math.max(tailLevel(one, whitener), least[k]!));
    return { whitener, levels, least, heard: false, isRungOver };
  }
  const colour = new Float64Array(longest);
  for (const { smooth, level } of heard)
    for (let k = 0; k < longest; k++)
      colour[k]! += smooth[Math.round((k * (smooth.length - 1)) / (longest - 1))]! / (level * level * heard.length);
  const whitener = whitenerFrom(lifted(covarianceOf(colour)));
  const levels = rooms.map((room) => (room === undefined ? 0 : levelOver(room, whitener, series[0]!.sampleRateHz)));
  const middle = median(levels.filter((level) => level > 0))!;
  return { whitener, levels: levels.map((level) => (level > 0 ? level : middle)), least, heard: true, isRungOver };
}

/**
 * How much louder the first half of what is heard before a tap is than the second, dB, lines left out of account; 0 where that is
 * too short to tell. Noise stays; what still rings of the tap before falls.
 */
function fallBeforeDb(one: DecimatedSound, filter: Decimator): number {
  const [from, to] = roomRows(one, filter);
  const middle = Math.floor((from + to) / 2);
  const [first, second] = [[from, middle] as const, [middle, to] as const].map((rows) =>
    sumOf(roomSpectrum(one, rows, filter)?.smooth ?? new Float64Array(0)),
  );
  return first! > 0 && second! > 0 ? 10 * Math.log10(first! / second!) : 0;
}

/** Power of a room per bin, mean square of the samples in sum; all bins but the first and the last counted once. */
interface RoomSpectrum {
  /** as heard */
  readonly power: Float64Array;
  /** what is no line */
  readonly smooth: Float64Array;
  /** degrees of freedom of a bin */
  readonly degrees: number;
}

/**
 * Spectrum of what is heard before a tap; undefined where that is too short.
 * Source: Welch, IEEE Trans. AU-15 (1967) 70, overlapping Hann segments and their degrees of freedom; the quantile of chi-square
 * as `lowerChiSquare`.
 */
function roomSpectrum(
  one: DecimatedSound,
  [from, to]: readonly [number, number],
  filter: Decimator,
): RoomSpectrum | undefined {
  const count = to - from;
  if (count < SHORTEST_S * one.sampleRateHz) return undefined;
  const size = powerOfTwoFrom(Math.min(count, SEGMENT_S * one.sampleRateHz) / 2 + 1);
  const window = hann(size);
  const energy = window.reduce((sum, w) => sum + w * w, 0);
  const power = new Float64Array(size / 2 + 1);
  const hop = size / 4;
  const segments = Math.floor((count - size) / hop) + 1;
  for (let i = 0; i < segments; i++) {
    const at = from + i * hop;
    addPowerSpectrum(one.samples.subarray(at, at + size), window, 2 / (energy * size * segments), power);
  }
  const degrees = Math.max(2, (3.8 * count) / size - 1.8);
  return { power, smooth: withoutLines(power, degrees, one.sampleRateHz, filter), degrees };
}

/** The spectrum without what stands out of it: a low quantile about each bin, the filter's own fall left out of account. */
function withoutLines(power: Float64Array, degrees: number, sampleRateHz: number, filter: Decimator): Float64Array {
  const binHz = sampleRateHz / (2 * (power.length - 1));
  const through = power.map((_, k) => gainAt(filter, k * binHz) ** 2);
  let passed = 0;
  while (passed + 1 < power.length && through[passed + 1]! > LEAST_GAIN) passed++;
  const flat = power.map((p, k) => p / Math.max(through[k]!, LEAST_GAIN));
  const overMean = quantileOverMean(COLOUR_QUANTILE, degrees);
  const near = new Sorted(power.length);
  let [from, to] = [1, 1];
  return power.map((_, k) => {
    const half = Math.max(ABOUT_HZ, ABOUT_PART * k * binHz) / binHz;
    const last = Math.min(passed, Math.floor(k + half));
    const first = Math.max(1, Math.min(Math.ceil(k - half), last - 2));
    while (to <= last) near.add(flat[to++]!);
    while (from < first) near.remove(flat[from++]!);
    return (through[k]! * near.at(Math.floor(COLOUR_QUANTILE * near.count))) / overMean;
  });
}

/** Numbers kept in ascending order while some come and go: a neighbourhood that moves on by a bin need not be sorted anew. */
class Sorted {
  count = 0;
  private readonly values: Float64Array;

  constructor(most: number) {
    this.values = new Float64Array(most);
  }

  at(index: number): number {
    return this.values[index]!;
  }

  add(value: number): void {
    const at = this.placeOf(value);
    this.values.copyWithin(at + 1, at, this.count++);
    this.values[at] = value;
  }

  /** @param value one that was added */
  remove(value: number): void {
    const at = this.placeOf(value);
    this.values.copyWithin(at, at + 1, this.count--);
  }

  /** Of the first that is no less. */
  private placeOf(value: number): number {
    let low = 0;
    let high = this.count;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.values[middle]! < value) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}

/** Level of a room over a whitener's own noise, by what is no line of its whitened spectrum. */
function levelOver({ power, degrees }: RoomSpectrum, whitener: Whitener, sampleRateHz: number): number {
  const gain = powerGain(whitener, sampleRateHz);
  const binHz = sampleRateHz / (2 * (power.length - 1));
  const white = power.map((p, k) => p * gain(k * binHz)).subarray(1, -1);
  const sorted = white.sort();
  const perBin = sorted[Math.floor(LEVEL_QUANTILE * sorted.length)]! / quantileOverMean(LEVEL_QUANTILE, degrees);
  return Math.sqrt(perBin * (power.length - 1));
}

/** Quantile of chi-square over its mean. */
function quantileOverMean(part: number, degrees: number): number {
  return Math.max(0.01, lowerChiSquare(part, degrees) / degrees);
}

/** Autocovariance at lags 0 to the model's order of a spectrum per bin. Source: Wiener and Khinchin, any text. */
function covarianceOf(power: Float64Array): Float64Array {
  const size = 2 * (power.length - 1);
  return Float64Array.from({ length: ORDER + 1 }, (_, lag) =>
    power.reduce((sum, p, k) => sum + p * Math.cos((2 * Math.PI * lag * k) / size), 0),
  );
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
const tailStart = ({ onset, samples }: DecimatedSound): number =>
  Math.max(0, Math.floor(onset + (5 / 6) * (samples.length - onset)));

/** Level of the whitened last sixth of a recording. */
function tailLevel(series: DecimatedSound, whitener: Whitener): number {
  const from = tailStart(series);
  const tail = whiten(whitener, series.samples, from, series.samples.length - from, 1);
  return rootMeanSquare(tail, whitener.order, tail.length);
}

function rootMeanSquare(x: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let n = from; n < to; n++) sum += x[n]! * x[n]!;
  return Math.sqrt(sum / Math.max(1, to - from));
}

const sumOf = (x: Float64Array): number => x.reduce((sum, v) => sum + v, 0);

function peakOf(x: Float64Array): number {
  let peak = 0;
  for (let n = 0; n < x.length; n++) peak = Math.max(peak, Math.abs(x[n]!));
  return peak;
}
