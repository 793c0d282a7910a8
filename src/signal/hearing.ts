// From recordings to what the fit is made to: decimated, hum taken off, the noise's colour known.
import type { Grid, Pole } from './atoms.ts';
import { type Decimator, decimate, type Series } from './decimate.ts';
import { findHum, type Hum, takeHumOff } from './hum.ts';
import { type Noise, noiseBefore, roomRows } from './noise.ts';
import { type Decays, type Projection, residuals } from './project.ts';
import type { Tap } from './tap.ts';
import { UNIT_WHITENER, whiten } from './whiten.ts';

/** The taps of a fit on the decimated grid. */
export interface Hearing {
  readonly filter: Decimator;
  /** decimated recordings as they came, (K,) */
  readonly recorded: readonly Series[];
  /** the same with hum taken off */
  readonly series: readonly Series[];
  /** hum of each tap, where some was found */
  readonly hum: readonly (Hum | undefined)[];
  readonly noise: Noise;
}

/** Longest stretch of decay used; a mode that rings longer than this is known well enough. */
const LONGEST_S = 1.6;

/** Decimates the taps and reads hum and noise before them. */
export function hear(taps: readonly Tap[], filter: Decimator): Hearing {
  const recorded = taps.map((tap) => trimmed(decimate(tap.samples, tap.onsetIndex, filter)));
  const found = recorded.map((one) => {
    const [from, to] = roomRows(one, filter);
    const hum = findHum(one.samples.subarray(from, to), one.sampleRateHz, 0.45 * one.sampleRateHz);
    if (hum === undefined) return { series: one, hum };
    const samples = one.samples.slice();
    return { series: { ...one, samples }, hum: takeHumOff(samples, one.samples, one.sampleRateHz, hum, [[from, to]]) };
  });
  const series = found.map((f) => f.series);
  return { filter, recorded, series, hum: found.map((f) => f.hum), noise: noiseBefore(series, filter) };
}

/** Digital silence at the end of a recording is no decay. */
function trimmed(series: Series): Series {
  let end = series.samples.length;
  while (end > series.onset && series.samples[end - 1] === 0) end--;
  return { ...series, samples: series.samples.subarray(0, end) };
}

/** Rows every tap has after a start row. */
export function rowsAfter(hearing: Hearing, startRow: number): number {
  const shortest = Math.min(...hearing.series.map((one) => one.samples.length - one.onset));
  return Math.min(shortest - startRow, Math.floor(LONGEST_S * hearing.series[0]!.sampleRateHz));
}

/** Whitened decays from a start row after the onset. */
export function decaysFrom(hearing: Hearing, startRow: number, rows: number): Decays {
  const { series, noise, hum, filter } = hearing;
  const sampleRateHz = series[0]!.sampleRateHz;
  const grid: Grid = { rows, sampleRateHz, whitener: noise.whitener };
  const taps = series.map((one, k) =>
    whiten(noise.whitener, one.samples, one.onset + startRow, rows, 1 / noise.levels[k]!),
  );
  const heard = hum.filter((h) => h !== undefined);
  if (heard.length === 0) return { grid, taps, hum: [], humInformation: [] };
  const mainsHz = heard.reduce((sum, h) => sum + h.mainsHz, 0) / heard.length;
  const harmonics = [...new Set(heard.flatMap((h) => h.harmonics))];
  const lines: Pole[] = harmonics.map((k) => ({ frequencyHz: k * mainsHz, decayPerS: 0 }));
  const [from, to] = roomRows(series[0]!, filter);
  const { order, filters } = noise.whitener;
  const humInformation = lines.map((line) => {
    let re = 0;
    let im = 0;
    for (let j = 0; j <= order; j++) {
      const angle = (2 * Math.PI * line.frequencyHz * j) / sampleRateHz;
      re += filters[order * (order + 1) + j]! * Math.cos(angle);
      im -= filters[order * (order + 1) + j]! * Math.sin(angle);
    }
    return ((re * re + im * im) * (to - from)) / 2;
  });
  return { grid, taps, hum: lines, humInformation };
}

/** What the modes of a fit leave of the recordings, in the recordings' own scale, from the start row on; hum still in. */
export function unwhitenedLeftovers(
  hearing: Hearing,
  startRow: number,
  p: Projection,
  recorded = false,
): Float64Array[] {
  const { levels } = hearing.noise;
  const from = recorded ? hearing.recorded : hearing.series;
  const rows = rowsAfter(hearing, startRow);
  const taps = from.map((one, k) =>
    one.samples.slice(one.onset + startRow, one.onset + startRow + rows).map((x) => x / levels[k]!),
  );
  const grid: Grid = { rows, sampleRateHz: from[0]!.sampleRateHz, whitener: UNIT_WHITENER };
  const left = residuals({ grid, taps, hum: [], humInformation: [] }, p);
  return left.map((r, k) => r.map((x) => x * levels[k]!));
}

/** The hearing with its hum fitted again, now that the modes are known and the decay can be used as well as the room. */
export function withHumAgain(hearing: Hearing, startRow: number, p: Projection): Hearing {
  const left = unwhitenedLeftovers(hearing, startRow, p, true);
  const again = hearing.recorded.map((one, k) => {
    const hum = hearing.hum[k];
    if (hum === undefined) return { series: one, hum };
    const evidence = one.samples.slice();
    const start = one.onset + startRow;
    evidence.set(left[k]!, start);
    const samples = one.samples.slice();
    const usable = [roomRows(one, hearing.filter), [start, start + left[k]!.length]] as const;
    return { series: { ...one, samples }, hum: takeHumOff(samples, evidence, one.sampleRateHz, hum, usable) };
  });
  const series = again.map((a) => a.series);
  return { ...hearing, series, hum: again.map((a) => a.hum), noise: noiseBefore(series, hearing.filter) };
}
