// Whether the recorder changed the sound. A gain that gives way to a tap and comes back bends every decay alike, which no fit
// can see; it shows in the hiss after the taps. A suppressor shows in the grain of the room before them, a lossy coder in how that
// noise bursts far above what rings.
import { median } from '../../quantity/median.ts';
import { studentTInside } from '../../quantity/quantile.ts';
import { addPowerSpectrum, hann } from '../filter/spectrum.ts';
import type { RecorderFault, Tap } from '../tap.ts';

/** Frames of 1024 samples at 48 kHz, each half over the next. */
const FRAME_S = 1024 / 48_000;
/** Kept clear before the onset: it may be late by this much. */
const GUARD_S = 0.01;
const BEFORE_S = 0.4;
const AFTER_S = 0.4;

/** Band of the hiss: a piece struck by a finger hardly rings there. */
const HISS_HZ = [6000, 16_000] as const;
/** Up to this part of the rate no filter of the recorder has taken the noise away; and the least rate that leaves such a band. */
const MOST_OF_RATE = 0.45;
const LEAST_HISS_RATE_HZ = 16_000;
/** Noise below so many times the rounding of the samples is that rounding, which no gain changes. Own choice. */
const OVER_ROUNDING = 2;
/**
 * The contact and what the room answers to it have died away in the hiss where the mean over the taps is within this of the
 * hiss before, dB; looked for from and, whatever is heard, until so long after the onset.
 */
const DIED_DB = 1;
const DIES_FROM_S = 0.08;
const DIES_BY_S = 0.5;

const FEWEST_TAPS = 3;
/**
 * So far under the hiss before the taps is a gain, dB, where Student's t over the taps makes it one chance in two hundred,
 * and t is below -4.6 however many they are: a room that wanders goes up as often as down. Source: a study of our own on
 * synthetic rounds of five taps, chosen and judged on seeds of their own. Where it is deeper than the rooms of that study
 * wander in the mean of three taps, that t is enough.
 */
const LEAST_DIP_DB = 0.5;
const DEEP_DIP_DB = 4;
const BY_CHANCE = 0.005;
const LEAST_T = 4.6;

const GRAIN_HZ = [300, 6000] as const;
/** Mean over median of an exponential distribution, which is that of the power of Gaussian noise. */
const EXPONENTIAL = 1 / Math.LN2;
/**
 * Grain, over that of Gaussian noise, of a room that was suppressed; from the same study. The grain of noise is 0.94 to 0.98
 * with a standard deviation of 1.5 / sqrt(cells): from 4000 cells on, not quite half a second before one tap, the bound is
 * more than four standard deviations away.
 */
const LEAST_GRAIN = 1.05;
const FEWEST_CELLS = 4000;

/**
 * Bands in which a lossy coder writes noise of its own, Hz, and the burstiness of the room's noise there that it does not go beyond,
 * lowest and highest: the mean square over twice the squared mean of a bin's power next to its neighbours', 0.922 for noise that was
 * recorded as it is. Chosen on 16 rounds of tests/bench/codecs.ts, seeds from 840.5 million on: noise as it was 0.909 to 0.937
 * above 12 kHz and 0.915 to 0.929 below; of Opus at 24 kbit/s all but one lie outside in one band or the other.
 */
const CODED_HZ = [
  { bandHz: [12_000, 16_000], least: 0.875, most: 0.965 },
  { bandHz: [6000, 12_000], least: 0.875, most: 0.95 },
] as const;
/** Bins that a bin is held against: 1.1 kHz. What wanders, or bursts in all of them at once, has no part in it. */
const NEIGHBOURS = 24;
/** Frames before all taps together, three taps of half a second: fewer scatter by more than a quarter of what is told. */
const FEWEST_FRAMES = 100;

/** A tap in frames, those of digital silence left out: power spectra of the room before it and of what follows it. */
interface Framed {
  readonly before: readonly Float64Array[];
  /** from `DIES_FROM_S` after the onset */
  readonly after: readonly Float64Array[];
  /** power per bin of the rounding of the samples */
  readonly rounding: number;
  /** whether the room before the tap is above the rounding */
  readonly isRoomHeard: boolean;
}

