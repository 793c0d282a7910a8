// Shapes of modes from taps at many spots, the strength of each tap unknown; with the computed shapes of the drawing as a basis
// the shape of the whole plate, without it the shape at the spots.
import { factorInPlace, inverseOfFactored, solveFactored } from '../algebra/dense-cholesky.ts';
import { symmetricEigen } from '../algebra/symmetric-eigen.ts';
import { type Estimate, estimate } from '../quantity/estimate.ts';
import type { TapWaves } from './amplitudes.ts';
import { signedAmplitudes } from './contact-times.ts';

/** Computed shapes, orthonormal in the plate's mass, that measured shapes are made of. */
export interface ShapeBasis {
  /** deflection of each computed mode at each spot, (spots, computed) */
  readonly atSpots: readonly (readonly number[])[];
  /** how steep it is there, per mm, (spots, computed) */
  readonly steepnessAtSpots: readonly (readonly number[])[];
  /** how much of computed mode j a mode of the piece, here the k-th, may hold: standard deviation, (computed, computed) */
  readonly mixing: readonly (readonly number[])[];
  /** computed mode that each measured one is, (modes,) */
  readonly computedOf: readonly number[];
}

/** A roving round. */
export interface RovingTaps {
  readonly taps: readonly TapWaves[];
  /** spot of each tap, 0-based, (taps,) */
  readonly spotOf: readonly number[];
  readonly spots: number;
  readonly frequenciesHz: readonly number[];
}

/** One measured shape; its size and sign as a whole mean nothing. */
interface MeasuredShape {
  /** at each spot, largest 1; undefined at a spot not tapped where there is no basis, (spots,) */
  readonly atSpots: readonly (Estimate | undefined)[];
  /** probability that the sign at the spot is the one told, 0.5 to 1, (spots,) */
  readonly signOdds: readonly (number | undefined)[];
  /** shares of the computed shapes, squares summing to 1; absent without a basis, (computed,) */
  readonly shares?: readonly Estimate[];
  /** of the shares, (computed, computed) */
  readonly covariance?: readonly (readonly number[])[];
}

export interface MeasuredShapes {
  readonly shapes: readonly MeasuredShape[];
  /** strength of each tap against the others, (taps,) */
  readonly strengths: readonly Estimate[];
  /** when each tap began against its onset, s, (taps,) */
  readonly lateS: readonly number[];
  /** taps that do not go with the others and are better made again */
  readonly oddTaps: readonly number[];
  /** spots without a tap */
  readonly missingSpots: readonly number[];
}

/** Scatter of the strength of a finger's taps, natural logarithm: struck plate, within one spot. */
const STRENGTH_SIGMA = 0.3;
/** How far a finger lands beside its spot, mm. */
const FINGER_MM = 4;
/** What is not in the model, share of the mode's size: chosen of 0.04, 0.05 and 0.1 on bench seeds from 920 million. */
const MODEL_SHARE = 0.1;
const ROUNDS = 25;
/**
 * A tap is called odd from here, in standard deviations of Wilson and Hilferty's cube root. Once in a thousand would be 3.1; the finger's
 * contact, which is in no model, leaves a longer tail: of rounds read from sound one spot in nine was warned of then. Chosen of 3.1, 5 and 7
 * on seeds 21 to 32, a concert top; what it comes to: docs/shape-figures.md.
 */
const ODD_SIGMAS = 7;

/**
 * Strengths, signs and shapes jointly: shapes for given strengths and strengths for given shapes, in turn, each a linear solve;
 * with a basis then the nearest shapes that are orthogonal in the plate's mass, as modes are.
 * @throws RangeError if the taps and their spots differ in number
 * Source: response over spots is the shape by reciprocity; nearest orthonormal: Higham, Functions of Matrices, section 8.1.
 */
