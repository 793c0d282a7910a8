// Whether a pole is the piece's or what the room makes of the piece. The room answers a mode with the same sound however the
// mode was struck: over the taps a pole of the room repeats the amplitudes of the modes that excite it, a mode of the piece
// has amplitudes of its own. That it comes back in every tap says nothing.
import { factorInPlace, solveLower } from '../../algebra/dense-cholesky.ts';
import { explained, noiseLevel } from '../search/order.ts';
import { GONE_NEPER } from '../search/start.ts';
import type { JointFit } from './joint-fit.ts';

/** Fewest taps that have a pattern. */
export const FEWEST_TAPS = 3;

/**
 * Constants of the model. Source: chosen on synthetic rooms by images and judged on others, a study of our own; the judged
 * results are in docs/estimator-accuracy.md.
 */
const ANSWER = 0.2;
/** Part of a pole's own energy that no model explains. */
const UNMODELLED = 1e-5;
/** Energies that a mode of the piece may have under the strongest, dB: any as likely as another. */
const LEVELS_DB = [0, -8, -16, -24, -32] as const;
/** How alike the amplitudes of a mode may be from tap to tap: struck in one place, and in several. */
const ALIKE = [0.97, 0.5] as const;
const SWEEPS = 5;
/** Poles of a lower Q, and those that were gone before the fit began, excite nothing. */
const LOWEST_Q = 7;
/** The density of the answer of a room of which nothing is known, as many poles' worth of knowledge. */
const USUAL_DENSITY = 0.08;
const WORTH_POLES = 3;
/** A pole is counted as the room's below this, ln; what it says of the density is kept within these, ln. */
const OF_ROOM_BELOW = 12;
const LEAST_SAID = -6;
const MOST_SAID = 2;

/**
 * Logistic regression on 7565 poles of 568 rounds in which a room answers, tests/bench/rooms.ts, seeds 743, 748 and 850 million;
 * the constants above were chosen on the same rounds. How far under the strongest a pole is and how near to a stronger one was
 * tried beside them: the likelihood of poles left out hardly grew.
 */
const FITTED = [-1.34, 0.78, -1.01] as const;
/** Evidence counts by itself up to here, and by its logarithm beyond, ln. Of 3, 5, 10, 15 and 30 the likeliest on the same poles. */
const BY_LOGARITHM_FROM = 5;

/** Delays tried to lay the taps on one another, s: a contact is found to some tenths of a millisecond. */
const DELAY_S = 1e-3;
const DELAY_STEP_S = 2.5e-5;
const LAYING_ROUNDS = 3;

/** Complex numbers of every pole in every tap, (M, K) interleaved. */
type Amplitudes = readonly Float64Array[];

/**
 * What the taps of a fit say of its poles: ln of how much likelier the amplitudes of each are as a mode of the piece than as
 * the room's answer to the others, (M,), from their waves at the onset, see `onsetWaves`.
 *
 * A pole j that is the room's has amplitudes b_jk = sum_m A_km w_jm with w_jm alike in all taps, of variance rho W_jm,
 * W_jm = a_j^2 / ((w_j - w_m)^2 + (a_j + a_m)^2): the diffuse answer seen through the mode's skirt. A mode of the piece has
 * amplitudes of its own beside that. Which modes excite is weighed by how likely each is one, in a few sweeps.
 * Source: Polack's model of the diffuse answer, Appl. Acoust. 38 (1993) 235; Bayes factors: Kass & Raftery, J. Am. Stat.
 * Assoc. 90 (1995) 773 (both from memory); the rest is our derivation, checked in tests/signal/agree/tap-pattern.test.ts.
 */
export function tapPatterns(joint: JointFit, waves: readonly Float64Array[]): readonly number[] {
  const { search, fit } = joint;
  const poles = fit[0]!.poles;
  const energies = waves.map(meanSquare);
  const laid = laidTogether(waves, energies, poles);
  const taps = waves[0] === undefined ? 0 : waves[0].length / 2;
  const gains = explained(search, fit);
  const noise = noiseLevel(search, fit);
  const places = joint.partition.flat();
  const variances = laid.map((of, j) => {
    const out = new Array<number>(taps);
    places.forEach((k, i) => {
      out[k] = (2 * square(of, k) * noise) / Math.max(gains[j]![i]!, Number.MIN_VALUE);
    });
    return out;
  });
  const startS = joint.startRow / joint.hearing.series[0]!.sampleRateHz;
  const canExcite = poles.map(
    ({ frequencyHz, decayPerS }) => (Math.PI * frequencyHz) / decayPerS >= LOWEST_Q && decayPerS * startS < GONE_NEPER,
  );
  const weights = poles.map((a) =>
    poles.map((b) => {
      if (a === b) return 0;
      const away = 2 * Math.PI * (a.frequencyHz - b.frequencyHz);
      return a.decayPerS ** 2 / (away ** 2 + (a.decayPerS + b.decayPerS) ** 2);
    }),
  );
  const given = { laid, energies, variances, weights, canExcite, taps };
  return swept(given, densityOf(given, swept(given, ANSWER)) / 2).lnBayes;
}

