// The next pass, sized to a risk: how deep may it go before the chance that a mode falls below its band is more than the
// maker takes, and when it is better to stop.
import { CHANCE_PAST } from '../compare/course.ts';
import { type Estimate, estimate } from '../quantity/estimate.ts';
import { chanceBelow, normalCdf } from '../quantity/quantile.ts';
import { CUT_SIGMA_MM, widening } from './shaving.ts';

/** What a cut at a comparable place has done to a mode. */
export interface MeasuredMove {
  /** depth of the cut, as taken off at the place of the next pass, mm; its sigma is that of the blade */
  readonly depthMm: Estimate;
  /** measured change of the mode, Hz, mostly negative */
  readonly hz: Estimate;
  /** the move ends at the reading of now, and shares its error */
  readonly endsNow?: boolean;
  /** its depth is what was foreseen of it over the slope now, so that a bend is in it already */
  readonly isScaled?: boolean;
}

/** One mode, what is wanted of it, and what is known of how a pass moves it. */
export interface PassTarget {
  readonly frequencyHz: number;
  readonly toleranceHz: number;
  readonly nowHz: Estimate;
  /** foreseen slope at no depth, Hz for each mm of depth of this pass, mostly negative; the spread is that of the woods, without the blade */
  readonly hzPerMm: Estimate;
  /** foreseen bend: a pass of d mm moves the mode by hzPerMm d + hzPerMm2 d^2; none unless told */
  readonly hzPerMm2?: Estimate;
  /** what the blade's error of 1 mm does, Hz; as the slope unless told (braces that are cut one by one err one by one) */
  readonly bladeHzPerMm?: number;
  /** oldest first */
  readonly moves?: readonly MeasuredMove[];
  /** what the weather may do until the next taps, one sigma, Hz; none unless told */
  readonly weatherHz?: number;
}

export interface PassLimits {
  /** most that may go off, mm: what stands above the floor, or the trade's usual pass, whichever is less */
  readonly mostMm: number;
  /** largest chance that any mode goes past its band, CHANCE_PAST unless told */
  readonly chancePast?: number;
  /** spread of the blade, one sigma, mm, CUT_SIGMA_MM unless told */
  readonly bladeMm?: number;
}

/** A foreseen bend is right to so much of itself, and to so much of the slope for each mm. Chosen on `npm run bench -- passes`. */
const BEND_SHARE = 0.5;
const BEND_OF_SLOPE_PER_MM = 0.1;

/** A bend with its spread. @param hzPerMm slope, @param hzPerMm2 bend as foreseen, see `PassTarget` */
export const foreseenBend = (hzPerMm: number, hzPerMm2: number): Estimate =>
  estimate(hzPerMm2, Math.hypot(BEND_SHARE * hzPerMm2, BEND_OF_SLOPE_PER_MM * hzPerMm));

/** What a pass, or none, comes to. */
export interface PassOdds {
  readonly depthMm: number;
  /** chance that any mode ends below the far edge of its band, 0..1 */
  readonly chancePast: number;
  /** chance that every mode ends within its band, 0..1 */
  readonly chanceWithin: number;
  /** where each mode lands, Hz, in the order of the targets */
  readonly landsAt: readonly Estimate[];
}

export type NextPass =
  | { readonly kind: 'pass'; readonly pass: PassOdds; readonly now: PassOdds }
  | {
      readonly kind: 'stop';
      /**
       * 'reached': no pass has better odds; 'risk': the least pass goes past with more than the chance that is taken;
       * 'floor': there is no wood to spare.
       */
      readonly because: 'reached' | 'risk' | 'floor';
      readonly now: PassOdds;
    };

/**
 * The most that is taken off a brace that carries the strings in one pass, mm: the upper end of 0.3 to 0.8. Common practice,
 * no source.
 */
export const USUAL_PASS_MM = 0.8;

/** Depths are advised in tenths, mm, and below one no plane is picked up. */
const STEP_MM = 0.1;
/** 0.6 less 0.3 comes out a hair below 0.3, mm. */
const ROUNDING_MM = 1e-9;
/** Odds are told in hundredths: a pass that betters them by less is not worth its risk. */
const WORTH_WHILE = 0.01;

/**
 * The next pass: of all depths whose chance to go past is within the limit, the one with the best chance to end within all
 * bands, what falls short of them counted as good in part; of those alike in this, the one that comes nearest. Where that is
 * no better than to leave it, or the least depth is beyond the limit, it says to stop.
 * @throws RangeError without targets, or for a limit outside 0..1
 */
