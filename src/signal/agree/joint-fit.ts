// From taps to poles: hum off, noise white, seeds, the modes that are significant, the taps that agree with each other,
// the earliest start that holds.

import type { Decimator } from '../filter/decimate.ts';
import { decaysFrom, type Hearing, hear, type Partition, rowsAfter } from '../prepare/hearing.ts';
import { levelledBy } from '../prepare/noise.ts';
import { chooseModes, fitAt, plainModes, SETTLE, type Search } from '../search/order.ts';
import { bandEdges, seedPoles } from '../search/seeds.ts';
import { earliestFit, latestStartRow, type StartedFit } from '../search/start.ts';
import type { PoleLimits } from '../search/varpro.ts';
import type { Tap } from '../tap.ts';
import { type Agreed, agreedModes } from './agreement.ts';

/** A finished joint fit and what it was made to. */
export interface JointFit extends StartedFit {
  readonly hearing: Hearing;
  /** taps that share their poles, group by group */
  readonly partition: Partition;
}

/** Fewest rows of decay a fit is tried on: 50 ms at the usual rate. */
const FEWEST_ROWS = 200;

/** Poles are kept inside these: nothing below 15 Hz, a Q below 4 is no ringing, T60 above 14 s is a steady tone. */
function limitsFor(rateHz: number): PoleLimits {
  return { lowestHz: 15, highestHz: 0.4985 * rateHz, slowestPerS: 0.5, lowestQ: 4 };
}

/** One fit to all given taps, see {@link fitHeard}. */
export const jointFit = (
  taps: readonly Tap[],
  holdOf: readonly number[],
  filter: Decimator,
  topHz: number,
): JointFit | undefined => fitHeard(hear(taps, filter), holdOf, topHz);

/**
 * One fit to all taps that were heard.
 * @param holdOf the hold each tap belongs to, (K,)
 * @param topHz  top of the reported band
 * @param onProgress called with the part done, 0 to 1
 * @param earlyS only so much of the decay, s, in which taps scatter little
 * @param mayRingApart whether every tap may have poles of its own: not where a room answers, which makes taps scatter
 * @returns undefined where the recordings end too soon or nothing stands out of the noise
 */
export function fitHeard(
  heard: Hearing,
  holdOf: readonly number[],
  topHz: number,
  onProgress: (fraction: number) => void = () => {},
  earlyS?: number,
  mayRingApart = earlyS === undefined,
): JointFit | undefined {
  let hearing = earlyS === undefined ? heard : { ...heard, longestS: earlyS };
  const rateHz = hearing.series[0]!.sampleRateHz;
  const limits = limitsFor(rateHz);
  const startRow = latestStartRow(hearing);
  const rows = rowsAfter(hearing, startRow);
  if (rows < FEWEST_ROWS) return undefined;
  const together: Partition = [holdOf.map((_, k) => k)];
  const searchIn = (): Search => ({
    groups: decaysFrom(hearing, together, startRow, rows),
    limits,
    elastic: false,
  });
  let search = searchIn();
  const seeds = seedPoles(search.groups[0]!.taps, rateHz, bandEdges(limits.lowestHz, limits.highestHz));
  onProgress(0.3);
  const rough = plainModes(search, chooseModes(search, fitAt(search, [seeds]), SETTLE));
  onProgress(0.4);
  let agreed = agreedModes(search, rough, holdOf, mayRingApart);
  if (agreed.fit[0]!.poles.length === 0) return undefined;
  onProgress(0.6);
  if (!hearing.noise.heard) {
    hearing = { ...hearing, noise: levelledBy(hearing.noise, leftPerRow(agreed, rows)) };
    search = searchIn();
    const again = chooseModes(search, fitAt(search, [agreed.fit[0]!.poles]), SETTLE);
    agreed = agreedModes(search, again, holdOf, mayRingApart);
  }
  onProgress(0.7);
  const { partition } = agreed;
  const best = earliestFit(hearing, partition, { startRow, ...agreed }, topHz);
  onProgress(0.95);
  return { ...best, hearing, partition };
}

/** Mean square left over of each tap, (K,). */
function leftPerRow({ partition, fit }: Agreed, rows: number): number[] {
  const out: number[] = [];
  partition.forEach((group, g) => {
    group.forEach((k, i) => {
      out[k] = fit[g]!.left[i]! / rows;
    });
  });
  return out;
}