/**
 * What the recorder did to the sound of a round, as far as it shows; undefined where nothing shows or nothing can be decided.
 *
 * Gain control: the mean hiss of 0.4 s after each tap, from where the tap has died away in it, against that of 0.4 s before;
 * three taps or more, 16 kHz or more. Suppression: in each bin from 0.3 to 6 kHz the mean over the median of the power before
 * the taps, each frame divided by its own level so that a room that wanders has no grain; then the median over the bins, so
 * that hum and what still rings of the tap before have none. Lossy coding: how the noise before the taps bursts, bin by bin; three
 * taps or more, with a room above the rounding of the samples up there.
 * @param taps of one sampling rate, 8000 to 192000 Hz, as recorded, with about 0.5 s before the onset and 1 s after it
 */
export function recorderFault(taps: readonly Tap[]): RecorderFault | undefined {
  const rateHz = taps[0]?.sampleRateHz;
  if (rateHz === undefined) return undefined;
  const size = 2 ** Math.round(Math.log2(FRAME_S * rateHz));
  const framed = taps.map((tap) => framesOf(tap, size));
  if (isGrained(framed, rateHz, size)) return 'noise-suppression';
  if (rateHz >= LEAST_HISS_RATE_HZ && givesWay(framed, rateHz, size)) return 'gain-control';
  return isCoded(framed, rateHz, size) ? 'lossy-coding' : undefined;
}

/** Whether the noise before the taps is burstier, or less so, than noise is. */
function isCoded(framed: readonly Framed[], rateHz: number, size: number): boolean {
  return CODED_HZ.some(({ bandHz, least, most }) => {
    const [from, to] = binsOf(bandHz, rateHz, size);
    if (to - from < 2 * NEIGHBOURS) return false;
    const frames = framed.flatMap(({ before, rounding }) => {
      const own = before.map((frame) => frame.subarray(from, to));
      return meanOf(own.map(meanOf)) > OVER_ROUNDING * rounding ? own : [];
    });
    if (frames.length < FEWEST_FRAMES) return false;
    const bursts = burstiness(frames);
    return bursts < least || bursts > most;
  });
}

/** Mean square over twice the squared mean of the power of a bin next to its neighbours', median over the bins. */
function burstiness(frames: readonly Float64Array[]): number {
  const bins = frames[0]!.length;
  const colour = Float64Array.from({ length: bins }, (_, bin) => meanOf(frames.map((frame) => frame[bin]!)));
  const sums = new Float64Array(bins);
  const squares = new Float64Array(bins);
  for (const frame of frames) {
    const flat = frame.map((power, bin) => power / colour[bin]!);
    for (let bin = 0; bin < bins; bin++) {
      const first = Math.max(0, Math.min(bins - NEIGHBOURS, bin - NEIGHBOURS / 2));
      const x = flat[bin]! / (meanOf(flat.subarray(first, first + NEIGHBOURS)) + Number.MIN_VALUE);
      sums[bin]! += x;
      squares[bin]! += x * x;
    }
  }
  return median(squares.map((square, bin) => (frames.length * square) / (2 * sums[bin]! ** 2)))!;
}

function framesOf({ samples, sampleRateHz, onsetIndex }: Tap, size: number): Framed {
  const window = hann(size);
  const spectra = (of: Float32Array): Float64Array[] => {
    const sound = Float64Array.from(of);
    const frames: Float64Array[] = [];
    for (let at = 0; at + size <= sound.length; at += size / 2) {
      const power = new Float64Array(size / 2 + 1);
      addPowerSpectrum(sound.subarray(at, at + size), window, 1, power);
      if (power.some((p) => p > 0)) frames.push(power);
    }
    return frames;
  };
  const room = samples.subarray(0, Math.max(0, onsetIndex - Math.round(GUARD_S * sampleRateHz)));
  const rounding = stepOf(room) ** 2 / 12;
  const squares = room.reduce((sum, x) => sum + x * x, 0);
  return {
    before: spectra(room),
    after: spectra(samples.subarray(onsetIndex + Math.round(DIES_FROM_S * sampleRateHz))),
    rounding: rounding * window.reduce((sum, w) => sum + w * w, 0),
    isRoomHeard: squares > OVER_ROUNDING * rounding * room.length,
  };
}