interface Given {
  readonly laid: Amplitudes;
  readonly energies: readonly number[];
  readonly variances: readonly (readonly number[])[];
  readonly weights: readonly (readonly number[])[];
  readonly canExcite: readonly boolean[];
  readonly taps: number;
}

/** Probability that a pole is the piece's, from its Bayes factor and how well its Q is known (one standard deviation of ln Q). */
export function ofPiece(lnBayes: number, lnQSigma: number): number {
  const [constant, perLn, perSigma] = FITTED;
  const evidence = Math.asinh(lnBayes / BY_LOGARITHM_FROM);
  return 1 / (1 + Math.exp(-(constant + perLn * evidence + perSigma * Math.min(1, lnQSigma))));
}

interface Swept {
  readonly lnBayes: readonly number[];
  /** how likely each pole is a mode of the piece that excites the room, (M,) */
  readonly isMode: readonly number[];
}

/** Bayes factors by a room that answers with this density, sweep by sweep from what the energies alone say. */
function swept(given: Given, answer: number): Swept {
  const { laid, energies, canExcite, taps } = given;
  const strongest = Math.max(...energies);
  let isMode = energies.map((energy, j) => (canExcite[j] ? (energy / strongest) ** 0.25 : 0));
  let lnBayes: number[] = [];
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    const strengths = strengthsOf(laid, isMode, taps);
    lnBayes = laid.map((_, j) => lnBayesOf(given, j, isMode, strengths, strongest, answer));
    isMode = isMode.map((p, j) => (canExcite[j] ? (p + 1 / (1 + Math.exp(-lnBayes[j]!))) / 2 : 0));
  }
  return { lnBayes, isMode };
}

/** Density of the room's answer from the poles that are its own: their energy over what one of density 1 would have there. */
function densityOf({ energies, weights }: Given, { lnBayes, isMode }: Swept): number {
  const said = energies.flatMap((energy, j) => {
    if (lnBayes[j]! >= OF_ROOM_BELOW) return [];
    const answered = weights[j]!.reduce((sum, w, m) => sum + w * isMode[m]! * energies[m]!, 0);
    return [Math.max(LEAST_SAID, Math.min(MOST_SAID, Math.log(energy / Math.max(answered, Number.MIN_VALUE))))];
  });
  const sum = said.reduce((a, b) => a + b, WORTH_POLES * Math.log(USUAL_DENSITY));
  return Math.exp(sum / (said.length + WORTH_POLES));
}

/** How hard each tap was struck, mean square 1, (K,). */
function strengthsOf(laid: Amplitudes, isMode: readonly number[], taps: number): number[] {
  const energy = Array.from({ length: taps }, (_, k) =>
    laid.reduce((sum, of, j) => sum + isMode[j]! * square(of, k), 0),
  );
  const mean = energy.reduce((a, b) => a + b, 0) / taps;
  return energy.map((e) => (mean > 0 ? e / mean : 1));
}

/** ln of the Bayes factor of pole j. */
function lnBayesOf(
  { laid, energies, variances, weights, taps }: Given,
  j: number,
  isMode: readonly number[],
  strengths: readonly number[],
  strongest: number,
  answer: number,
): number {
  const own = laid[j]!;
  const size = 2 * taps;
  const covariance = new Float64Array(size * size);
  weights[j]!.forEach((w, m) => {
    const part = answer * w * isMode[m]!;
    if (part > 0) addOuter(covariance, laid[m]!, part, taps);
  });
  for (let k = 0; k < taps; k++) {
    const alone = variances[j]![k]! + UNMODELLED * (square(own, k) + energies[j]!);
    for (const at of [k, k + taps]) covariance[at * size + at]! += alone;
  }
  const asRoom = lnDensity(covariance, own, taps);
  const asMode = LEVELS_DB.flatMap((db) =>
    ALIKE.map((alike) => {
      const level = strongest * 10 ** (db / 10);
      const ofMode = covariance.slice();
      for (let k = 0; k < taps; k++)
        for (let l = 0; l < taps; l++) {
          const part = level * Math.sqrt(strengths[k]! * strengths[l]!) * (k === l ? 1 : alike);
          ofMode[k * size + l]! += part;
          ofMode[(k + taps) * size + l + taps]! += part;
        }
      return lnDensity(ofMode, own, taps);
    }),
  );
  const best = Math.max(...asMode);
  return best + Math.log(asMode.reduce((sum, ln) => sum + Math.exp(ln - best), 0) / asMode.length) - asRoom;
}

