// One invented top with known truth: is it calibrated, advised and shaved as promised? Used by the test (a few trials) and
// the bench (200).
import type { BraceCut } from '../../src/brace/cut.ts';
import { advise } from '../../src/forecast/advice.ts';
import { calibrate } from '../../src/forecast/calibration.ts';
import { type Parameter, withFactors } from '../../src/forecast/properties.ts';
import { CUT_SIGMA_MM, cutPlate } from '../../src/forecast/shaving.ts';
import { plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { smallTop } from '../plate/plates.ts';

export const parameters: readonly Parameter[] = [
  { property: 'plate eL', relativeSigma: 0.1 },
  { property: 'plate eR', relativeSigma: 0.15 },
  { property: 'brace eL', relativeSigma: 0.1 },
  { property: 'rim stiffness', relativeSigma: 0.4 },
];

/** Spread of the invented measurements, Hz. */
const MEASURED_SIGMA_HZ = 0.3;
const TARGET_TOLERANCE_HZ = 0.8;

export const prepared = preparePlate(smallTop, 60);
export const floors = smallTop.braces!.map(({ id, heightMm }) => ({
  braceId: id,
  heightMm: heightMm.map(([s, h]) => [s, h - 2.5] as const),
}));

export interface TrialResult {
  /** Truth against forecast for every mode of every alternative, in sigmas. */
  readonly sigmas: readonly number[];
  /** Whether the true modes reached their targets within tolerance and two sigma, for the best alternative. */
  readonly reached: boolean;
  /** Whether every height stayed above its floor in every alternative. */
  readonly aboveFloors: boolean;
  /** Truth of the parameters against the fit, in sigmas. */
  readonly parameterSigmas: readonly number[];
}

/** Runs a trial. @param random numbers in 0..1 */
export function trial(random: () => number): TrialResult {
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const logs = parameters.map(({ relativeSigma }) => relativeSigma * normal());
  const truth = withFactors(smallTop, parameters, logs.map(Math.exp));
  const solve = (plate: typeof smallTop) => {
    const answer = plateModes(prepared, plate, { count: 6 });
    if (answer.kind !== 'modes') throw new Error(answer.kind);
    return answer;
  };
  const trueHz = solve(truth).modes.map(({ frequencyHz }) => frequencyHz);
  const measured = trueHz.slice(0, 5).map((f, mode) => ({
    mode,
    frequencyHz: { value: f + MEASURED_SIGMA_HZ * normal(), sigma: MEASURED_SIGMA_HZ },
  }));
  // Truth and model are the same kind of plate here, so the model's own error is left out of the fit.
  const fit = calibrate(prepared, smallTop, measured, parameters, { modelErrorShare: 0 });
  if (fit.kind !== 'calibrated') throw new Error(fit.kind);
  const before = solve(fit.plate);
  const wish = cutPlate(
    fit.plate,
    smallTop.braces!.map(({ id }) => ({ braceId: id, fromMm: 0, toMm: 300, offMm: 0.3 + 1.2 * random() })),
  );
  const wishHz = solve(wish).modes.map(({ frequencyHz }) => frequencyHz);
  const targets = [0, 1].map((mode) => ({ mode, frequencyHz: wishHz[mode]!, toleranceHz: TARGET_TOLERANCE_HZ }));
  const answer = advise(prepared, fit.plate, before, targets, floors, {}, fit);
  const alternatives = answer.kind === 'advice' ? answer.alternatives : [];
  // The blade stops a little high or low, on each brace by one and the same amount.
  const asCut = (shavings: readonly BraceCut[]): BraceCut[] => {
    const slips = new Map([...new Set(shavings.map(({ braceId }) => braceId))].map((id) => [id, normal()]));
    return shavings.map((cut) => ({ ...cut, offMm: cut.offMm + CUT_SIGMA_MM * slips.get(cut.braceId)! }));
  };
  const outcomes = alternatives.map((advice) => {
    const after = solve(cutPlate(truth, asCut(advice.shavings))).modes.map(({ frequencyHz }) => frequencyHz);
    const forecasts = advice.moves.slice(0, 5);
    return {
      sigmas: forecasts.map(({ after: forecast }, mode) => (after[mode]! - forecast.value) / forecast.sigma),
      reached: targets.every(
        ({ mode, frequencyHz, toleranceHz }) =>
          Math.abs(after[mode]! - frequencyHz) <= toleranceHz + 2 * advice.moves[mode]!.after.sigma,
      ),
    };
  });
  const isAbove = alternatives.every(({ shavings }) =>
    cutPlate(smallTop, shavings).braces!.every(({ heightMm }, b) =>
      heightMm.every(([s, h]) => h >= heightAt(floors[b]!.heightMm, s) - 1e-9),
    ),
  );
  return {
    sigmas: outcomes.flatMap(({ sigmas }) => sigmas),
    reached: answer.kind === 'nothing-to-do' || outcomes.some(({ reached }) => reached),
    aboveFloors: isAbove,
    parameterSigmas: fit.factors.map(({ value, sigma }, p) => (Math.log(value) - logs[p]!) / (sigma / value)),
  };
}

function heightAt(profile: readonly (readonly [number, number])[], s: number): number {
  const [[s0, h0], [s1, h1]] = [profile[0]!, profile.at(-1)!];
  return h0 + ((h1 - h0) * (Math.min(s1, Math.max(s0, s)) - s0)) / (s1 - s0);
}

/** Numbers 0..1 that are the same every time (Park and Miller 1988). */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}
