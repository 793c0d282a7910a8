// How many modes: a mode stays only if it explains more than noise would, anywhere in the band, once in ten thousand
// rounds. Modes are shed one by one until all pass, then looked for in what is left, until nothing stands out.
import { upperChiSquare } from '../../quantity/quantile.ts';
import type { Pole } from '../pole.ts';
import type { Decays } from '../prepare/hearing.ts';
import { elasticFit } from './elastic.ts';
import { Elimination } from './elimination.ts';
import { leftover, type Projection, project, residuals } from './project.ts';
import { type Needed, type Standing, standing } from './standing.ts';
import { type PoleLimits, refine } from './varpro.ts';

/** Chance that noise alone puts one mode into a round. */
const FALSE_ALARM = 1e-4;
/** A fit with more modes than this is chasing something that is no sum of decays. */
const MOST_MODES = 60;

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

/**
 * A fit to groups of taps: every group has poles of its own (the piece was held a little differently), mode m of one
 * group being mode m of the others. One group is the plain joint fit.
 */
export type Fit = readonly Projection[];

/** Leftover per degree of freedom, never below 1: what the model cannot explain counts as noise. */
export function noiseLevel(search: Search, fit: Fit): number {
  const { groups, elastic } = search;
  const perMode = elastic ? 4 : 2;
  let degrees = 0;
  groups.forEach((decays, g) => {
    degrees += (decays.grid.rows - perMode * fit[g]!.poles.length - 2 * decays.hum.length) * decays.taps.length;
  });
  return Math.max(1, leftoverOf(search, fit) / degrees);
}

/** What is left over, summed over groups and taps. */
export function leftoverOf({ elastic }: Search, fit: Fit): number {
  return fit.reduce((sum, p) => sum + leftover(elastic ? elasticFit(p) : p), 0);
}

/** What the fit leaves of each tap, in the order of the groups, (K, rows). */
export function leftoversOf({ groups, elastic }: Search, fit: Fit): Float64Array[] {
  return groups.flatMap((decays, g) => {
    const p = fit[g]!;
    return residuals(decays, p.poles, (elastic ? elasticFit(p) : p).amplitudes);
  });
}

/**
 * What each mode explains that the others cannot, by tap: the rise of the leftover if that mode alone were dropped.
 * @returns (M, K), in noise variances, taps in the order of the groups
 */
export function explained({ elastic }: Search, fit: Fit): number[][] {
  const perGroup = fit.map((p) => new Elimination(p, elastic));
  return fit[0]!.poles.map((_, m) => perGroup.flatMap((group) => group.gains(m)));
}

/** The same summed over taps, (M,). */
export const gainsOf = (search: Search, fit: Fit): number[] => explained(search, fit).map(total);

/** Everything the search for modes needs to know. */
export interface Search {
  readonly groups: readonly Decays[];
  readonly limits: PoleLimits;
  /** whether every tap may shift the poles a little */
  readonly elastic: boolean;
}

/** A mode that explains less than this part of all that rings is not told from the model's own imperfection. */
const LEAST_PART = 5e-5;

/** What a mode must explain, at a noise level. A tap that may shift the mode has four degrees of freedom instead of two. */
function needed({ groups, limits, elastic }: Search, noise: number): Needed {
  let taps = 0;
  let ringing = 0;
  for (const { energies, grid } of groups) {
    taps += energies.length;
    ringing += energies.reduce((sum, energy) => sum + energy - grid.rows, 0);
  }
  const chance = FALSE_ALARM / (2 * limits.highestHz);
  return {
    againstNoise: noise * upperChiSquare(chance, (elastic ? 4 : 2) * taps),
    overAnswer: -Math.log(chance),
    againstImperfection: LEAST_PART * ringing,
  };
}

/** The larger of the two needs, where nothing is known of the surroundings of a mode. */
export function energyNeeded(search: Search, noise: number): number {
  const { againstNoise, againstImperfection } = needed(search, noise);
  return Math.max(againstNoise, againstImperfection);
}

/** The linear fit at given poles of each group; of poles that ran together the nearest couple loses one until it exists. */
export function fitAt({ groups }: Search, start: readonly (readonly Pole[])[]): Fit {
  let poles = start;
  for (;;) {
    const fit = projectAll(groups, poles);
    if (fit !== undefined) return fit;
    const lost = nearestCouple(poles[0]!);
    poles = poles.map((group) => group.toSpliced(lost, 1));
  }
}