/** Adds part A A^H of complex amplitudes, as the real matrix of twice the size. */
function addOuter(covariance: Float64Array, amplitudes: Float64Array, part: number, taps: number): void {
  const size = 2 * taps;
  for (let k = 0; k < taps; k++)
    for (let l = 0; l < taps; l++) {
      const [a, b, c, d] = [amplitudes[2 * k]!, amplitudes[2 * k + 1]!, amplitudes[2 * l]!, amplitudes[2 * l + 1]!];
      const re = part * (a * c + b * d);
      const im = part * (b * c - a * d);
      covariance[k * size + l]! += re;
      covariance[(k + taps) * size + l + taps]! += re;
      covariance[k * size + l + taps]! -= im;
      covariance[(k + taps) * size + l]! += im;
    }
}

/** ln of the complex normal density of amplitudes, up to a constant of the number of taps. */
function lnDensity(covariance: Float64Array, amplitudes: Float64Array, taps: number): number {
  const size = 2 * taps;
  const factor = covariance.slice();
  const x = new Float64Array(size);
  for (let k = 0; k < taps; k++) {
    x[k] = amplitudes[2 * k]!;
    x[k + taps] = amplitudes[2 * k + 1]!;
  }
  factorInPlace(factor, size, 0);
  solveLower(factor, size, x);
  let ln = 0;
  // The real matrix has each variance twice: half of its logarithms is the complex one's.
  for (let i = 0; i < size; i++) ln -= Math.log(factor[i * (size + 1)]!) + x[i]! * x[i]!;
  return ln;
}

const square = (of: Float64Array, k: number): number => of[2 * k]! ** 2 + of[2 * k + 1]! ** 2;
const meanSquare = (of: Float64Array): number => {
  let sum = 0;
  for (const x of of) sum += x * x;
  return (2 * sum) / of.length;
};

/**
 * The taps laid on one another: a contact is found a little early or late, which turns the poles of a tap by as much as they
 * are fast. A mode struck on its other side is the same mode with the other sign, so that squares are compared.
 */
function laidTogether(
  raw: Amplitudes,
  energies: readonly number[],
  poles: readonly { readonly frequencyHz: number }[],
): Float64Array[] {
  const taps = raw[0] === undefined ? 0 : raw[0].length / 2;
  const out = raw.map((of) => of.slice());
  for (let round = 0; round < LAYING_ROUNDS; round++) {
    const phases = out.map((of) => {
      let re = 0;
      let im = 0;
      for (let k = 0; k < taps; k++) {
        re += of[2 * k]! ** 2 - of[2 * k + 1]! ** 2;
        im += 2 * of[2 * k]! * of[2 * k + 1]!;
      }
      return Math.atan2(im, re);
    });
    for (let k = 0; k < taps; k++) {
      const turned = out.map((of, j) => ({
        size: square(of, k) / Math.sqrt(square(of, k) + energies[j]!),
        angle: 2 * Math.atan2(of[2 * k + 1]!, of[2 * k]!) - phases[j]!,
        perS: 4 * Math.PI * poles[j]!.frequencyHz,
      }));
      let delayS = 0;
      let most = Number.NEGATIVE_INFINITY;
      for (let d = -DELAY_S; d <= DELAY_S; d += DELAY_STEP_S) {
        const alike = turned.reduce((sum, { size, angle, perS }) => sum + size * Math.cos(angle + perS * d), 0);
        if (alike > most) {
          most = alike;
          delayS = d;
        }
      }
      out.forEach((of, j) => {
        const angle = 2 * Math.PI * poles[j]!.frequencyHz * delayS;
        const [re, im] = [of[2 * k]!, of[2 * k + 1]!];
        of[2 * k] = re * Math.cos(angle) - im * Math.sin(angle);
        of[2 * k + 1] = re * Math.sin(angle) + im * Math.cos(angle);
      });
    }
  }
  return out;
}
