// How far a room's diffuse answer has pulled the modes of a fit, from what all taps alike have left along them.
import { HALF_WIDTH_95 } from '../../quantity/estimate.ts';
import { twoSidedNormal } from '../../quantity/quantile.ts';
import type { Bend } from '../search/curvature.ts';

/** What is left along one mode, and how it decays. */
export interface BentMode {
  readonly decayPerS: number;
  /** orders 2 and up, their variances those of the noise that was found; none where they cannot be told */
  readonly bends: readonly Bend[];
  /** variance of the pole by noise alone, as a part of twice its decay rate, both parts together */
  readonly variance: number;
}

/** What the room did to one pole. */
export interface Pull {
  /** the true pole less the fitted one, as a part of twice the decay rate: real part growth, imaginary part frequency */
  readonly re: number;
  readonly im: number;
  /** factor on the variance of the pole, so that 1.96 standard deviations hold 95 % of what is likely; 1 in a dead room */
  readonly factor: number;
}

/** Reverberation times a room may have, s. */
const T60S = [0.25, 0.5, 1] as const;
/** Energy of the diffuse answer over the direct sound, dB: any is as likely beforehand. */
const QUIETEST_DB = -75;
const LOUDEST_DB = -5;
const STEP_DB = 2.5;
/** Chance that a mode is bent by something of its own, a companion say, that tells nothing of the other modes. */
const OWN = 0.1;

/** Part of the answer along each order that is none of the model's: no room is quite an exponential. */
const UNMODELLED = 1e-3;

/**
 * How much likelier rooms that answer must make what is left than the quietest one does, before any pull is taken off; else it
 * only widens the interval. Source: "strong", Kass & Raftery, J. Am. Stat. Assoc. 90 (1995) 773 (from memory).
 */
const STRONG = 10;

/**
 * Longest pull taken off, as a part of twice the decay rate; a longer one is no small bend, whatever it is, and only widens the
 * interval. A room whose answer is 20 dB down pulls by 0.05.
 */
const MOST_TAKEN_OFF = 0.1;

/** Rooms of a smaller weight cannot change a tail of 5 % in any figure shown. */
const UNLIKELY = 1e-7;

/** The pole's part of the answer in one room: how likely what is left of the mode is, and its mean and variance then. */
interface Given {
  readonly logLikelihood: number;
  readonly re: number;
  readonly im: number;
  readonly variance: number;
}

/**
 * The pull of the room's answer on each pole, (M,).
 *
 * The diffuse answer is Gaussian noise under an exponential exp(-k t), k = ln 1000 / T60. A mode exp(s t) rings it on as
 * exp(s t) W(t), W = integral of h(u) exp(-s u): a random walk of the mode's amplitude that comes to rest. In x = 2 a t along
 * Laguerre's polynomials the parts of W have the covariance S p_kl, p_kl = integral of
 * exp(-c u) (L_k - L_k-1) (L_l - L_l-1) du, c = 1 + k / a, S = energy density of the answer at the onset over 2 a. The
 * pole took L1 on itself, L2 and up are what is left; room by room the first given the others is Gaussian, and rooms weigh
 * by how likely they make what is left of all modes.
 * Source: Polack's model of the diffuse answer, Appl. Acoust. 38 (1993) 235 (from memory); the rest is our derivation, checked
 * in tests/signal/tell/diffuse-pull.test.ts.
 */
export function diffusePulls(modes: readonly BentMode[]): Pull[] {
  const rooms = roomsFor(modes);
  // likelihood of each mode in each room, over its best, and by something of its own: the mean over all rooms
  const likelihoods = modes.map((_, m) => {
    const logs = rooms.map((given) => given[m]!.logLikelihood);
    const best = Math.max(...logs);
    return logs.map((log) => Math.exp(log - best));
  });
  const own = likelihoods.map((ofMode) => ofMode.reduce((sum, l) => sum + l, 0) / rooms.length);
  const ownChance = modes.map(({ bends }) => (bends.length > 0 ? OWN : 0));
  const either = likelihoods.map((ofMode, m) => ofMode.map((l) => l + ownChance[m]! * (own[m]! - l)));
  const logPosterior = rooms.map((_, j) => either.reduce((sum, ofMode) => sum + Math.log(ofMode[j]!), 0));
  // rooms of one reverberation time begin with the quietest
  const isHeard = logPosterior.reduce((sum, log) => sum + Math.exp(log - logPosterior[0]!), 0) > STRONG * rooms.length;
  const likeliest = Math.max(...logPosterior);
  const posterior = normalised(logPosterior.map((log) => Math.exp(log - likeliest)));
  return modes.map(({ variance }, m) => {
    const ofRoom = posterior.map((p, j) => (p * (1 - ownChance[m]!) * likelihoods[m]![j]!) / either[m]![j]!);
    const byOwn = 1 - ofRoom.reduce((sum, p) => sum + p, 0);
    const alone = normalised(likelihoods[m]!);
    const given = rooms.map((room) => room[m]!);
    return pullOf(
      given,
      ofRoom.map((p, j) => p + byOwn * alone[j]!),
      variance,
      isHeard,
    );
  });
}

const normalised = (values: readonly number[]): number[] => {
  const sum = values.reduce((a, b) => a + b, 0);
  return values.map((v) => v / sum);
};

/**
 * Mean of a mixture of Gaussians of weights (J,), or 0 where it is not to be taken off, and the factor on `variance` whose
 * interval about it holds 95 %.
 */
