// From rounds on a closed box to what the top and the back are: mass, stiffness, area, and the frequencies they would have
// without one another.
import { type Estimate, estimate } from '../quantity/estimate.ts';
import type { Air } from './air.ts';
import { judgedLabels, type LabelVerdict } from './label-check.ts';
import { cushionPaPerM3 } from './pistons.ts';
import { observed, startFor } from './round-observations.ts';
import {
  type BoxRound,
  blockingMovedNothing,
  type Contradiction,
  contradictions,
  massMovedNothing,
  type RoundPeak,
} from './rounds.ts';
import { fitSpectral, type Prior } from './spectral-fit.ts';
import { at, type LogParameters, PARAMETERS } from './spectral-model.ts';
import { type SumRule, sumRule } from './sum-rule.ts';

/** What is known of the box besides its peaks. */
export interface BoxSetting {
  /** air volume, m³, > 0 */
  readonly volumeM3: Estimate;
  readonly air: Air;
  /** the air's own resonance by ruler (`helmholtzEstimate`), Hz: a check on the labels, or the third leg without a blocked round */
  readonly holeFromSizesHz?: Estimate;
  /** area of the back as a piston where no mass was put on the back, m², > 0 */
  readonly backAreaM2?: Estimate;
}

/** A plate by itself. */
export interface PlateFound {
  /** hole blocked, other plate held: the plate on the air cushion, Hz */
  readonly uncoupledHz: Estimate;
  /** the plate without the air cushion, Hz */
  readonly vacuoHz: Estimate;
  /** undefined where no mass was added on this plate (nor its area given): frequencies alone leave the scale open */
  readonly effective:
    | {
        readonly massKg: Estimate;
        readonly stiffnessNPerM: Estimate;
        readonly areaM2: Estimate;
      }
    | undefined;
}

/**
 * The constants as they were fitted, together: what they share by coming from the same peaks is in the covariance.
 * What follows from them takes its uncertainty from here (`derivedFrom`), never from the single sigmas above.
 */
export interface JointConstants {
  /** all parameters, logarithms, in the order of PARAMETERS */
  readonly log: LogParameters;
  /** indices of those that were free, (free,) */
  readonly free: readonly number[];
  /** of the free ones, (free, free), widened where the model describes the box only roughly */
  readonly covariance: readonly (readonly number[])[];
}

export type NotMeasurable =
  /** a volume, mass or frequency that is not positive */
  | { readonly because: 'not-positive'; readonly what: 'volume' | 'mass' | 'peak' | 'area'; readonly value: number }
  /** the peaks are fewer than what they are to tell */
  | { readonly because: 'too-few-peaks'; readonly have: number; readonly need: number }
  /** the added mass moved no peak beyond its uncertainty: use more mass, or look where it was put */
  | { readonly because: 'mass-moved-nothing'; readonly round: number }
  /** every peak with the hole blocked lies where one lay with it open; `airStays`: the lowest of them, the air's, too */
  | { readonly because: 'blocking-moved-nothing'; readonly round: number; readonly airStays: boolean }
  /** what the rounds leave open by more than half its value */
  | { readonly because: 'rounds-do-not-tell'; readonly what: string };

export type BoxFound =
  | {
      readonly kind: 'solved';
      readonly top: PlateFound;
      readonly back: PlateFound | 'held';
      readonly airHz: Estimate;
      readonly joint: JointConstants;
      /** whether the mass confirms which peak is the top */
      readonly labels: LabelVerdict;
      /** weighted squares left over and how many peaks were to spare; far above it the three pistons do not describe the box */
      readonly misfit: { readonly chiSquared: number; readonly degreesOfFreedom: number };
      /** the peak the model fits worst, and by how many sigma */
      readonly worst: RoundPeak & { readonly sigmas: number };
      /** undefined where the sizes or a complete pair of open and blocked rounds are wanting */
      readonly sumRule: SumRule | undefined;
    }
  | { readonly kind: 'contradicted'; readonly contradictions: readonly Contradiction[] }
  | ({ readonly kind: 'not-measurable' } & NotMeasurable);

/** A parameter left open by more than this part of its value is not measured. */
const OPEN_ABOVE = 0.5;

/**
 * Solves the box for its parts: all rounds at once, every uncertainty carried through. Where the misfit exceeds what the
 * peaks' own uncertainty allows at 1 in 100, every sigma is widened by the ratio, since then the model is what is uncertain.
 * @param rounds at least: hole open, and hole blocked or the sizes; for masses and areas also a round with a known mass
 * @throws RangeError if a peak has no uncertainty
 * Source: forward model as in `pistonSystem`; effective mass by an added mass and the two-piston inverse after Woodhouse,
 * Euphonics section 4.2.2; widening: Birge 1932, Phys. Rev. 40:207. Least squares over rounds: our derivation, coverage in
 * tests/box/inverse.test.ts.
 */
