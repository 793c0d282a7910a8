// How many modes: a mode stays only if it explains more than noise would, anywhere in the band, once in ten thousand
// rounds. Modes are shed one by one until all pass, then looked for in what is left, until nothing stands out.
import { inverseOfFactored } from '../algebra/dense-cholesky.ts';
import { upperChiSquare } from '../quantity/quantile.ts';
import type { Pole } from './atoms.ts';
import { type Decays, leftover, type Projection, project, residuals } from './project.ts';
import { addPowerSpectrum, powerOfTwoFrom } from './spectrum.ts';
import { type PoleLimits, refine } from './varpro.ts';

/** Chance that noise alone puts one mode into a round. */
const FALSE_ALARM = 1e-4;
/** Decay rates of the matched windows the leftover is searched with, 1/s: reverberation times of 1.7 s to 50 ms. */
const SEARCH_DECAYS_PER_S = [4, 12, 33, 80, 140] as const;

/** How long the search goes on: rounds of adding, turns of refining and shedding in each, fit steps in each turn. */
interface Effort {
  readonly rounds: number;
  readonly turns: number;
  readonly steps: number;
}
const THOROUGH: Effort = { rounds: 8, turns: 6, steps: 12 };
/** Enough to see whether a few modes more would explain a start; a contact force cannot be explained by any. */
/** Sheds and refines what is given, looks for nothing more. */
export const SETTLE: Effort = { rounds: 0, turns: 6, steps: 12 };
export const A_GLANCE: Effort = { rounds: 1, turns: 2, steps: 5 };

const MOST_NEW = 6;

/**
 * Explained energy (in noise variances, summed over taps) that a mode must exceed: the chi-square quantile with two
 * degrees of freedom for each tap at FALSE_ALARM over the number of resolvable places in the band (Bonferroni's bound).
 */
export function significanceNeeded(taps: number, bandHz: number): number {
  return upperChiSquare(FALSE_ALARM / (2 * bandHz), 2 * taps);
}

/**
 * A fit to groups of taps: every group has poles of its own (the piece was held a little differently), mode m of one
 * group being mode m of the others. One group is the plain joint fit.
 */
export type Fit = readonly Projection[];

/** Leftover per degree of freedom, never below 1: what the model cannot explain counts as noise. */
export function noiseLevel(groups: readonly Decays[], fit: Fit): number {
  let degrees = 0;
  groups.forEach((decays, g) => {
    degrees += (decays.grid.rows - 2 * (fit[g]!.poles.length + decays.hum.length)) * decays.taps.length;
  });
  return Math.max(1, leftoverOf(fit) / degrees);
}

/** What is left over, summed over groups and taps. */
export const leftoverOf = (fit: Fit): number => fit.reduce((sum, p) => sum + leftover(p), 0);

/**
 * What each mode explains that the others cannot, by tap: the rise of the leftover if that mode alone were dropped.
 * @returns (M, K), in noise variances, taps in the order of the groups
 */
export function explained(fit: Fit): number[][] {
  const modes = fit[0]!.poles.length;
  const out: number[][] = Array.from({ length: modes }, () => []);
  for (const p of fit) {
    const n = p.factor.length ** 0.5;
    const inverse = inverseOfFactored(p.factor, n);
    for (let m = 0; m < modes; m++) {
      const i = 2 * m;
      const a = inverse[i * n + i]!;
      const b = inverse[i * n + i + 1]!;
      const d = inverse[(i + 1) * n + i + 1]!;
      for (const c of p.amplitudes) {
        const x = c[i]!;
        const y = c[i + 1]!;
        out[m]!.push((d * x * x - 2 * b * x * y + a * y * y) / (a * d - b * b));
      }
    }
  }
  return out;
}

/** Everything the search for modes needs to know. */
export interface Search {
  readonly groups: readonly Decays[];
  readonly limits: PoleLimits;
  /** explained energy a mode needs, see {@link significanceNeeded} */
  readonly needed: number;
}

/** Drops the least significant mode, again and again, until every one explains enough; poles that ran together lose one. */
function shed({ groups, needed }: Search, start: readonly (readonly Pole[])[]): Fit {
  let poles = start;
  for (;;) {
    const fit = projectAll(groups, poles);
    if (fit === undefined) {
      poles = without(poles, nearestCouple(poles[0]!));
      continue;
    }
    const gains = explained(fit).map((byTap) => byTap.reduce((sum, gain) => sum + gain, 0));
    const worst = gains.reduce((at, gain, i) => (gain < gains[at]! ? i : at), 0);
    if (gains.length === 0 || gains[worst]! >= needed * noiseLevel(groups, fit)) return fit;
    poles = without(poles, worst);
  }
}

const without = (poles: readonly (readonly Pole[])[], mode: number): Pole[][] =>
  poles.map((group) => group.toSpliced(mode, 1));

