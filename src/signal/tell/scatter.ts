// How far the modes of a round can be trusted: the noise of the fit, how taps of one hold scatter, how holds scatter.
import { estimate } from '../../quantity/estimate.ts';
import { upperChiSquare } from '../../quantity/quantile.ts';
import {
  acrossHolds,
  type HeldQuantity,
  type Trusted,
  USUAL_DECAY_SCATTER,
  USUAL_FREQUENCY_SCATTER,
} from '../agree/hold-scatter.ts';
import type { JointFit } from '../agree/joint-fit.ts';
import { studentWidening, weightedMean } from '../agree/random-effects.ts';
import { type Readings, readingsOf } from '../agree/readings.ts';
import { bends } from '../search/curvature.ts';
import { gainsOf, leftoversOf, noiseLevel } from '../search/order.ts';
import { levelBeside } from '../search/standing.ts';
import type { KnownPole } from '../search/uncertainty.ts';
import { diffusePulls, type Pull } from './diffuse-pull.ts';
import { noiseOfAnswer } from './room-answer.ts';

/** Chance of widening an interval because of taps that only seem to scatter. */
const FALSE_INFLATION = 0.02;

/**
 * What is neither noise nor a decay, at a mode over beside it, where the fit takes it for the mode. Chosen on synthetic rooms
 * of seeds that no table shows.
 */
const WITHIN_OVER_BESIDE = 2;

/** A pole with the standard deviations the noise alone would leave it, and those to be stated. */
export interface TrustedPole {
  readonly noiseOnly: KnownPole;
  readonly stated: KnownPole;
  /** variance of the noise about the mode, in the whitened noise's own, the room's answer included */
  readonly noise: number;
  /** factor on the standard deviations for what the room answers: 1 in a dead room */
  readonly widened: number;
}

/** Variance of what is left about the modes, in the whitened noise's own. */
export interface NoiseAbout {
  /** of the whole fit; it differs from tap to tap */
  readonly level: number;
  /** what is left close to each mode, (M,) */
  readonly beside: readonly number[];
  /** what the room's answer and all else that is no decay adds at each mode, the same in all taps, (M,) */
  readonly excess: readonly number[];
  /** how far the room's answer has pulled each pole, (M,) */
  readonly pulls: readonly Pull[];
}

const UNPULLED: Pull = { re: 0, im: 0, factor: 1 };

/**
 * The noise about the modes of a fit: the largest of what is left beside a mode, of what was left early, and of what the room's
 * answer may have done to the mode itself.
 * @param answer from `roomAnswer`; undefined where the room itself was struck, so that nothing answers it
 */
export function noiseAbout(joint: JointFit, answer: number | undefined): NoiseAbout {
  const { search, fit } = joint;
  const level = noiseLevel(search, fit);
  const beside = levelBeside(leftoversOf(search, fit), search.groups[0]!.grid.sampleRateHz, fit[0]!.poles);
  const taps = search.groups.reduce((sum, decays) => sum + decays.taps.length, 0);
  const gains = gainsOf(search, fit);
  const pulls = answer === undefined ? gains.map(() => UNPULLED) : pullsOf(joint, level, gains);
  const early = noiseOfAnswer(answer ?? 0);
  const excess = beside.map((about, m) =>
    Math.max(
      WITHIN_OVER_BESIDE * Math.max(0, about - level),
      (early * gains[m]!) / taps,
      (level * (pulls[m]!.factor - 1)) / taps,
    ),
  );
  return { level, beside, excess, pulls };
}

/** More than this part of a mode left along one order is no answer of a room, nor any small bend: nothing is read from it. */
const MOST_BENT = 1;

/** The pull on each pole, (M,): what is left along it, and how well noise alone leaves it known. */
function pullsOf({ search, fit }: JointFit, level: number, gains: readonly number[]): Pull[] {
  return diffusePulls(
    bends(search, fit).map((ofMode, m) => ({
      decayPerS: fit[0]!.poles[m]!.decayPerS,
      bends: ofMode.some(({ re, im }) => !(Math.hypot(re, im) < MOST_BENT))
        ? []
        : ofMode.map((bend) => ({ ...bend, variance: level * bend.variance })),
      variance: (2 * level) / gains[m]!,
    })),
  );
}

/**
 * The modes of a round, the pull of the room taken off them, with standard deviations that hold noise and scatter.
 *
 * sigma^2 = u_fit^2 + scatter between holds. u_fit: Fisher information of all taps at the noise level found beside the
 * mode, the part of it that is no noise (the room's answer, alike in all taps) not averaged over the taps; where the taps
 * of a hold scatter more than it allows (chi-square, 2 %) inflated by the Birge ratio chi^2 / dof. The scatter between
 * holds: hold-scatter.ts. sigma is always to be read as "half the 95 % interval over 1.96".
 * @param answer see {@link noiseAbout}
 * Source: Birge, Phys. Rev. 40 (1932) 207; JCGM 100:2008 (GUM) annex G.3.
 */
export function trustedPoles(joint: JointFit, holdOf: readonly number[], answer?: number): TrustedPole[] {
  const { poles } = joint.fit[0]!;
  const { level, beside, excess, pulls } = noiseAbout(joint, answer);
  const noise = excess.map((more) => level + more);
  const ofAll = excess.map((more) => level + more * holdOf.length);
  const readings = readingsOf(joint, holdOf, noise, ofAll);
  const quantity = (parity: 0 | 1, usual: number): readonly Trusted[] =>
    acrossHolds(
      poles.map((_, m) => ofQuantity(readings, holdOf, 2 * m + parity)),
      usual,
    );
  const frequency = quantity(0, USUAL_FREQUENCY_SCATTER);
  const decay = quantity(1, USUAL_DECAY_SCATTER);
  return frequency.map((f, m) => {
    const frequencyHz = Math.exp(f.value) + (poles[m]!.decayPerS * pulls[m]!.im) / Math.PI;
    const lnDecay = decay[m]!.value - 2 * pulls[m]!.re;
    const pole = (kind: 'noiseOnly' | 'stated'): KnownPole => ({
      frequencyHz: estimate(frequencyHz, frequencyHz * f[kind]),
      lnDecay: estimate(lnDecay, decay[m]![kind]),
    });
    return {
      noiseOnly: pole('noiseOnly'),
      stated: pole('stated'),
      noise: ofAll[m]!,
      widened: Math.sqrt(ofAll[m]! / Math.max(beside[m]!, level)),
    };
  });
}

/** The holds' readings of quantity `index`, and the Birge ratio of their taps about them where it is significant. */
function ofQuantity(
  { taps, holds, scatterIncluded }: Readings,
  holdOf: readonly number[],
  index: number,
): HeldQuantity {
  const own = taps.map((tap) => tap[index]!);
  const means = new Map(
    [...new Set(holdOf)].map((hold) => [
      hold,
      weightedMean(
        own.filter((_, k) => holdOf[k] === hold),
        0,
      ).value,
    ]),
  );
  const chiSquare = own.reduce(
    (sum, { value, variance }, k) => sum + (value - means.get(holdOf[k]!)!) ** 2 / variance,
    0,
  );
  const degrees = taps.length - holds.length;
  const scattered = !scatterIncluded && degrees > 0 && chiSquare > upperChiSquare(FALSE_INFLATION, degrees);
  return {
    holds: holds.map((hold) => hold[index]!),
    inflation: scattered ? (chiSquare / degrees) * studentWidening(degrees) : 1,
  };
}