export function solveBox(rounds: readonly BoxRound[], setting: BoxSetting): BoxFound {
  const bad = notPositive(rounds, setting);
  if (bad) return { kind: 'not-measurable', ...bad };
  const breaches = contradictions(rounds);
  if (breaches.length > 0) return { kind: 'contradicted', contradictions: breaches };
  const idle = rounds.findIndex((_, i) => massMovedNothing(rounds, i) === true);
  if (idle >= 0) return { kind: 'not-measurable', because: 'mass-moved-nothing', round: idle };

  const blocked = rounds.map((_, i) => blockingMovedNothing(rounds, i));
  const vain = blocked.findIndex((one) => one !== undefined);
  if (vain >= 0) return { kind: 'not-measurable', because: 'blocking-moved-nothing', round: vain, ...blocked[vain]! };

  const hasBack = rounds.some((round) => round.peaksHz.back !== undefined);
  const blockedSeen = rounds.some((round) => round.hole === 'blocked');
  const { observations, peaks } = observed(rounds, hasBack);
  const lumps = {
    bridge: rounds.find((round) => round.addedAtBridgeKg)?.addedAtBridgeKg,
    back: rounds.find((round) => round.addedAtBackKg)?.addedAtBackKg,
  };
  const priors: Prior[] = [];
  const lumpPrior = (parameter: number, lump: Estimate | undefined) => {
    if (lump && lump.sigma > 0) priors.push({ parameter, log: 0, sigma: lump.sigma / lump.value });
  };
  lumpPrior(at('bridgeLumpRatio'), lumps.bridge);
  lumpPrior(at('backLumpRatio'), lumps.back);
  const sizes = setting.holeFromSizesHz;
  if (sizes && !blockedSeen)
    priors.push({ parameter: at('airHz'), log: Math.log(sizes.value), sigma: sizes.sigma / sizes.value });
  const free = [
    at('topVacuoHz'),
    at('topGripHz'),
    at('airHz'),
    ...(hasBack ? [at('backVacuoHz'), at('backGripHz')] : []),
    ...(lumps.bridge ? [at('topMassKg')] : []),
    ...(lumps.back ? [at('backMassKg')] : []),
    ...priors.map(({ parameter }) => parameter).filter((parameter) => parameter !== at('airHz')),
  ];
  const have = observations.length + priors.length;
  if (have < free.length) return { kind: 'not-measurable', because: 'too-few-peaks', have, need: free.length };

  const fits = (hasBack ? [false, true] : [false]).map((swapped) =>
    fitSpectral(startFor(rounds, hasBack, swapped), free, observations, priors),
  );
  const judged = judgedLabels(fits, rounds, lumps.bridge !== undefined || lumps.back !== undefined);
  const { fit } = judged;
  const open = free.findIndex((_, i) => !(fit.covariance[i]![i]! < OPEN_ABOVE ** 2));
  if (open >= 0) return { kind: 'not-measurable', because: 'rounds-do-not-tell', what: PARAMETERS[free[open]!]! };

  const degreesOfFreedom = have - free.length;
  const widening = wideningFor(fit.chiSquared, degreesOfFreedom);
  const joint: JointConstants = {
    log: fit.log,
    free,
    covariance: fit.covariance.map((row) => row.map((each) => widening ** 2 * each)),
  };
  const derive = (f: (log: LogParameters) => number): Estimate => derivedFrom(joint, f);
  const plate = (side: 'top' | 'back', lump: Estimate | undefined, areaM2: Estimate | undefined): PlateFound => {
    const vacuo = at(side === 'top' ? 'topVacuoHz' : 'backVacuoHz');
    const grip = at(side === 'top' ? 'topGripHz' : 'backGripHz');
    const mass = at(side === 'top' ? 'topMassKg' : 'backMassKg');
    return {
      uncoupledHz: derive((log) => Math.hypot(Math.exp(log[vacuo]!), Math.exp(log[grip]!))),
      vacuoHz: derive((log) => Math.exp(log[vacuo]!)),
      effective: lump
        ? byMass(derive, setting, vacuo, grip, mass)
        : areaM2
          ? byArea(derive, setting, vacuo, grip, areaM2)
          : undefined,
    };
  };
  const worst = fit.residuals.reduce((w, r, i) => (Math.abs(r) > Math.abs(fit.residuals[w]!) ? i : w), 0);
  return {
    kind: 'solved',
    top: plate('top', lumps.bridge, undefined),
    back: hasBack ? plate('back', lumps.back, setting.backAreaM2) : 'held',
    airHz: derive((log) => Math.exp(log[at('airHz')]!)),
    joint,
    labels: judged.labels,
    misfit: { chiSquared: fit.chiSquared, degreesOfFreedom },
    worst: { ...peaks[worst]!, sigmas: fit.residuals[worst]! },
    sumRule: sizes && blockedSeen ? sumRule(rounds, sizes) : undefined,
  };
}

