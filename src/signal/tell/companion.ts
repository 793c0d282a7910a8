// Whether what passes for one mode hides a second one close by. Two poles s +- d ring nearly like one at their middle; what
// betrays them first is the curvature A d^2 / 2 t^2 exp(s t), and that is looked for at every mode with a low bar of its
// own: here only a handful of places are asked, not the whole band.
import { upperChiSquare } from '../../quantity/quantile.ts';
import type { JointFit } from '../agree/joint-fit.ts';
import type { Pole } from '../pole.ts';
import { curvatures } from '../search/curvature.ts';
import { fitAt, gainsOf, leftoverOf, noiseLevel, polesOf, refineAll } from '../search/order.ts';
import { OVER_ANSWER, roomAnswer } from './room-answer.ts';
import { type NoiseAbout, noiseAbout } from './scatter.ts';

/** Chance that noise alone splits a mode. */
const FALSE_SPLIT = 0.002;
/** Modes nearer than so many bandwidths are a couple already. */
const ALONE_BANDWIDTHS = 1.5;
/** Energy, as a part of the mode's own, below which a curvature is that of an imperfect decay or the room's answer. */
const LEAST_PART = 2e-3;
/** Fit steps for a couple: along its valley they are short. */
const STEPS = 25;

/**
 * The fit with every mode that hides a companion made two: those whose leftovers hold more of the curvature than noise would
 * in one round of 500, and explain as much when both are fitted, measured by what is then left about them: what the room
 * answers to a mode curves it too, but leaves as much beside it.
 * Source: score test, see curvature.ts; rates in tests/bench/modes.ts.
 */
export function withCompanions(joint: JointFit): JointFit {
  const { search } = joint;
  // a mode that moves from tap to tap curves as one with a companion does
  if (search.elastic || search.groups.length > 1) return joint;
  const taps = search.groups.reduce((sum, decays) => sum + decays.taps.length, 0);
  const gains = gainsOf(search, joint.fit);
  const needed = ({ level, excess }: Pick<NoiseAbout, 'level' | 'excess'>, m: number): number =>
    Math.max(
      level * upperChiSquare(FALSE_SPLIT, 2 * taps) + excess[m]! * taps * upperChiSquare(FALSE_SPLIT, 2),
      LEAST_PART * gains[m]!,
    );
  const calm = { level: noiseLevel(search, joint.fit), excess: gains.map(() => 0) };
  let best = joint;
  for (const [m, { energy, splitRe, splitIm }] of curvatures(search, joint.fit).entries()) {
    if (energy < needed(calm, m) || !isAlone(joint.fit[0]!.poles, m)) continue;
    const poles = polesOf(best.fit).map((group) => splitAt(group, m, splitRe, splitIm));
    const trial = { ...best, fit: refineAll(search, fitAt(search, poles), STEPS) };
    if (trial.fit[0]!.poles.length !== poles[0]!.length) continue;
    const gained = leftoverOf(search, best.fit) - leftoverOf(search, trial.fit);
    // what is left about the modes, and how far a room may have pulled them, is dear to know and can only ask for more
    if (gained <= needed({ level: noiseLevel(search, trial.fit), excess: calm.excess }, m)) continue;
    if (gained <= needed(noiseAbout(trial, undefined), m)) continue;
    const answer = roomAnswer(trial);
    if (gained > Math.max(needed(noiseAbout(trial, answer), m), OVER_ANSWER * answer * gains[m]!)) best = trial;
  }
  return best;
}

const bandwidthHz = ({ decayPerS }: Pole): number => decayPerS / Math.PI;

const isAlone = (poles: readonly Pole[], m: number): boolean =>
  poles.every(
    (pole, i) =>
      i === m ||
      Math.abs(pole.frequencyHz - poles[m]!.frequencyHz) >
        (ALONE_BANDWIDTHS * (bandwidthHz(pole) + bandwidthHz(poles[m]!))) / 2,
  );

/** Mode m becomes two, split by the complex part `split` of its decay rate to either side; the second comes last. */
function splitAt(poles: readonly Pole[], m: number, splitRe: number, splitIm: number): Pole[] {
  const { frequencyHz, decayPerS } = poles[m]!;
  const beside = (side: number): Pole => ({
    frequencyHz: frequencyHz + (side * splitIm * decayPerS) / (2 * Math.PI),
    decayPerS: decayPerS * (1 - side * splitRe),
  });
  return [...poles.with(m, beside(1)), beside(-1)];
}
