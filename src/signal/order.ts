// How many modes: a mode stays only if it explains more than noise would, anywhere in the band, once in ten thousand
// rounds. Modes are shed one by one until all pass, then looked for in what is left, until nothing stands out.
import { inverseOfFactored } from '../algebra/dense-cholesky.ts';
import type { Pole } from './atoms.ts';
import { type Decays, leftover, type Projection, project, residuals } from './project.ts';
import { powerOfTwoFrom, powerSpectrum } from './spectrum.ts';
import { type PoleLimits, refine } from './varpro.ts';

/** Chance that noise alone puts one mode into a round. */
const FALSE_ALARM = 1e-4;
/** Decay rates of the matched windows the leftover is searched with, 1/s: reverberation times of 1.7 s to 50 ms. */
const SEARCH_DECAYS_PER_S = [4, 12, 33, 80, 140] as const;
const MOST_ROUNDS = 8;
const MOST_NEW = 6;

/**
 * Explained energy (in noise variances, summed over taps) that a mode must exceed: the chi-square quantile with two
 * degrees of freedom for each tap at FALSE_ALARM over the number of resolvable places in the band.
 * Source: Wilson & Hilferty, Proc. Nat. Acad. Sci. 17 (1931) 684, for the quantile; look-elsewhere as a Bonferroni bound.
 */
export function significanceNeeded(taps: number, bandHz: number): number {
  const places = 2 * bandHz;
  const z = upperNormal(FALSE_ALARM / places);
  const degrees = 2 * taps;
  const spread = 2 / (9 * degrees);
  return degrees * (1 - spread + z * Math.sqrt(spread)) ** 3;
}

/** Normal quantile of a small upper-tail probability. Source: Abramowitz & Stegun, eq. 26.2.23 (error < 4.5e-4). */
export function upperNormal(p: number): number {
  const t = Math.sqrt(-2 * Math.log(p));
  const top = 2.515517 + t * (0.802853 + t * 0.010328);
  return t - top / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
}

/** Leftover per degree of freedom, never below 1: what the model cannot explain counts as noise. */
export function noiseLevel(decays: Decays, p: Projection): number {
  const perTap = decays.grid.rows - 2 * (p.poles.length + decays.hum.length);
  return Math.max(1, leftover(p) / (perTap * decays.taps.length));
}

/**
 * What each mode explains that the others cannot, by tap: the rise of the leftover if that mode alone were dropped.
 * @returns (M, K), in noise variances
 */
export function explained(p: Projection): Float64Array[] {
  const n = p.amplitudes[0]!.length;
  const inverse = inverseOfFactored(p.factor, n);
  return p.poles.map((_, m) => {
    const i = 2 * m;
    const a = inverse[i * n + i]!;
    const b = inverse[i * n + i + 1]!;
    const d = inverse[(i + 1) * n + i + 1]!;
    const determinant = a * d - b * b;
    return Float64Array.from(p.amplitudes, (c) => {
      const x = c[i]!;
      const y = c[i + 1]!;
      return (d * x * x - 2 * b * x * y + a * y * y) / determinant;
    });
  });
}

const total = (x: Float64Array): number => x.reduce((sum, v) => sum + v, 0);

/** Drops the least significant mode, again and again, until every one explains enough; poles that ran together lose one. */
export function shed(decays: Decays, start: readonly Pole[], needed: number): Projection | undefined {
  let poles = [...start];
  for (;;) {
    const p = project(decays, poles);
    if (p === undefined) {
      poles = poles.toSpliced(nearestCouple(poles), 1);
      continue;
    }
    if (poles.length === 0) return p;
    const gains = explained(p).map(total);
    const worst = gains.reduce((at, gain, i) => (gain < gains[at]! ? i : at), 0);
    if (gains[worst]! >= needed * noiseLevel(decays, p)) return p;
    poles = poles.toSpliced(worst, 1);
  }
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

/** Refines and sheds in turn until both are content. */
function settle(
  decays: Decays,
  start: readonly Pole[],
  limits: PoleLimits,
  needed: number,
  steps: number,
): Projection | undefined {
  let p = shed(decays, start, needed);
  for (let turn = 0; p !== undefined && turn < 6; turn++) {
    const refined = refine(decays, p.poles, limits, steps);
    if (refined === undefined) return p;
    p = shed(decays, refined.poles, needed);
    if (p?.poles.length === refined.poles.length) return refined;
  }
  return p;
}

/**
 * The set of modes that explains the taps: from candidates to a fit in which every mode is significant and nothing
 * significant is left.
 * @param start candidate poles, spurious ones welcome
 */
export function chooseModes(decays: Decays, start: readonly Pole[], limits: PoleLimits): Projection | undefined {
  const needed = significanceNeeded(decays.taps.length, limits.highestHz);
  let p = settle(decays, start, limits, needed, 12);
  for (let round = 0; p !== undefined && round < MOST_ROUNDS; round++) {
    const noise = noiseLevel(decays, p);
    const fresh = standing(residuals(decays, p), decays.grid.sampleRateHz, needed * noise, limits);
    if (fresh.length === 0) break;
    const trial = settle(decays, [...p.poles, ...fresh], limits, needed, 12);
    if (trial === undefined || leftover(p) - leftover(trial) < needed * noise) break;
    p = trial;
  }
  return p;
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
    const window = Float64Array.from({ length: rows }, (_, n) => Math.exp((-decayPerS * n) / sampleRateHz));
    const energy = window.reduce((sum, w) => sum + w * w, 0);
    const size = powerOfTwoFrom(2 * rows);
    const sum = new Float64Array(size / 2 + 1);
    for (const r of leftovers) {
      const power = powerSpectrum(
        window.map((w, n) => w * r[n]!),
        size,
      );
      for (let k = 0; k < sum.length; k++) sum[k]! += (2 * power[k]!) / energy;
    }
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