/** A² = (2 pi grip)² m / B, K = m (2 pi f)². */
function byMass(
  derive: (f: (log: LogParameters) => number) => Estimate,
  { air, volumeM3 }: BoxSetting,
  vacuo: number,
  grip: number,
  mass: number,
) {
  const cushion = cushionPaPerM3(air, volumeM3.value);
  const areaM2 = derive((log) => 2 * Math.PI * Math.exp(log[grip]! + log[mass]! / 2) * Math.sqrt(1 / cushion));
  const volumeShare = (areaM2.value * volumeM3.sigma) / (2 * volumeM3.value); // A ~ V^(1/2)
  return {
    massKg: derive((log) => Math.exp(log[mass]!)),
    stiffnessNPerM: derive((log) => Math.exp(log[mass]!) * (2 * Math.PI * Math.exp(log[vacuo]!)) ** 2),
    areaM2: estimate(areaM2.value, Math.hypot(areaM2.sigma, volumeShare)),
  };
}

/** m = B A² / (2 pi grip)², with the area from elsewhere. */
function byArea(
  derive: (f: (log: LogParameters) => number) => Estimate,
  { air, volumeM3 }: BoxSetting,
  vacuo: number,
  grip: number,
  areaM2: Estimate,
) {
  const pressed = cushionPaPerM3(air, volumeM3.value) * areaM2.value ** 2;
  const outside = Math.hypot((2 * areaM2.sigma) / areaM2.value, volumeM3.sigma / volumeM3.value);
  const widened = ({ value, sigma }: Estimate) => estimate(value, Math.hypot(sigma, value * outside));
  return {
    massKg: widened(derive((log) => pressed / (2 * Math.PI * Math.exp(log[grip]!)) ** 2)),
    stiffnessNPerM: widened(derive((log) => pressed * Math.exp(2 * (log[vacuo]! - log[grip]!)))),
    areaM2,
  };
}

function notPositive(rounds: readonly BoxRound[], setting: BoxSetting): NotMeasurable | undefined {
  const values = [
    ['volume', setting.volumeM3.value] as const,
    ['area', setting.backAreaM2?.value ?? 1] as const,
    ['peak', setting.holeFromSizesHz?.value ?? 1] as const,
    ...rounds.flatMap((round) => [
      ['mass', round.addedAtBridgeKg?.value ?? 1] as const,
      ['mass', round.addedAtBackKg?.value ?? 1] as const,
      ...Object.values(round.peaksHz).map((peak) => ['peak', peak.value] as const),
    ]),
  ];
  const found = values.find(([, value]) => !(value > 0));
  return found ? { because: 'not-positive', what: found[0], value: found[1] } : undefined;
}

/** sqrt(chi² / n) where chi² lies above its 99 % point (Wilson & Hilferty 1931, PNAS 17:684), else 1. */
function wideningFor(chiSquared: number, degreesOfFreedom: number): number {
  if (degreesOfFreedom === 0) return 1;
  const spread = 2 / (9 * degreesOfFreedom);
  const point99 = degreesOfFreedom * (1 - spread + 2.326 * Math.sqrt(spread)) ** 3;
  return chiSquared > point99 ? Math.sqrt(chiSquared / degreesOfFreedom) : 1;
}

/**
 * A quantity that follows from the fitted constants, with its uncertainty; derivatives by central differences.
 * Source: JCGM 102:2011 section 6.2, u^2 = J C J^T.
 */
export function derivedFrom({ log, free, covariance }: JointConstants, f: (log: LogParameters) => number): Estimate {
  const step = 1e-5;
  const slope = free.map((parameter) => {
    const up = log.slice();
    const down = log.slice();
    up[parameter]! += step;
    down[parameter]! -= step;
    return (f(up) - f(down)) / (2 * step);
  });
  const variance = covariance.reduce(
    (sum, row, i) => sum + slope[i]! * row.reduce((inner, each, j) => inner + each * slope[j]!, 0),
    0,
  );
  return estimate(f(log), Math.sqrt(Math.max(variance, 0)));
}
