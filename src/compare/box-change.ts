// What a change of the box would do to its peaks: the peaks as they were read, moved as the model moves.
import { foundBox } from '../box/found-box.ts';
import { type BoxFound, derivedFrom, type PlateFound } from '../box/inverse.ts';
import { type Box, boxModes, type Part } from '../box/pistons.ts';
import { soundhole } from '../box/soundhole.ts';
import { at, type LogParameters, type SpectralParameter } from '../box/spectral-model.ts';
import { type BoxChange, changedBox } from '../box/what-if.ts';
import { type Estimate, estimate, propagated } from '../quantity/estimate.ts';
import type { BoxReading } from './box-reading.ts';

/** One mode of the open box before and after, ascending in frequency. */
export interface MovedMode {
  /** the part it is called by */
  readonly part: Part;
  /** as it was read */
  readonly nowHz: Estimate;
  readonly moveHz: Estimate;
  readonly thenHz: Estimate;
}

export type ChangeForecast =
  | { readonly kind: 'moved'; readonly modes: readonly MovedMode[] }
  /** the rounds do not give a model yet */
  | { readonly kind: 'no-model' }
  /** the change leaves no volume, hole or mass */
  | { readonly kind: 'impossible' };

/**
 * The modes after a change, the doubt of the model's constants carried through together: they come from the same peaks, and
 * what one is read too high the other is read too low. The peak now is one of those peaks: constants fitted to y by least
 * squares of covariance C have cov(constants, y_i) = C grad f_i, so var(then) = var(f after) + var(y_i) - var(f now), the two
 * of the model. The volume, read by the ruler, is independent of them.
 * Source: JCGM 102:2011 section 6.2; our derivation, coverage in tests/compare/box-change.test.ts.
 */
export function movedModes({ found, cavity, rounds, model }: BoxReading, change: BoxChange): ChangeForecast {
  const open = rounds.find(({ state }) => state === 'open');
  if (model === undefined || found?.kind !== 'solved' || cavity.kind !== 'cavity' || open === undefined)
    return { kind: 'no-model' };
  if (!isPossible(model, change)) return { kind: 'impossible' };
  const read = open.peaks.flatMap(({ label, frequencyHz }) =>
    label === 'other' ? [] : [{ part: label, frequencyHz }],
  );
  const hole = soundhole(cavity.holeRadiusM, cavity.holeEdgeM, 'flanged', 1);
  const modelHz = (mode: number, log: LogParameters, volumeM3: Estimate): { before: number; after: number } => {
    const box = foundBox(
      withConstants(found, log),
      { ...cavity, volumeM3 },
      hole,
      read.map(() => 1),
    )!;
    return {
      before: boxModes(box)[mode]!.frequencyHz,
      after: boxModes(changedBox(box, change))[mode]!.frequencyHz,
    };
  };
  const moveHz = (mode: number, log: LogParameters, volumeM3: Estimate): number => {
    const { before, after } = modelHz(mode, log, volumeM3);
    return after - before;
  };
  return {
    kind: 'moved',
    modes: read.map(({ part, frequencyHz: nowHz }, mode) => {
      const byPeaks = derivedFrom(found.joint, (log) => moveHz(mode, log, cavity.volumeM3));
      const byVolume = propagated(
        ([volumeM3]) => moveHz(mode, found.joint.log, estimate(volumeM3!, 0)),
        [cavity.volumeM3],
      ).result;
      const move = estimate(byPeaks.value, Math.hypot(byPeaks.sigma, byVolume.sigma));
      const nowByModel = derivedFrom(found.joint, (log) => modelHz(mode, log, cavity.volumeM3).before);
      const thenByModel = derivedFrom(found.joint, (log) => modelHz(mode, log, cavity.volumeM3).after);
      // constants widened for a rough model may say less of the peak than its own reading does
      const ownVariance = Math.max(0, nowHz.sigma ** 2 - nowByModel.sigma ** 2);
      return {
        part,
        nowHz,
        moveHz: move,
        thenHz: estimate(
          nowHz.value + move.value,
          Math.hypot(thenByModel.sigma, Math.sqrt(ownVariance), byVolume.sigma),
        ),
      };
    }),
  };
}

type Solved = BoxFound & { readonly kind: 'solved' };

/** The same box with other constants. */
function withConstants(found: Solved, log: LogParameters): Solved {
  const exact = (parameter: SpectralParameter): Estimate => estimate(Math.exp(log[at(parameter)]!), 0);
  const plate = (old: PlateFound, vacuo: SpectralParameter, grip: SpectralParameter): PlateFound => ({
    ...old,
    vacuoHz: exact(vacuo),
    uncoupledHz: estimate(Math.hypot(exact(vacuo).value, exact(grip).value), 0),
  });
  const { top, back } = found;
  return {
    ...found,
    airHz: exact('airHz'),
    top: {
      ...plate(top, 'topVacuoHz', 'topGripHz'),
      effective: top.effective && { ...top.effective, massKg: exact('topMassKg') },
    },
    back: back === 'held' ? back : plate(back, 'backVacuoHz', 'backGripHz'),
  };
}

/** Of volume, plug of air and mass so much must be left, or what is not well known of them may leave nothing. Our choice. */
const LEAST_LEFT = 0.2;

function isPossible(model: Box, change: BoxChange): boolean {
  if (model.hole === 'blocked') return false;
  const radiusM = change.holeRadiusM ?? model.hole.radiusM;
  const lengthM = model.hole.effectiveLengthM + model.hole.endCorrectionRatio * (radiusM - model.hole.radiusM);
  const volumeM3 = model.volumeM3 + (change.depthChangeM ?? 0) * (change.planAreaM2 ?? 0);
  const massKg = model.top.massKg + (change.bridgeMassChangeKg ?? 0);
  return (
    radiusM > 0 &&
    lengthM > LEAST_LEFT * model.hole.effectiveLengthM &&
    volumeM3 > LEAST_LEFT * model.volumeM3 &&
    massKg > LEAST_LEFT * model.top.massKg
  );
}