function pullOf(given: readonly Given[], weights: readonly number[], variance: number, isHeard: boolean): Pull {
  const mean = (part: (one: Given) => number): number =>
    given.reduce((sum, one, j) => sum + weights[j]! * part(one), 0);
  const likely = { re: mean((one) => one.re), im: mean((one) => one.im) };
  const { re, im } = isHeard && Math.hypot(likely.re, likely.im) < MOST_TAKEN_OFF ? likely : { re: 0, im: 0 };
  const counted = given.flatMap((one, j) =>
    weights[j]! < UNLIKELY
      ? []
      : [{ weight: weights[j]!, factor: 1 + (one.variance + (one.re - re) ** 2 + (one.im - im) ** 2) / variance }],
  );
  const outside = (factor: number): number =>
    counted.reduce((sum, one) => sum + one.weight * twoSidedNormal(HALF_WIDTH_95 * Math.sqrt(factor / one.factor)), 0);
  let low = 1;
  let high = Math.max(1, ...counted.map((one) => one.factor));
  while (high > 1.001 * low) {
    const middle = Math.sqrt(low * high);
    if (outside(middle) > 0.05) low = middle;
    else high = middle;
  }
  return { re, im, factor: high };
}

/** Every room that may be, (J, M). */
function roomsFor(modes: readonly BentMode[]): Given[][] {
  const orders = Math.max(0, ...modes.map(({ bends }) => bends.length)) + 1;
  return T60S.flatMap((t60S) => {
    const k = Math.log(1000) / t60S;
    const shapes = modes.map(({ decayPerS }) => answerCovariance(1 + k / decayPerS, orders));
    const out: Given[][] = [];
    for (let db = QUIETEST_DB; db <= LOUDEST_DB; db += STEP_DB) {
      const energy = 10 ** (db / 10);
      out.push(modes.map((mode, m) => givenRoom(mode, shapes[m]!, orders, (energy * k) / mode.decayPerS)));
    }
    return out;
  });
}

/**
 * The pole's part given what is left, in a room of density S. A Cholesky factor of the few orders, written out: a round asks some
 * thousand times. Source: the conditional Gaussian, Kay (1993), eq. 10.28.
 */
function givenRoom({ bends }: BentMode, shape: Float64Array, orders: number, density: number): Given {
  let logLikelihood = 0;
  let re = 0;
  let im = 0;
  let variance = density * shape[0]!;
  const n = bends.length;
  for (let i = 0; i < n; i++) {
    const bend = bends[i]!;
    // the row of the factor, and L^-1 times the bends and times the covariance with the pole
    let own = density * shape[(i + 1) * orders + i + 1]! * (1 + UNMODELLED) + bend.variance;
    let ofRe = bend.re;
    let ofIm = bend.im;
    let ofPole = density * shape[i + 1]!;
    for (let j = 0; j < i; j++) {
      let below = density * shape[(i + 1) * orders + j + 1]!;
      for (let k = 0; k < j; k++) below -= factor[i * MOST_ORDERS + k]! * factor[j * MOST_ORDERS + k]!;
      below /= factor[j * MOST_ORDERS + j]!;
      factor[i * MOST_ORDERS + j] = below;
      own -= below * below;
      ofRe -= below * solved[3 * j]!;
      ofIm -= below * solved[3 * j + 1]!;
      ofPole -= below * solved[3 * j + 2]!;
    }
    const pivot = Math.sqrt(own);
    factor[i * MOST_ORDERS + i] = pivot;
    ofRe /= pivot;
    ofIm /= pivot;
    ofPole /= pivot;
    solved[3 * i] = ofRe;
    solved[3 * i + 1] = ofIm;
    solved[3 * i + 2] = ofPole;
    logLikelihood -= 2 * Math.log(pivot) + ofRe * ofRe + ofIm * ofIm;
    re += ofPole * ofRe;
    im += ofPole * ofIm;
    variance -= ofPole * ofPole;
  }
  return { logLikelihood, re, im, variance };
}

/** More orders than {@link bends} has. */
const MOST_ORDERS = 8;
const factor = new Float64Array(MOST_ORDERS * MOST_ORDERS);
const solved = new Float64Array(3 * MOST_ORDERS);

/** p_kl of orders 1 to `orders`, row-major. */
export function answerCovariance(c: number, orders: number): Float64Array {
  const out = new Float64Array(orders * orders);
  for (let k = 0; k < orders; k++) {
    for (let l = 0; l <= k; l++) {
      const series = seriesOf(k + 1, l + 1);
      let sum = 0;
      for (let power = series.length - 1; power >= 0; power--) sum = (sum + series[power]!) / c;
      out[k * orders + l] = sum;
      out[l * orders + k] = sum;
    }
  }
  return out;
}

const known = new Map<number, readonly number[]>();

/** Coefficients of p_kl by 1 / c, 1 / c^2 and so on: integral of x^n exp(-c x) = n! / c^(n + 1). */
function seriesOf(k: number, l: number): readonly number[] {
  const key = k * MOST_ORDERS + l;
  const before = known.get(key);
  if (before !== undefined) return before;
  const series = new Array<number>(k + l + 1).fill(0);
  laguerreStep(k).forEach((x, i) => {
    laguerreStep(l).forEach((y, j) => {
      series[i + j]! += x * y * factorial(i + j);
    });
  });
  known.set(key, series);
  return series;
}

const factorial = (n: number): number => (n < 2 ? 1 : n * factorial(n - 1));

/** Coefficients of L_k - L_k-1 by powers of x: (-1)^i (k - 1 over i - 1) / i!. Source: A&S, eq. 22.3.9. */
const laguerreStep = (k: number): number[] =>
  Array.from({ length: k + 1 }, (_, i) =>
    i === 0 ? 0 : ((-1) ** i * factorial(k - 1)) / (factorial(i - 1) * factorial(k - i) * factorial(i)),
  );
