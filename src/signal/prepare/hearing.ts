// From recordings to what the fit is made to: decimated, hum taken off, the noise's colour known.

import { type DecimatedSound, type Decimator, decimate } from '../filter/decimate.ts';
import { powerGain, whiten } from '../filter/whiten.ts';
import { type Hum, mainsOf, takeHumOff } from '../hear/hum-fit.ts';
import type { Grid, Pole } from '../pole.ts';
import type { Tap } from '../tap.ts';
import { findHum } from './hum.ts';
import { type Noise, noiseBefore, roomRows } from './noise.ts';

/** The taps of a fit on the decimated grid. */
export interface Hearing {
  readonly filter: Decimator;
  /** decimated recordings with their hum taken off, (K,) */
  readonly series: readonly DecimatedSound[];
  /** hum of each tap, where some was found */
  readonly hum: readonly (Hum | undefined)[];
  readonly noise: Noise;
  /** longest stretch of decay used, s */
  readonly longestS: number;
}

/** Whitened decays of the taps of one fit, unit noise, on one grid. */
export interface Decays {
  readonly grid: Grid;
  /** (taps, rows) */
  readonly taps: readonly Float64Array[];
  /** sum of squares of each tap, (taps,) */
  readonly energies: readonly number[];
  /** steady hum lines kept as columns beside the modes; none where no hum was found */
  readonly hum: readonly Pole[];
  /** what is known of each hum line's amplitude before the decay, as information (1 / variance) per real column */
  readonly humInformation: readonly number[];
}

/** Sum of squares. */
export function energyOf(x: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < x.length; i++) sum += x[i]! * x[i]!;
  return sum;
}

/** Longest stretch of decay used; a mode that rings longer than this is known well enough. */
const LONGEST_S = 1.6;

/** Decimates the taps and reads hum and noise before them. */
export function hear(taps: readonly Tap[], filter: Decimator): Hearing {
  const recorded = taps.map((tap) => trimmed(decimate(tap.samples, tap.onsetIndex, filter)));
  const hum = recorded.map((one) => {
    const [from, to] = roomRows(one, filter);
    const found = findHum(one.samples.subarray(from, to), one.sampleRateHz, 0.45 * one.sampleRateHz);
    return found && mainsOf(one.samples, one.sampleRateHz, found, [[from, to]]);
  });
  const series = recorded.map((one, k) => {
    const found = hum[k];
    if (found === undefined) return one;
    const samples = one.samples.slice();
    takeHumOff(samples, one.sampleRateHz, found, roomRows(one, filter));
    return { ...one, samples };
  });
  return { filter, series, hum, noise: noiseBefore(series, filter), longestS: LONGEST_S };
}

/** Digital silence at the end of a recording is no decay. */
function trimmed(series: DecimatedSound): DecimatedSound {
  let end = series.samples.length;
  while (end > series.onset && series.samples[end - 1] === 0) end--;
  return { ...series, samples: series.samples.subarray(0, end) };
}

/** Rows every tap has after a start row. */
export function rowsAfter(hearing: Hearing, startRow: number): number {
  const shortest = Math.min(...hearing.series.map((one) => one.samples.length - one.onset));
  return Math.min(shortest - startRow, Math.floor(hearing.longestS * hearing.series[0]!.sampleRateHz));
}

/** Tap numbers of each group of taps that share their poles. */
export type Partition = readonly (readonly number[])[];

/** Whitened decays of each group from a start row after the onset. */
export function decaysFrom(hearing: Hearing, partition: Partition, startRow: number, rows: number): Decays[] {
  const { series, noise } = hearing;
  const grid: Grid = { rows, sampleRateHz: series[0]!.sampleRateHz, whitener: noise.whitener };
  const hum = humLines(hearing, grid);
  return partition.map((which) => {
    const taps = which.map((k) => {
      const { samples, onset } = series[k]!;
      return whiten(noise.whitener, samples, onset + startRow, rows, 1 / noise.levels[k]!);
    });
    return { grid, taps, energies: taps.map(energyOf), ...hum };
  });
}

/** Columns for what the hum's removal may have left, with what the room before the taps already says of them. */
function humLines(
  hearing: Hearing,
  { sampleRateHz }: Grid,
): { hum: readonly Pole[]; humInformation: readonly number[] } {
  const { series, noise, hum, filter } = hearing;
  const heard = hum.filter((h) => h !== undefined);
  if (heard.length === 0) return { hum: [], humInformation: [] };
  const mainsHz = heard.reduce((sum, h) => sum + h.mainsHz, 0) / heard.length;
  const harmonics = [...new Set(heard.flatMap((h) => h.harmonics))];
  const lines: Pole[] = harmonics.map((k) => ({ frequencyHz: k * mainsHz, decayPerS: 0 }));
  const [from, to] = roomRows(series[0]!, filter);
  const gain = powerGain(noise.whitener, sampleRateHz);
  return { hum: lines, humInformation: lines.map((line) => (gain(line.frequencyHz) * (to - from)) / 2) };
}