export function nextPass(targets: readonly PassTarget[], limits: PassLimits): NextPass {
  const { mostMm, chancePast = CHANCE_PAST, bladeMm = CUT_SIGMA_MM } = limits;
  if (targets.length === 0) throw new RangeError('nextPass: no targets, need at least one');
  if (!(chancePast >= 0 && chancePast <= 1)) throw new RangeError(`nextPass: chance ${chancePast}, need 0..1`);
  const known = targets.map(withMoves);
  const oddsOf = (depthMm: number) => passOdds(targets, known, depthMm, bladeMm);
  const now = oddsOf(0);
  // Without wood to spare the maker stops either way; that the band is likelier reached than not is the better news.
  if (mostMm + ROUNDING_MM < STEP_MM)
    return { kind: 'stop', because: now.chanceWithin > 0.5 ? 'reached' : 'floor', now };
  const missOf = ({ landsAt }: PassOdds) =>
    targets.reduce(
      (sum, { frequencyHz, toleranceHz }, i) => sum + ((landsAt[i]!.value - frequencyHz) / toleranceHz) ** 2,
      0,
    );
  let best: PassOdds | undefined;
  for (const depthMm of depthsTo(deepestPassMm(targets, limits))) {
    const odds = oddsOf(depthMm);
    const more = best === undefined ? 1 : worth(odds) - worth(best);
    if (more > 0 || (more === 0 && missOf(odds) < missOf(best!))) best = odds;
  }
  if (now.chanceWithin >= WORTH_WHILE && (best === undefined || worth(best) < now.chanceWithin + WORTH_WHILE))
    return { kind: 'stop', because: 'reached', now };
  return best === undefined ? { kind: 'stop', because: 'risk', now } : { kind: 'pass', pass: best, now };
}

/** What falls short can be shaved once more: so many of those end within. Chosen on `npm run bench -- passes`. */
const FROM_SHORT = 0.8;

/** Chance to end within the bands if the passes after this one go as passes go. */
const worth = ({ chancePast, chanceWithin }: PassOdds): number =>
  chanceWithin + FROM_SHORT * Math.max(0, 1 - chancePast - chanceWithin);

/** The deepest pass of whole tenths whose chance to go past is within the limit, mm; 0 where none is. */
export function deepestPassMm(targets: readonly PassTarget[], limits: PassLimits): number {
  const { mostMm, chancePast = CHANCE_PAST, bladeMm = CUT_SIGMA_MM } = limits;
  const known = targets.map(withMoves);
  const depths = depthsTo(mostMm);
  const beyond = depths.findIndex((mm) => passOdds(targets, known, mm, bladeMm).chancePast > chancePast);
  return (beyond < 0 ? depths.at(-1) : depths[beyond - 1]) ?? 0;
}

const depthsTo = (mostMm: number): readonly number[] =>
  Array.from({ length: Math.max(0, Math.floor((mostMm + ROUNDING_MM) / STEP_MM)) }, (_, k) => (k + 1) / 10);

/** What a pass of a given depth comes to, whatever its risk. @param limits as in `nextPass` */
export const oddsOfPass = (targets: readonly PassTarget[], depthMm: number, bladeMm: number = CUT_SIGMA_MM): PassOdds =>
  passOdds(targets, targets.map(withMoves), depthMm, bladeMm);

/** Error of the reading now, slope and bend: mean, (3,), and covariance, (3, 3). */
interface LocalQuadratic {
  readonly mean: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  /** sum of the squares of what was missed, in sigmas, when each move was still to come */
  readonly missed: number;
}

/** The spread of a move by its blade hangs on the slope, which hangs on the moves: so many rounds settle it to 1 %. */
const ROUNDS = 4;

/**
 * The course of a mode about the present depth, f(x) = now + error + slope x + bend x^2, with the foreseen slope and bend as
 * prior and the measured moves as data. A move that ends at the present reading holds the error of that reading.
 * Source: sequential update of a normal prior by linear measurements, Tarantola 2005, Inverse Problem Theory, section 3.2.2.
 */
function withMoves({ nowHz, hzPerMm, hzPerMm2 = { value: 0, sigma: 0 }, moves = [] }: PassTarget): LocalQuadratic {
  const prior: LocalQuadratic = {
    mean: [0, hzPerMm.value, hzPerMm2.value],
    covariance: [
      [nowHz.sigma ** 2, 0, 0],
      [0, hzPerMm.sigma ** 2, 0],
      [0, 0, hzPerMm2.sigma ** 2],
    ],
    missed: 0,
  };
  let found = prior;
  for (let round = 0; round < ROUNDS && moves.length > 0; round++) {
    const [, slope, bend] = found.mean;
    const open = found.covariance[1]![1]!;
    let endMm = 0;
    found = moves.toReversed().reduce((state, { depthMm, hz, endsNow = false, isScaled = false }) => {
      const startMm = endMm - depthMm.value;
      const bent = isScaled ? 0 : endMm + startMm;
      const row = [endsNow ? -1 : 0, depthMm.value, depthMm.value * bent];
      const readingVariance = Math.max(0, hz.sigma ** 2 - (endsNow ? nowHz.sigma ** 2 : 0));
      const bladeHz = Math.hypot(slope! + bend! * bent, Math.sqrt(Math.max(0, open))) * depthMm.sigma;
      if (!isScaled) endMm = startMm;
      return updated(state, row, hz.value, readingVariance + bladeHz ** 2);
    }, prior);
  }
  return found;
}

