// Where the fit begins: as early as the sound already rings freely. Contact forces are no decaying sinusoids, so while
// the finger still touches, an earlier start either leaves too much over or moves the modes.
import type { Estimate } from '../../quantity/estimate.ts';
import { decaysFrom, type Hearing, type Partition } from '../prepare/hearing.ts';
import {
  A_GLANCE,
  chooseModes,
  energyNeeded,
  type Fit,
  fitAt,
  leftoverOf,
  noiseLevel,
  polesOf,
  refineAll,
  type Search,
} from './order.ts';
import { type KnownPole, uncertainties } from './uncertainty.ts';

/** The start that lies beyond any contact, and those tried after it, in order, s after the onset. */
const LATEST_S = 0.013;
const OFFSETS_S = [0.009, 0.006, 0.004, 0.002] as const;
/** Standard deviations by which a mode may move, and the early rows' leftover exceed the noise, between two starts. */
const MOVED = 3.5;
const EXCESS = 4;

/** A mode that had died away by more than this before the fit could begin is not known from it, neper (20 dB). */
export const GONE_NEPER = Math.log(10);

/** A fit and the row it starts from. */
export interface StartedFit {
  readonly startRow: number;
  readonly search: Search;
  readonly fit: Fit;
}

/** Row of an offset: the first grid row not before it. */
const rowOf = (offsetS: number, hearing: Hearing): number =>
  Math.ceil(offsetS * hearing.series[0]!.sampleRateHz - 1e-9);

/** Row of the latest start tried. */
export const latestStartRow = (hearing: Hearing): number => rowOf(LATEST_S, hearing);

/**
 * The fit from the earliest start that agrees with the later ones: with poles refitted, the rows gained hold no more
 * than noise (chi-square), and no mode of the reported band moved by more than the difference of the two variances allows.
 * @param latest the fit at the latest start
 * @param topHz  top of the reported band; modes above it are quick and may be recognised only now
 * Source: the comparison of an efficient with a robust estimate: Hausman, Econometrica 46 (1978) 1251.
 */
export function earliestFit(hearing: Hearing, partition: Partition, latest: StartedFit, topHz: number): StartedFit {
  const end = latest.startRow + latest.search.groups[0]!.grid.rows;
  const begin = (offsetS: number, from: StartedFit): StartedFit | undefined => {
    const startRow = rowOf(offsetS, hearing);
    const search = { ...from.search, groups: decaysFrom(hearing, partition, startRow, end - startRow) };
    const given = fitAt(search, polesOf(from.fit));
    const same = { startRow, search, fit: refineAll(search, given, 6) };
    if (agrees(from, same, topHz)) return same;
    const more = { startRow, search, fit: chooseModes(search, same.fit, A_GLANCE) };
    return agrees(from, more, topHz) ? more : undefined;
  };
  let best = latest;
  for (const offsetS of OFFSETS_S) {
    const earlier = begin(offsetS, best);
    if (earlier === undefined) break;
    best = earlier;
  }
  return best === latest ? best : { ...best, fit: chooseModes(best.search, best.fit) };
}

function agrees(late: StartedFit, early: StartedFit, topHz: number): boolean {
  const { groups } = late.search;
  const noise = noiseLevel(late.search, late.fit);
  const taps = groups.reduce((sum, decays) => sum + decays.taps.length, 0);
  const gained = (late.startRow - early.startRow) * taps;
  const excess = (leftoverOf(early.search, early.fit) - leftoverOf(late.search, late.fit)) / noise - gained;
  if (excess > Math.max(EXCESS * Math.sqrt(2 * gained), energyNeeded(early.search, noise) / noise)) return false;
  return groups.every((decays, g) => {
    const earlyModes = uncertainties(early.search.groups[g]!, early.fit[g]!, noise);
    return uncertainties(decays, late.fit[g]!, noise).every((mode) => {
      if (mode.frequencyHz.value > topHz) return true;
      const distance = (other: KnownPole): number => Math.abs(other.frequencyHz.value - mode.frequencyHz.value);
      const same = earlyModes.reduce((a, b) => (distance(b) < distance(a) ? b : a));
      return within(mode.frequencyHz, same.frequencyHz) && within(mode.lnDecay, same.lnDecay);
    });
  });
}

const within = (late: Estimate, early: Estimate): boolean =>
  Math.abs(late.value - early.value) <=
  MOVED * Math.sqrt(Math.max(late.sigma ** 2 - early.sigma ** 2, 0.05 * late.sigma ** 2));
