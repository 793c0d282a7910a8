// Do all taps ring alike? Holding the piece anew shifts its modes a little, sometimes even from tap to tap. A fit that
// forces one set of poles on such taps would need false modes to explain the shifts, so taps share their poles only as
// widely as they agree: all together, hold by hold, or each tap by itself.
import { upperChiSquare } from '../quantity/quantile.ts';
import type { Partition } from './hearing.ts';
import { chooseModes, type Fit, fitAt, leftoverOf, noiseLevel, type Search, withoutCouples } from './order.ts';
import { type Decays, type Projection, partOf } from './project.ts';
import { inverseInformation } from './uncertainty.ts';
import { information } from './varpro.ts';

/** Chance of taking agreeing taps apart. */
const FALSE_SPLIT = 1e-3;
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

/**
 * The modes of the taps, and which taps share poles.
 * Taps are taken apart where their wishes scatter more than noise allows and the fit taken apart is worth its extra
 * parameters by the Bayesian information criterion (a hidden close partner, sounding differently in every tap, also makes
 * wishes scatter; then the common fit with one mode more wins). Source of the criterion: Schwarz, Ann. Stat. 6 (1978) 461.
 * @param together search over all taps as one group
 * @param rough    settled fit of all taps as one group, nothing yet added
 * @param holdOf   hold of each tap, (K,)
 */
export function finestAgreeing(
  together: Search,
  rough: Fit,
  holdOf: readonly number[],
): { readonly partition: Partition; readonly search: Search; readonly fit: Fit } {
  const all = holdOf.map((_, k) => k);
  const holds = [...new Set(holdOf)].map((hold) => all.filter((k) => holdOf[k] === hold));
  let best = { partition: [all] as Partition, search: together, fit: chooseModes(together, rough) };
  let from = withoutCouples(together, rough);
  let coarser: Partition = [all];
  for (const partition of [holds, all.map((k) => [k])]) {
    if (partition.length === coarser.length) continue;
    if (!scatters(searchOf(together, coarser), from, coarser, partition)) break;
    const search = searchOf(together, partition);
    const start = partition.map(([first]) => from[coarser.findIndex((group) => group.includes(first!))]!.poles);
    const fit = chooseModes(search, fitAt(search, start));
    if (criterion(search, fit) < criterion(best.search, best.fit)) best = { partition, search, fit };
    coarser = partition;
    from = fit;
  }
  return best;
}

/** The search with its one group of all taps taken apart. */
function searchOf(together: Search, partition: Partition): Search {
  return { ...together, groups: partition.map((which) => partOf(together.groups[0]!, which)) };
}

/** Whether the wishes of the finer groups differ by more than noise. */
function scatters(search: Search, fit: Fit, coarser: Partition, finer: Partition): boolean {
  let chiSquare = 0;
  let degrees = 0;
  coarser.forEach((group, g) => {
    const parts = finer.filter(([first]) => group.includes(first!));
    for (const part of parts) {
      chiSquare += wishOf(
        search.groups[g]!,
        fit[g]!,
        part.map((k) => group.indexOf(k)),
      ).chiSquare;
    }
    degrees += 2 * fit[g]!.poles.length * (parts.length - 1);
  });
  return degrees > 0 && chiSquare > noiseLevel(search.groups, fit) * upperChiSquare(FALSE_SPLIT, degrees);
}

/** Bayesian information criterion in units of the noise: leftover + parameters ln rows. */
function criterion({ groups }: Search, fit: Fit): number {
  const taps = groups.reduce((sum, decays) => sum + decays.taps.length, 0);
  const modes = fit[0]!.poles.length;
  return leftoverOf(fit) + 2 * modes * (groups.length + taps) * Math.log(groups[0]!.grid.rows * taps);
}
