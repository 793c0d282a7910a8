// The trust check: a kept reference stick against the days on which it read well.
import type { Estimate } from '../quantity/estimate.ts';

/** The stick's frequency against its good days, and whether today's reading belongs to them. */
export interface ControlChart {
  /** median of the good days before, Hz; today's own reading where there is none */
  readonly usualHz: number;
  /** standard deviation of one more check about it, Hz, from the good days; 0 where nothing is known of it */
  readonly sigmaHz: number;
  /** how many good days that rests on */
  readonly goodDays: number;
  /**
   * `not-read`: the reading is too wide to say anything, and says nothing of later days either; `go`: within 2 sigma, or
   * between 2 and 3 once; `look-again`: beyond 3 sigma, or beyond 2 on the same side twice in a row; `too-few`: too few good
   * days to judge by
   */
  readonly verdict: 'go' | 'look-again' | 'too-few' | 'not-read';
}

/** Fewest good days from which a spread is worth stating. Common practice, no source. */
const leastChecks = 4;

/**
 * A reading wider than this says nothing of the day, one sigma over the frequency: a stick on its nodes is read to 0.05 % and
 * differs by 0.1 % from day to day. Common practice, no source.
 */
const widestSigma = 0.003;

/** And none wider than so many spreads of the good days: it could not tell a day that is off from one that is not. */
const widestSpreads = 2;

/** Median difference of two readings over their standard deviation, for normal data: 0.6745 sqrt 2. Source: our derivation. */
const medianDifference = 0.9539;

/**
 * Judges the latest of a series of checks against the good days before it.
 * @param checks frequencies in the order taken, Hz, one sigma each; the last one is judged
 * @throws RangeError if there is no check at all
 * Source: chart for individual values with limits at 2 and 3 sigma (ISO 7870-2:2013), two-of-three rule Western Electric
 * 1956 (both from memory); centre and spread by medians, so that one day that was off before there were enough to judge by
 * does not blind it (median of the differences of all pairs: Rousseeuw and Croux 1993, section 2, from memory).
 */
export function controlChart(checks: readonly Estimate[]): ControlChart {
  if (checks.length === 0) throw new RangeError('controlChart: 0 checks, need at least 1');
  const good: Estimate[] = [];
  let before = 0;
  let chart: ControlChart | undefined;
  for (const check of checks) {
    const { usualHz, sigmaHz } = spreadOf(good, check);
    const sigmas = sigmaHz === 0 ? 0 : (check.value - usualHz) / sigmaHz;
    const verdict = verdictOf(check, good.length, sigmaHz, sigmas, before);
    chart = { usualHz, sigmaHz, goodDays: good.length, verdict };
    if (verdict === 'not-read') continue;
    before = sigmas;
    if (verdict !== 'look-again') good.push(check);
  }
  return chart!;
}

/**
 * Centre of the good days and spread of one more about it; a spread is never below what one reading of theirs is worth.
 * Source: variance of the median of n normal values, pi sigma^2 / 2n for large n (from memory).
 */
function spreadOf(good: readonly Estimate[], today: Estimate): { readonly usualHz: number; readonly sigmaHz: number } {
  if (good.length === 0) return { usualHz: today.value, sigmaHz: 0 };
  const differences = good.flatMap(({ value }, i) => good.slice(0, i).map((other) => Math.abs(value - other.value)));
  const spreadHz = differences.length === 0 ? 0 : median(differences) / medianDifference;
  return {
    usualHz: median(good.map(({ value }) => value)),
    sigmaHz: Math.max(spreadHz, median(good.map(({ sigma }) => sigma))) * Math.sqrt(1 + Math.PI / (2 * good.length)),
  };
}

function verdictOf(
  check: Estimate,
  goodDays: number,
  sigmaHz: number,
  sigmas: number,
  before: number,
): ControlChart['verdict'] {
  if (!(check.sigma <= widestSigma * check.value)) return 'not-read';
  if (goodDays < leastChecks) return 'too-few';
  if (check.sigma > widestSpreads * sigmaHz) return 'not-read';
  const isTwice = Math.abs(sigmas) > 2 && before * Math.sign(sigmas) > 2;
  return Math.abs(sigmas) > 3 || isTwice ? 'look-again' : 'go';
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