/** The smallest step between samples, which is that of the format where it has steps; 0 where all are equal. */
function stepOf(samples: Float32Array): number {
  let step = Number.POSITIVE_INFINITY;
  for (let n = 1; n < samples.length; n++) {
    const between = Math.abs(samples[n]! - samples[n - 1]!);
    if (between > 0 && between < step) step = between;
  }
  return step < Number.POSITIVE_INFINITY ? step : 0;
}

/** Bins of a band, as far as the rate allows. */
const binsOf = ([fromHz, toHz]: readonly [number, number], rateHz: number, size: number): readonly [number, number] => [
  Math.ceil((fromHz * size) / rateHz),
  Math.floor((Math.min(toHz, MOST_OF_RATE * rateHz) * size) / rateHz) + 1,
];

/** Whether the hiss is less after the taps than before them. */
function givesWay(framed: readonly Framed[], rateHz: number, size: number): boolean {
  const band = binsOf(HISS_HZ, rateHz, size);
  const hissOf = (frame: Float64Array): number => meanOf(frame.subarray(...band));
  const framesIn = (s: number): number => Math.floor((2 * s * rateHz) / size);
  const latest = framesIn(DIES_BY_S - DIES_FROM_S);
  const overRoom = framed.flatMap(({ before, after, rounding }) => {
    const room = meanOf(before.slice(-framesIn(BEFORE_S)).map(hissOf));
    const isLong = before.length >= framesIn(BEFORE_S / 2) && after.length >= latest + framesIn(AFTER_S);
    return isLong && room > OVER_ROUNDING * rounding ? [after.map((frame) => hissOf(frame) / room)] : [];
  });
  if (overRoom.length < FEWEST_TAPS) return false;
  const decibels = (start: number, count: number): number[] =>
    overRoom.map((ratios) => 10 * Math.log10(meanOf(ratios.slice(start, start + count))));
  // One start for all taps: one for each would prefer, of a room that wanders, what happens to be low.
  let start = 0;
  while (start < latest && meanOf(decibels(start, 3)) > DIED_DB) start++;
  const dipsDb = decibels(start, framesIn(AFTER_S));
  // The first tap may meet a gain at rest, and the others one that is still on its way back.
  return isDip(dipsDb) || isDip(dipsDb.slice(1));
}

/** Whether the mean of these is below 0 by more than the least dip and beyond chance. */
function isDip(dipsDb: readonly number[]): boolean {
  const count = dipsDb.length;
  const mean = meanOf(dipsDb);
  if (count < FEWEST_TAPS || mean > -LEAST_DIP_DB) return false;
  const t = -mean / Math.sqrt(meanOf(dipsDb.map((dip) => (dip - mean) ** 2)) / (count - 1));
  return t > LEAST_T && (mean < -DEEP_DIP_DB || studentTInside(t, count - 1) > 1 - 2 * BY_CHANCE);
}

/** Whether the room before the taps has more grain than noise has. */
function isGrained(framed: readonly Framed[], rateHz: number, size: number): boolean {
  const band = binsOf(GRAIN_HZ, rateHz, size);
  const frames = framed
    .filter(({ isRoomHeard }) => isRoomHeard)
    .flatMap(({ before }) => before.map((frame) => frame.subarray(...band)));
  const bins = [...(frames[0] ?? []).keys()];
  if (frames.length * bins.length < FEWEST_CELLS) return false;
  const colour = bins.map((bin) => meanOf(frames.map((frame) => frame[bin]!)));
  const levels = frames.map((frame) => meanOf(bins.map((bin) => frame[bin]! / colour[bin]!)));
  const grains = bins.map((bin) => {
    const powers = frames.map((frame, i) => frame[bin]! / levels[i]!);
    return meanOf(powers) / median(powers)! / EXPONENTIAL;
  });
  return median(grains)! > LEAST_GRAIN;
}

function meanOf(x: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < x.length; i++) sum += x[i]!;
  return sum / x.length;
}
