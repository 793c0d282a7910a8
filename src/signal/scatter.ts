// How far the modes of a round can be trusted: the noise of the fit, how taps of one hold scatter, how holds scatter.
import { estimate, HALF_WIDTH_95 } from '../quantity/estimate.ts';
import { studentHalfWidth95, upperChiSquare } from '../quantity/quantile.ts';
import { wishOf } from './agreement.ts';
import type { JointFit } from './joint-fit.ts';
import { leftoversOf, noiseLevel } from './order.ts';
import { levelBeside } from './standing.ts';
import type { KnownPole } from './uncertainty.ts';

/** Chance of widening an interval because of taps that only seem to scatter. */
const FALSE_INFLATION = 0.02;

/** A value and its variance, of one tap or one hold. */
interface Reading {
  readonly value: number;
  readonly variance: number;
}

/**
 * Mean of readings that scatter beyond their own variances (random effects), and the scatter's variance.
 * Source: DerSimonian & Laird, Controlled Clinical Trials 7 (1986) 177.
 */
export function scatteringMean(readings: readonly Reading[]): { mean: number; variance: number; scatter: number } {
  const plain = weightedMean(readings, 0);
  const weights = readings.map((r) => 1 / r.variance);
  const sum = weights.reduce((a, b) => a + b, 0);
  const squares = weights.reduce((a, b) => a + b * b, 0);
  const q = readings.reduce((a, r, i) => a + weights[i]! * (r.value - plain.mean) ** 2, 0);
  const free = sum - squares / sum;
  const scatter = free > 0 ? Math.max(0, (q - (readings.length - 1)) / free) : 0;
  return { ...weightedMean(readings, scatter), scatter };
}

function weightedMean(readings: readonly Reading[], scatter: number): { mean: number; variance: number } {
  let sum = 0;
  let weight = 0;
  for (const r of readings) {
    sum += r.value / (r.variance + scatter);
    weight += 1 / (r.variance + scatter);
  }
  return { mean: sum / weight, variance: 1 / weight };
}

/** Readings of one quantity of one mode: of each tap, and of each hold as the fit of that hold gives it. */
interface Readings {
  readonly taps: readonly Reading[];
  readonly holds: readonly Reading[];
  /** true where the holds' variances already hold the scatter of their taps */
  readonly scatterIncluded: boolean;
}

/** A pole with the standard deviations the noise alone would leave it, and those to be stated. */
export interface TrustedPole {
  readonly noiseOnly: KnownPole;
  readonly stated: KnownPole;
}

/**
 * The modes of a round with standard deviations that hold noise and scatter.
 *
 * sigma^2 = u_fit^2 + tau^2 / H k^2. u_fit: Fisher information of all taps at the noise level found beside the mode; where the taps of a hold scatter more than
 * it allows (chi-square, 2 %) inflated by the Birge ratio chi^2 / dof. tau: scatter between H holds beyond that, half
 * from the mode's own holds, half pooled over all modes (relative in frequency, logarithmic in decay), since three holds
 * say little about one mode. k = t(2 (H - 1)) / 1.96 widens sigma so that +- 1.96 sigma is the 95 % interval of
 * Student's t: sigma is always to be read as "half the 95 % interval over 1.96".
 * Source: Birge, Phys. Rev. 40 (1932) 207; JCGM 100:2008 (GUM) annex G.3; shrinking variances toward a pooled one: Smyth,
 * Stat. Appl. Genet. Mol. Biol. 3 (2004) 3, in simplest form; coverage with 2 and 3 holds in tests/signal/scatter.test.ts.
 */
export function trustedPoles(joint: JointFit, holdOf: readonly number[]): TrustedPole[] {
  const { search, fit } = joint;
  const modes = fit[0]!.poles.length;
  const left = leftoversOf(search, fit);
  const beside = levelBeside(left, search.groups[0]!.grid.sampleRateHz, fit[0]!.poles);
  const noise = beside.map((level) => Math.max(level, noiseLevel(search, fit)));
  const readings = Array.from({ length: modes }, (_, m) => ({
    frequency: readingsOf(joint, holdOf, 2 * m, noise[m]!),
    decay: readingsOf(joint, holdOf, 2 * m + 1, noise[m]!),
  }));
  const frequency = combined(readings.map((r) => r.frequency));
  const decay = combined(readings.map((r) => r.decay));
  return frequency.map((f, m) => {
    const pole = (kind: 'noiseOnly' | 'stated'): KnownPole => ({
      frequencyHz: estimate(Math.exp(f.value), Math.exp(f.value) * f[kind]),
      lnDecay: estimate(decay[m]!.value, decay[m]![kind]),
    });
    return { noiseOnly: pole('noiseOnly'), stated: pole('stated') };
  });
}