export function measuredShapes(round: RovingTaps, basis?: ShapeBasis): MeasuredShapes {
  const { taps, spotOf, spots, frequenciesHz } = round;
  if (taps.length !== spotOf.length)
    throw new RangeError(`measuredShapes: ${taps.length} taps at ${spotOf.length} spots, need as many`);
  const signed = signedAmplitudes(
    taps.map(({ waves }) => waves),
    frequenciesHz,
  );
  const tapped = new Set(spotOf);
  const missingSpots = Array.from({ length: spots }, (_, s) => s).filter((s) => !tapped.has(s));
  const rows = basis?.atSpots ?? Array.from({ length: spots }, (_, s) => unit(spots, s));
  const sizes = frequenciesHz.map((_, k) => rms(signed.amplitudes.map((tap) => tap[k]!)));
  const noise = taps.map(({ covariance }) =>
    sizes.map(
      (size, k) => (covariance[2 * k]![2 * k]! + covariance[2 * k + 1]![2 * k + 1]!) / 2 + (MODEL_SHARE * size) ** 2,
    ),
  );
  const strengths: Strength[] = taps.map(() => ({ value: 1, sigma: STRENGTH_SIGMA, contactS: USUAL_CONTACT_S }));
  const solved = (withStrengths: boolean): readonly Column[] =>
    frequenciesHz.map((_, k) => {
      let column: Column | undefined;
      // The prior and the slopes go with the mode's own size, which the first solve only guesses.
      for (let again = 0; again < (basis === undefined && !withStrengths ? 1 : 2); again++)
        column = columnOf(
          k,
          rows,
          spotOf,
          signed.amplitudes,
          noise,
          gainsOf(strengths, frequenciesHz[k]!),
          withStrengths,
          basis,
          column,
        );
      return column!;
    });
  let columns = solved(false);
  let odd = new Set<number>();
  for (let turn = 0; turn < ROUNDS; turn++) {
    odd = new Set();
    taps.forEach((_, i) => {
      const seen = columns.map(({ share, slopeAt }, k) => {
        const said = dot(rows[spotOf[i]!]!, share);
        return {
          said,
          frequencyHz: frequenciesHz[k]!,
          heard: signed.amplitudes[i]![k]!,
          variance: noise[i]![k]! + (FINGER_MM * slopeAt[spotOf[i]!]!) ** 2,
        };
      });
      const strength = strengthOf(seen);
      strengths[i] = strength;
      let misfit = 0;
      seen.forEach(({ said, frequencyHz, heard, variance }, k) => {
        misfit +=
          ((heard - strength.value * contactGain(frequencyHz, strength.contactS) * said) ** 2 +
            signed.across[i]![k]! ** 2) /
          variance;
      });
      if (isOdd(misfit, 2 * seen.length - 3)) odd.add(i);
    });
    columns = solved(false);
  }
  columns = solved(true);
  const shares = columns.map(({ share }) => share);
  const polar = basis === undefined ? shares : nearestOrthonormal(shares);
  return {
    shapes: columns.map((column, k) => shapeOf(column, polar[k]!, rows, basis === undefined ? tapped : undefined)),
    strengths: strengths.map(({ value, sigma }) => estimate(value, sigma)),
    lateS: signed.lateS,
    oddTaps: [...odd],
    missingSpots,
  };
}

/** How strong a tap was, and how long its contact: a short one holds more of the high modes. */
interface Strength extends Estimate {
  readonly contactS: number;
}

/** Lengths of a finger's contact that are tried, s (common practice, no source), and the middle one, to which all are compared. */
const CONTACTS_S = Array.from({ length: 13 }, (_, i) => 0.0012 + 0.00025 * i);
const USUAL_CONTACT_S = 0.00275;
/** Fall of ln |P| with (2 f T)^2, half a sine of force: pi^2 / 8 - 1, first term of its series. */
const FALL = Math.PI ** 2 / 8 - 1;