function updated(
  { mean, covariance, missed }: LocalQuadratic,
  row: readonly number[],
  value: number,
  variance: number,
): LocalQuadratic {
  const across = covariance.map((of) => of.reduce((sum, c, j) => sum + c * row[j]!, 0));
  const total = row.reduce((sum, r, i) => sum + r * across[i]!, variance);
  // What is known exactly is not moved by what else is read.
  if (!(total > 0)) return { mean, covariance, missed };
  const left = value - row.reduce((sum, r, i) => sum + r * mean[i]!, 0);
  return {
    mean: mean.map((m, i) => m + (across[i]! * left) / total),
    covariance: covariance.map((of, i) => of.map((c, j) => c - (across[i]! * across[j]!) / total)),
    missed: missed + left ** 2 / total,
  };
}

/** Places of the blade's error, in sigmas, at which several modes are looked at together; the rest of a normal is below 1e-6. */
const PLACES = 201;
const REACH = 5;

/**
 * The odds of a pass. One mode lands as a normal number. Several share the blade: their chances are multiplied for each
 * error of the blade and averaged over it. Their slopes are taken as independent else: what woods they share makes them fall
 * together, which only lowers the chance that any goes past, so this errs on the safe side.
 * Source: Dunnett and Sobel 1955, Biometrika 42, 258 (the average over the one thing shared); Slepian 1962, Bell Syst. Tech. J.
 * 41, 463 (normal numbers that are more alike are the likelier all above their bounds).
 */
function passOdds(
  targets: readonly PassTarget[],
  known: readonly LocalQuadratic[],
  depthMm: number,
  bladeMm: number,
): PassOdds {
  const row = [1, depthMm, depthMm ** 2];
  const alone = known.map(({ mean, covariance, missed }, i): { readonly lands: Estimate; readonly bladeHz: number } => {
    const { nowHz, bladeHzPerMm, hzPerMm, weatherHz = 0, moves = [] } = targets[i]!;
    // Moves that were missed by more than was allowed for say that slope or blade are worse than told.
    const wider = widening(missed, moves.length);
    const value = nowHz.value + row.reduce((sum, r, j) => sum + r * mean[j]!, 0);
    const variance = covariance.reduce(
      (sum, of, j) => sum + row[j]! * of.reduce((inner, c, k) => inner + c * row[k]!, 0),
      0,
    );
    const slope = mean[1]! + 2 * mean[2]! * depthMm;
    const share = bladeHzPerMm === undefined || hzPerMm.value === 0 ? 1 : bladeHzPerMm / hzPerMm.value;
    // A slope that is not known itself makes the blade's error worth more: the spread of a product.
    const open = covariance[1]![1]! + 4 * depthMm * (covariance[1]![2]! + depthMm * covariance[2]![2]!);
    const steep = Math.sign(slope) * Math.sqrt(slope ** 2 + Math.max(0, open));
    const bladeHz = depthMm > 0 ? wider * steep * share * bladeMm : 0;
    return { lands: estimate(value, Math.hypot(wider * Math.sqrt(Math.max(0, variance)), weatherHz)), bladeHz };
  });
  const landsAt = alone.map(({ lands, bladeHz }) => estimate(lands.value, Math.hypot(lands.sigma, bladeHz)));
  const none = (each: readonly Estimate[]) =>
    each.reduce((product, at, i) => product * (1 - chanceBelow(at, farEdgeHz(targets[i]!))), 1);
  const all = (each: readonly Estimate[]) =>
    each.reduce((product, at, i) => product * chanceInside(at, targets[i]!), 1);
  if (targets.length === 1) return { depthMm, chancePast: 1 - none(landsAt), chanceWithin: all(landsAt), landsAt };
  let [weights, noneSum, allSum] = [0, 0, 0];
  for (let k = 0; k < PLACES; k++) {
    const z = REACH * ((2 * k) / (PLACES - 1) - 1);
    const weight = Math.exp(-(z ** 2) / 2);
    const each = alone.map(({ lands, bladeHz }) => ({ value: lands.value + z * bladeHz, sigma: lands.sigma }));
    weights += weight;
    noneSum += weight * none(each);
    allSum += weight * all(each);
  }
  return { depthMm, chancePast: 1 - noneSum / weights, chanceWithin: allSum / weights, landsAt };
}

/** Shaving lowers: the far edge of a band is its lower one. */
const farEdgeHz = ({ frequencyHz, toleranceHz }: PassTarget): number => frequencyHz - toleranceHz;

function chanceInside(at: Estimate, { frequencyHz, toleranceHz }: PassTarget): number {
  const [low, high] = [frequencyHz - toleranceHz, frequencyHz + toleranceHz];
  if (at.sigma === 0) return at.value >= low && at.value <= high ? 1 : 0;
  return normalCdf((high - at.value) / at.sigma) - normalCdf((low - at.value) / at.sigma);
}