/** Drops the least significant mode, again and again, until every one explains enough. */
function shed(search: Search, fit: Fit): Fit {
  const { groups } = search;
  const eliminations = fit.map((p) => new Elimination(p, search.elastic));
  const rows = groups.reduce((sum, decays) => sum + decays.grid.rows * decays.taps.length, 0);
  let noise = noiseLevel(search, fit);
  let kept = fit[0]!.poles.map((_, m) => m);
  for (;;) {
    let worst = -1;
    let least = Number.POSITIVE_INFINITY;
    for (const m of kept) {
      const gain = eliminations.reduce((sum, group) => sum + total(group.gains(m)), 0);
      if (gain < least) {
        least = gain;
        worst = m;
      }
    }
    if (worst < 0 || least >= energyNeeded(search, noise)) break;
    noise += least / rows;
    for (const group of eliminations) group.drop(worst);
    kept = kept.filter((m) => m !== worst);
  }
  if (kept.length === fit[0]!.poles.length) return fit;
  return fitAt(
    search,
    polesOf(fit).map((group) => kept.map((m) => group[m]!)),
  );
}

const total = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0);

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
export function refineAll({ groups, limits }: Search, fit: Fit, steps: number): Fit {
  return fit.map((p, g) => refine(groups[g]!, p, limits, steps));
}

/** Refines and sheds in turn until both are content. */
function settle(search: Search, start: Fit, effort: Effort): Fit {
  let fit = shed(search, start);
  for (let turn = 0; turn < effort.turns; turn++) {
    const refined = refineAll(search, fit, effort.steps);
    fit = shed(search, refined);
    if (fit === refined) break;
  }
  return fit;
}

/** Poles of every group of a fit. */
export const polesOf = (fit: Fit): (readonly Pole[])[] => fit.map((p) => p.poles);

/**
 * The set of modes that explains the taps: from candidates to a fit in which every mode is significant and nothing
 * significant is left.
 * @param start fit at candidate poles, spurious ones welcome, see {@link fitAt}
 */
export function chooseModes(search: Search, start: Fit, effort = THOROUGH): Fit {
  const { groups, limits } = search;
  let fit = withoutCouples(search, settle(search, start, effort));
  for (let round = 0; round < effort.rounds; round++) {
    const need = needed(search, noiseLevel(search, fit));
    const left = leftoversOf(search, fit);
    const gains = gainsOf(search, fit);
    const fresh = standing(left, groups[0]!.grid.sampleRateHz, need, limits).filter(
      (candidate) => !fit[0]!.poles.some((pole, m) => shadows(pole, gains[m]!, candidate)),
    );
    if (fresh.length === 0 || gains.length + fresh.length > MOST_MODES) break;
    const more = polesOf(fit).map((poles) => [...poles, ...fresh.map(({ pole }) => pole)]);
    const trial = withoutCouples(search, settle(search, fitAt(search, more), effort));
    const gained = leftoverOf(search, fit) - leftoverOf(search, trial);
    if (gained < Math.max(need.againstNoise, need.againstImperfection)) break;
    fit = trial;
  }
  return fit;
}

/**
 * Energy below a mode's own, as a part of it, that its ring leaves in a room: the room's answer is not in the model. The
 * part falls with the distance as the room's own resonances do (bandwidth 2.2 / T60 of a room of 0.35 s; Kuttruff, Room
 * Acoustics, eq. 3.26).
 */
const SHADOW = 2e-3;
const SHADOW_HZ = 6;

function shadows(mode: Pole, gain: number, { pole, height }: Standing): boolean {
  const away = (mode.frequencyHz - pole.frequencyHz) / SHADOW_HZ;
  return height < (SHADOW * gain) / (1 + away * away);
}

/** Modes this far below the strongest are looked for again from what the others leave, not taken from the subspace. */
const PLAIN_PART = 1e-2;

/** The plain modes of a fit: those that stand out by themselves, whatever the room sends back. */
export function plainModes(search: Search, fit: Fit): Fit {
  const gains = gainsOf(search, fit);
  const strongest = Math.max(0, ...gains);
  const poles = polesOf(fit).map((group) => group.filter((_, m) => gains[m]! >= PLAIN_PART * strongest));
  return fitAt(search, poles);
}

/** Poles nearer than this part of their bandwidths are taken for one mode that was held differently, until shown otherwise. */
const ONE_MODE = 0.35;

/** The fit with every such couple made one: what taps that do not ring alike look like before they are taken apart. */
function withoutCouples(search: Search, fit: Fit): Fit {
  const gains = gainsOf(search, fit);
  const loudestFirst = fit[0]!.poles.map((_, m) => m).sort((a, b) => gains[b]! - gains[a]!);
  const kept: number[] = [];
  for (const m of loudestFirst) {
    const pole = fit[0]!.poles[m]!;
    const one = kept.some((k) => {
      const other = fit[0]!.poles[k]!;
      const apart = 2 * Math.PI * Math.abs(other.frequencyHz - pole.frequencyHz);
      return apart < ONE_MODE * (other.decayPerS + pole.decayPerS);
    });
    if (!one) kept.push(m);
  }
  if (kept.length === fit[0]!.poles.length) return fit;
  const poles = polesOf(fit).map((group) => kept.map((m) => group[m]!));
  return refineAll(search, fitAt(search, poles), SETTLE.steps);
}