const contactGain = (frequencyHz: number, contactS: number): number =>
  Math.exp(-FALL * 4 * frequencyHz ** 2 * (contactS ** 2 - USUAL_CONTACT_S ** 2));

const gainsOf = (strengths: readonly Strength[], frequencyHz: number): readonly Estimate[] =>
  strengths.map(({ value, sigma, contactS }) => {
    const gain = contactGain(frequencyHz, contactS);
    return { value: value * gain, sigma: sigma * gain };
  });

/** What a tap at unit strength and usual contact would give, and what it gave. */
interface Heard {
  readonly said: number;
  readonly frequencyHz: number;
  readonly heard: number;
  readonly variance: number;
}

/** Strength of a tap by linear least squares with what is known of it beforehand, for the length of contact that fits best. */
function strengthOf(seen: readonly Heard[]): Strength {
  const weight = 1 / STRENGTH_SIGMA ** 2;
  let best: (Strength & { readonly cost: number }) | undefined;
  for (const contactS of CONTACTS_S) {
    let [top, below] = [weight, weight];
    const gains = seen.map(({ said, frequencyHz }) => said * contactGain(frequencyHz, contactS));
    seen.forEach(({ heard, variance }, k) => {
      top += (gains[k]! * heard) / variance;
      below += gains[k]! ** 2 / variance;
    });
    const value = Math.max(0.2, top / below);
    const misfit = seen.reduce((sum, { heard, variance }, k) => sum + (heard - value * gains[k]!) ** 2 / variance, 0);
    const cost = misfit + weight * (value - 1) ** 2;
    if (best === undefined || cost < best.cost) best = { value, sigma: 1 / Math.sqrt(below), contactS, cost };
  }
  return best!;
}

/** Shares of the basis in one mode, with its size; their covariance, (n, n); the slope at the spots. */
interface Column {
  readonly share: readonly number[];
  readonly covariance: Float64Array;
  readonly slopeAt: readonly number[];
}

/** Prior spread of a share that nothing is known of, in sizes of the mode. */
const UNKNOWN = 1e3;

function columnOf(
  k: number,
  rows: readonly (readonly number[])[],
  spotOf: readonly number[],
  heard: readonly (readonly number[])[],
  noise: readonly (readonly number[])[],
  strengths: readonly Estimate[],
  withStrengths: boolean,
  basis: ShapeBasis | undefined,
  before: Column | undefined,
): Column {
  const n = rows[0]!.length;
  const own = basis?.computedOf[k];
  const guess = before?.share ?? (own === undefined ? unit(n, 0) : firstShare(own, rows, spotOf, heard, k));
  const slopes = rows.map((_, s) =>
    basis === undefined ? 0 : Math.abs(guess[own!]! * basis.steepnessAtSpots[s]![own!]!),
  );
  const size = own === undefined ? rms(heard.map((tap) => tap[k]!)) || 1 : Math.abs(guess[own]!) || 1;
  const normal = new Float64Array(n * n);
  const right = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    const spread = own === undefined || j === own ? UNKNOWN : basis!.mixing[j]![own]!;
    normal[j * n + j] = 1 / (spread * size) ** 2;
  }
  heard.forEach((tap, i) => {
    const row = rows[spotOf[i]!]!;
    const said = dot(row, guess);
    const strength = strengths[i]!;
    const variance =
      noise[i]![k]! + (FINGER_MM * slopes[spotOf[i]!]!) ** 2 + (withStrengths ? (strength.sigma * said) ** 2 : 0);
    for (let a = 0; a < n; a++) {
      const weighted = (strength.value * row[a]!) / variance;
      right[a]! += weighted * tap[k]!;
      for (let b = 0; b < n; b++) normal[a * n + b]! += weighted * strength.value * row[b]!;
    }
  });
  factorInPlace(normal, n, 0);
  solveFactored(normal, n, right);
  return { share: [...right], covariance: inverseOfFactored(normal, n), slopeAt: slopes };
}

