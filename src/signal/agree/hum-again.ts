// The hum fitted a second time, when the modes are known.
import type { Series } from '../filter/decimate.ts';
import { powerGain, UNIT_WHITENER } from '../filter/whiten.ts';
import { mainsOf } from '../hear/hum-fit.ts';
import type { Grid, Pole } from '../pole.ts';
import { type Hearing, type Partition, rowsAfter, withoutHum } from '../prepare/hearing.ts';
import { roomRows } from '../prepare/noise.ts';
import { type Projection, residuals } from '../search/project.ts';

/**
 * What the modes of a fit leave of the recordings from the start row on, in the recordings' own scale, hum still in.
 * @param from the recordings, with or without their hum
 * @returns in the order of the taps, (K, rows)
 */
function unwhitenedLeftovers(
  hearing: Hearing,
  partition: Partition,
  startRow: number,
  fit: readonly Projection[],
  from: readonly Series[],
): Float64Array[] {
  const rows = rowsAfter(hearing, startRow);
  const grid: Grid = { rows, sampleRateHz: from[0]!.sampleRateHz, whitener: UNIT_WHITENER };
  const out: Float64Array[] = [];
  partition.forEach((which, g) => {
    const taps = which.map((k) => {
      const start = from[k]!.onset + startRow;
      return from[k]!.samples.slice(start, start + rows).map((x) => x / hearing.noise.levels[k]!);
    });
    residuals({ grid, taps, energies: [], hum: [], humInformation: [] }, fit[g]!.poles, fit[g]!.amplitudes).forEach(
      (r, i) => {
        out[which[i]!] = r.map((x) => x * hearing.noise.levels[which[i]!]!);
      },
    );
  });
  return out;
}

/** Within so many bandwidths of a mode a hum line holds what the mode was misjudged by, and is not asked for the mains. */
const NEAR_BANDWIDTHS = 3;
const isNear =
  (lineHz: number) =>
  ({ frequencyHz, decayPerS }: Pole): boolean =>
    Math.abs(lineHz - frequencyHz) < (NEAR_BANDWIDTHS * decayPerS) / Math.PI;

/** The hearing with its hum fitted again, now that the modes are known and the decay can be used as well as the room. */
export function withHumAgain(
  hearing: Hearing,
  partition: Partition,
  startRow: number,
  fit: readonly Projection[],
): Hearing {
  const { filter, recorded, noise, longestS } = hearing;
  const poles = fit.flatMap((projection) => projection.poles);
  const left = unwhitenedLeftovers(hearing, partition, startRow, fit, recorded);
  const hum = recorded.map((one, k) => {
    const before = hearing.hum[k];
    if (before === undefined) return undefined;
    const evidence = one.samples.slice();
    const start = one.onset + startRow;
    evidence.set(left[k]!, start);
    const usable = [roomRows(one, filter), [start, start + left[k]!.length]] as const;
    const gain = powerGain(noise.whitener, one.sampleRateHz);
    const weightOf = (frequencyHz: number): number => (poles.some(isNear(frequencyHz)) ? 0 : gain(frequencyHz));
    return mainsOf(evidence, one.sampleRateHz, before, usable, weightOf);
  });
  return withoutHum({ filter, recorded, hum, longestS });
}