function projectAll(groups: readonly Decays[], poles: readonly (readonly Pole[])[]): Fit | undefined {
  const fit: Projection[] = [];
  for (const [g, decays] of groups.entries()) {
    const p = project(decays, poles[g]!);
    if (p === undefined) return undefined;
    fit.push(p);
  }
  return fit;
}

/** Index of one of the two poles that lie nearest each other, measured in bandwidths. */
function nearestCouple(poles: readonly Pole[]): number {
  let at = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < poles.length; i++) {
    for (let j = 0; j < i; j++) {
      const a = poles[i]!;
      const b = poles[j]!;
      const apart = Math.hypot(2 * Math.PI * (a.frequencyHz - b.frequencyHz), a.decayPerS - b.decayPerS);
      const distance = apart / (a.decayPerS + b.decayPerS);
      if (distance < least) {
        least = distance;
        at = i;
      }
    }
  }
  return at;
}

/** Refines the poles of every group. */
export function refineAll(
  { groups, limits }: Search,
  poles: readonly (readonly Pole[])[],
  steps: number,
): Fit | undefined {
  const fit: Projection[] = [];
  for (const [g, decays] of groups.entries()) {
    const p = refine(decays, poles[g]!, limits, steps);
    if (p === undefined) return undefined;
    fit.push(p);
  }
  return fit;
}

/** Refines and sheds in turn until both are content. */
function settle(search: Search, start: readonly (readonly Pole[])[], effort: Effort): Fit {
  let fit = shed(search, start);
  for (let turn = 0; turn < effort.turns; turn++) {
    const refined = refineAll(search, polesOf(fit), effort.steps);
    if (refined === undefined) return fit;
    fit = shed(search, polesOf(refined));
    if (fit[0]!.poles.length === refined[0]!.poles.length) return refined;
  }
  return fit;
}

/** Poles of every group of a fit. */
export const polesOf = (fit: Fit): (readonly Pole[])[] => fit.map((p) => p.poles);

/**
 * The set of modes that explains the taps: from candidates to a fit in which every mode is significant and nothing
 * significant is left.
 * @param start candidate poles for each group, spurious ones welcome
 */
export function chooseModes(search: Search, start: readonly (readonly Pole[])[], effort = THOROUGH): Fit {
  const { groups, limits, needed } = search;
  let fit = settle(search, start, effort);
  for (let round = 0; round < effort.rounds; round++) {
    const noise = noiseLevel(groups, fit);
    const left = groups.flatMap((decays, g) => residuals(decays, fit[g]!));
    const fresh = standing(left, groups[0]!.grid.sampleRateHz, needed * noise, limits);
    if (fresh.length === 0) break;
    const trial = settle(
      search,
      polesOf(fit).map((poles) => [...poles, ...fresh]),
      effort,
    );
    if (leftoverOf(fit) - leftoverOf(trial) < needed * noise) break;
    fit = trial;
  }
  return fit;
}

/**
 * What stands out of the leftovers: peaks of the tap-summed spectrum under matched windows exp(-a t).
 * For unit noise 2 |sum r exp(-a t) exp(-i w t)|^2 / sum exp(-2 a t) is chi-square with two degrees of freedom.
 * @returns poles, strongest first, no two within each other's bandwidth
 */
function standing(
  leftovers: readonly Float64Array[],
  sampleRateHz: number,
  needed: number,
  limits: PoleLimits,
): Pole[] {
  const found: { pole: Pole; height: number }[] = [];
  for (const decayPerS of SEARCH_DECAYS_PER_S) {
    const rows = Math.min(leftovers[0]!.length, Math.ceil((4 * sampleRateHz) / decayPerS));
    const window = new Float64Array(rows);
    let energy = 0;
    for (let n = 0; n < rows; n++) {
      window[n] = Math.exp((-decayPerS * n) / sampleRateHz);
      energy += window[n]! * window[n]!;
    }
    const size = powerOfTwoFrom(1.5 * rows);
    const sum = new Float64Array(size / 2 + 1);
    for (const r of leftovers) addPowerSpectrum(r, window, 2 / energy, sum);
    for (let k = 1; k + 1 < sum.length; k++) {
      const height = sum[k]!;
      const frequencyHz = (k * sampleRateHz) / size;
      if (height < needed || height < sum[k - 1]! || height <= sum[k + 1]!) continue;
      if (frequencyHz < limits.lowestHz || frequencyHz > limits.highestHz) continue;
      if ((Math.PI * frequencyHz) / decayPerS < limits.lowestQ) continue;
      found.push({ pole: { frequencyHz, decayPerS }, height });
    }
  }
  found.sort((a, b) => b.height - a.height);
  const kept: Pole[] = [];
  for (const { pole } of found) {
    const near = (other: Pole): boolean =>
      Math.abs(other.frequencyHz - pole.frequencyHz) * 2 * Math.PI < Math.max(other.decayPerS, pole.decayPerS);
    if (kept.length < MOST_NEW && !kept.some(near)) kept.push(pole);
  }
  return kept;
}