/**
 * Readings of ln frequency (even `index`) or ln decay (odd) of mode index / 2.
 * @param noise variance of the whitened noise about the mode
 * Each tap's and each hold's reading is its group's pole plus the Newton step it wishes for.
 */
function readingsOf(
  { search, fit, partition }: JointFit,
  holdOf: readonly number[],
  index: number,
  noise: number,
): Readings {
  const m = index >> 1;
  const read = (g: number, which: readonly number[]): Reading => {
    const p = fit[g]!;
    const { step, covariance } = wishOf(search.groups[g]!, p, which);
    const { frequencyHz, decayPerS } = p.poles[m]!;
    const unit = index % 2 === 0 ? decayPerS / (2 * Math.PI * frequencyHz) : 1;
    const value = Math.log(index % 2 === 0 ? frequencyHz : decayPerS);
    const variance = covariance[index * (step.length + 1)]! * unit * unit * noise;
    return { value: value + step[index]! * unit, variance };
  };
  const taps: Reading[] = [];
  partition.forEach((group, g) => {
    group.forEach((k, i) => {
      taps[k] = read(g, [i]);
    });
  });
  let scatterIncluded = false;
  const holds = [...new Set(holdOf)].map((hold) => {
    const inGroup = partition.map((group) => group.flatMap((k, i) => (holdOf[k] === hold ? [i] : [])));
    const present = inGroup.flatMap((which, g) => (which.length > 0 ? [g] : []));
    if (present.length === 1 && !search.elastic) return read(present[0]!, inGroup[present[0]!]!);
    const own = taps.filter((_, k) => holdOf[k] === hold);
    if (own.length === 1) return own[0]!;
    scatterIncluded = true;
    const { mean, variance } = scatteringMean(own);
    return { value: mean, variance: variance * studentWidening(own.length - 1) };
  });
  return { taps: withHolds(taps, holdOf), holds, scatterIncluded };
}

/** Taps' readings as deviations from their hold's own mean. */
function withHolds(taps: readonly Reading[], holdOf: readonly number[]): Reading[] {
  return taps.map((tap, k) => {
    const { mean } = weightedMean(
      taps.filter((_, other) => holdOf[other] === holdOf[k]),
      0,
    );
    return { value: tap.value - mean, variance: tap.variance };
  });
}

/** Factor on a variance from few readings, so that 1.96 standard deviations hold 95 % of Student's t. */
const studentWidening = (degrees: number): number => (studentHalfWidth95(degrees) / HALF_WIDTH_95) ** 2;

/** Combines the readings of one quantity for all modes. */
function combined(modes: readonly Readings[]): { value: number; noiseOnly: number; stated: number }[] {
  const holds = modes[0]?.holds.length ?? 0;
  const plain = modes.map((readings) => weightedMean(readings.holds, 0));
  const inflated = modes.map(({ taps, holds: own, scatterIncluded }) => {
    const free = taps.length - own.length;
    const chiSquare = taps.reduce((sum, r) => sum + r.value ** 2 / r.variance, 0);
    if (scatterIncluded || free === 0 || chiSquare < upperChiSquare(FALSE_INFLATION, free)) return own;
    return own.map((r) => ({ ...r, variance: r.variance * (chiSquare / free) * studentWidening(free) }));
  });
  const excess = inflated.map((own) => {
    const mean = own.reduce((sum, r) => sum + r.value, 0) / holds;
    const seen = own.reduce((sum, r) => sum + (r.value - mean) ** 2, 0) / Math.max(1, holds - 1);
    const expected = own.reduce((sum, r) => sum + r.variance, 0) / holds;
    return { beyond: holds > 1 ? seen - expected : 0, expected };
  });
  const pooled = pooledScatter(excess);
  return inflated.map((own, m) => {
    const scatter = Math.max(0, (pooled + excess[m]!.beyond) / 2);
    const variance = weightedMean(own, 0).variance + (scatter / holds) * studentWidening(2 * (holds - 1));
    return {
      value: weightedMean(own, scatter).mean,
      noiseOnly: Math.sqrt(plain[m]!.variance),
      stated: Math.sqrt(variance),
    };
  });
}

/** Scatter variance common to all modes: mean of what their holds show beyond noise, the well-known modes weighing more. */
function pooledScatter(excess: readonly { readonly beyond: number; readonly expected: number }[]): number {
  let pooled = 0;
  for (let pass = 0; pass < 3; pass++) {
    let sum = 0;
    let weight = 0;
    for (const { beyond, expected } of excess) {
      const w = 1 / (expected + pooled) ** 2;
      sum += w * beyond;
      weight += w;
    }
    pooled = weight > 0 ? Math.max(0, sum / weight) : 0;
  }
  return pooled;
}