function firstShare(
  own: number,
  rows: readonly (readonly number[])[],
  spotOf: readonly number[],
  heard: readonly (readonly number[])[],
  k: number,
): number[] {
  const shape = spotOf.map((spot) => rows[spot]![own]!);
  const amplitudes = heard.map((tap) => tap[k]!);
  return unit(rows[0]!.length, own).map((each) => (each * dot(shape, amplitudes)) / (dot(shape, shape) || 1));
}

/** Columns of unit length, as near to these as may be and orthogonal to each other: D (D'D)^-1/2. */
function nearestOrthonormal(columns: readonly (readonly number[])[]): number[][] {
  const n = columns.length;
  const lengths = columns.map((column) => Math.sqrt(dot(column, column)) || 1);
  const units = columns.map((column, k) => column.map((each) => each / lengths[k]!));
  const { values, vectors } = symmetricEigen(Float64Array.from(units.flatMap((a) => units.map((b) => dot(a, b)))), n);
  return units.map((_, k) =>
    units[0]!.map((__, j) => {
      let sum = 0;
      for (let v = 0; v < n; v++)
        for (let l = 0; l < n; l++)
          sum += (units[l]![j]! * vectors[v * n + l]! * vectors[v * n + k]!) / Math.sqrt(Math.max(values[v]!, 1e-6));
      return sum;
    }),
  );
}

function shapeOf(
  { share, covariance }: Column,
  polar: readonly number[],
  rows: readonly (readonly number[])[],
  only: ReadonlySet<number> | undefined,
): MeasuredShape {
  const n = share.length;
  const length = Math.sqrt(dot(share, share)) || 1;
  const told = only === undefined ? polar : share.map((each) => each / length);
  const at = rows.map((row, s) => {
    if (only !== undefined && !only.has(s)) return undefined;
    let variance = 0;
    for (let a = 0; a < n; a++) for (let b = 0; b < n; b++) variance += row[a]! * covariance[a * n + b]! * row[b]!;
    return { value: dot(row, told), sigma: Math.sqrt(Math.max(0, variance)) / length };
  });
  const largest = at.reduce((most, each) => (Math.abs(each?.value ?? 0) > Math.abs(most) ? each!.value : most), 0) || 1;
  return {
    atSpots: at.map((each) => each && estimate(each.value / largest, each.sigma / Math.abs(largest))),
    signOdds: at.map((each) => each && normalBelow(Math.abs(each.value) / (each.sigma || Number.MIN_VALUE))),
    ...(only === undefined && {
      shares: polar.map((each, j) => estimate(each, Math.sqrt(covariance[j * n + j]!) / length)),
      covariance: polar.map((_, a) => polar.map((__, b) => covariance[a * n + b]! / length ** 2)),
    }),
  };
}

/** Wilson and Hilferty, Proc. Nat. Acad. Sci. 17 (1931) 684: the cube root of chi squared over its freedom is nearly normal. */
function isOdd(chiSquared: number, freedom: number): boolean {
  if (freedom < 1) return false;
  const spread = 2 / (9 * freedom);
  return Math.cbrt(chiSquared / freedom) > 1 - spread + ODD_SIGMAS * Math.sqrt(spread);
}

/** Share of a normal distribution below x >= 0. Source: Abramowitz & Stegun, eq. 26.2.18, error below 2.5e-4. */
function normalBelow(x: number): number {
  return 1 - 0.5 * (1 + 0.196854 * x + 0.115194 * x ** 2 + 0.000344 * x ** 3 + 0.019527 * x ** 4) ** -4;
}

const unit = (n: number, at: number): number[] => Array.from({ length: n }, (_, j) => (j === at ? 1 : 0));
const rms = (values: readonly number[]): number => Math.sqrt(dot(values, values) / Math.max(1, values.length));
const dot = (a: readonly number[], b: readonly number[]): number => a.reduce((sum, each, i) => sum + each * b[i]!, 0);
