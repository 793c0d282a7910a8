// Do all taps ring alike? Holding the piece anew shifts its modes a little, sometimes even from tap to tap. A fit that
// forces one set of poles on such taps would need false modes to explain the shifts, so taps share their poles only as
// widely as they agree.
import { upperChiSquare } from '../../quantity/quantile.ts';
import type { Pole } from '../pole.ts';
import type { Decays, Partition } from '../prepare/hearing.ts';
import { chooseModes, type Fit, fitAt, leftoverOf, noiseLevel, type Search } from '../search/order.ts';
import { type Projection, partOf } from '../search/project.ts';
import { inverseInformation } from '../search/uncertainty.ts';
import { information } from '../search/varpro.ts';

/** Chance of finding that agreeing taps scatter. */
const FALSE_SCATTER = 1e-3;
/** Two poles nearer than this many of their mean bandwidths may be one that moves from tap to tap. */
const COUPLE_BANDWIDTHS = 1.5;
/** Leftover in noise variances below which shifting poles are a likely explanation, worth trying exactly. */
const NEARLY_EXPLAINED = 2;
/** Curvature lent to a mode that a tap hardly excites, as a part of its mean curvature over the taps. */
const RIDGE = 1e-6;

/** What some taps would like the poles of their group to be: one Newton step from the common poles. */
export interface Wish {
  /** step in (w / a, ln a) of each mode, (2 M,) */
  readonly step: Float64Array;
  /** its covariance for unit noise, (2 M, 2 M) row-major */
  readonly covariance: Float64Array;
  /** slope' covariance slope: chi-square with 2 M degrees of freedom where the taps agree */
  readonly chiSquare: number;
}

/** The wish of taps `which` of a group. */
export function wishOf(decays: Decays, p: Projection, which: readonly number[]): Wish {
  const rateHz = decays.grid.sampleRateHz;
  const { slope, matrix } = information(p, rateHz, which);
  const all = information(p, rateHz, decays.taps.keys()).matrix;
  const n = slope.length;
  for (let i = 0; i < n; i++) matrix[i * n + i]! += RIDGE * all[i * n + i]!;
  const covariance = inverseInformation(matrix, n);
  const step = slope.map((_, i) => slope.reduce((sum, s, j) => sum + covariance[i * n + j]! * s, 0));
  return { step, covariance, chiSquare: step.reduce((sum, x, i) => sum + x * slope[i]!, 0) };
}

/** A set of modes, which taps share poles, and what they were searched in. */
export interface Agreed {
  readonly partition: Partition;
  readonly search: Search;
  readonly fit: Fit;
}

/**
 * The modes of the taps, and how far the taps agree on them.
 * Poles common to all taps come first. Where taps scatter, or poles lie so close that they may be one that moves, couples
 * are merged and the poles may shift, freely from hold to hold, to first order from tap to tap, and where that is
 * nearly enough freely from tap to tap as well; the fit with the lowest Bayesian information criterion is taken. (A real close partner, sounding differently in every tap, also makes
 * taps scatter; then the common fit with both modes wins.) Source of the criterion: Schwarz, Ann. Stat. 6 (1978) 461.
 * @param together search over all taps as one group
 * @param rough    settled fit of all taps as one group, nothing yet added
 * @param holdOf   hold of each tap, (K,)
 * @param mayRingApart whether every tap may have poles of its own
 */
export function agreedModes(together: Search, rough: Fit, holdOf: readonly number[], mayRingApart = true): Agreed {
  const all = holdOf.map((_, k) => k);
  const common: Agreed = { partition: [all], search: together, fit: chooseModes(together, rough) };
  if (all.length === 1 || (!hasCouples(rough) && !scatters(together, rough))) return common;
  const merged = withoutCouples(rough[0]!.poles);
  const tried = (partition: Partition, elastic: boolean): Agreed => {
    const groups = partition.map((which) => partOf(together.groups[0]!, which));
    const search = { ...together, groups, elastic };
    return {
      partition,
      search,
      fit: chooseModes(
        search,
        fitAt(
          search,
          partition.map(() => merged),
        ),
      ),
    };
  };
  const holds = [...new Set(holdOf)].map((hold) => all.filter((k) => holdOf[k] === hold));
  const apart: Agreed[] = holds.length > 1 ? [tried(holds, false)] : [];
  if (apart.length === 0 || scatters(apart[0]!.search, apart[0]!.fit)) apart.push(tried(holds, true));
  const likely = Math.min(...apart.map(({ search, fit }) => noiseLevel(search, fit)));
  if (mayRingApart && apart.every((one) => criterion(one) > criterion(common)) && likely < NEARLY_EXPLAINED) {
    apart.push(
      tried(
        all.map((k) => [k]),
        false,
      ),
    );
  }
  return [common, ...apart].reduce((best, one) => (criterion(one) < criterion(best) ? one : best));
}

const isCouple = (a: Pole, b: Pole): boolean =>
  2 * Math.PI * Math.abs(a.frequencyHz - b.frequencyHz) < COUPLE_BANDWIDTHS * (a.decayPerS + b.decayPerS);

const hasCouples = (fit: Fit): boolean =>
  fit[0]!.poles.some((a, i) => fit[0]!.poles.slice(0, i).some((b) => isCouple(a, b)));

/** The poles with every chain of couples replaced by one pole at its mean. */
function withoutCouples(poles: readonly Pole[]): Pole[] {
  const chains: Pole[][] = [];
  for (const pole of poles.toSorted((a, b) => a.frequencyHz - b.frequencyHz)) {
    const chain = chains.at(-1);
    if (chain !== undefined && isCouple(chain.at(-1)!, pole)) chain.push(pole);
    else chains.push([pole]);
  }
  return chains.map((chain) => ({
    frequencyHz: chain.reduce((sum, pole) => sum + pole.frequencyHz, 0) / chain.length,
    decayPerS: chain.reduce((sum, pole) => sum + pole.decayPerS, 0) / chain.length,
  }));
}

/** Whether the wishes of the taps of a group differ by more than noise. */
function scatters(search: Search, fit: Fit): boolean {
  let chiSquare = 0;
  let degrees = 0;
  search.groups.forEach((decays, g) => {
    for (const k of decays.taps.keys()) chiSquare += wishOf(decays, fit[g]!, [k]).chiSquare;
    degrees += 2 * fit[g]!.poles.length * (decays.taps.length - 1);
  });
  return degrees > 0 && chiSquare > noiseLevel(search, fit) * upperChiSquare(FALSE_SCATTER, degrees);
}

/** Bayesian information criterion up to a constant: n ln(leftover / n) + parameters ln n. */
function criterion({ search, fit }: Agreed): number {
  const { groups, elastic } = search;
  const taps = groups.reduce((sum, decays) => sum + decays.taps.length, 0);
  const rows = groups[0]!.grid.rows * taps;
  const parameters = 2 * fit[0]!.poles.length * (groups.length + taps * (elastic ? 2 : 1));
  return rows * Math.log(leftoverOf(search, fit) / rows) + parameters * Math.log(rows);
}
