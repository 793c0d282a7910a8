// What a change of the box would do to its peaks: the peaks as they were read, moved as the model moves.
import { foundBox } from '../box/found-box.ts';
import type { BoxFound, PlateFound } from '../box/inverse.ts';
import { type Box, boxModes, type Part } from '../box/pistons.ts';
import { soundhole } from '../box/soundhole.ts';
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
 * The modes after a change, with the doubt of the model's constants carried through. The constants are taken as independent:
 * what they share by coming from the same peaks is left out.
 * Source: JCGM 100:2008 (GUM) section 5.1; our derivation, see tests/compare/box-change.test.ts.
 */
export function movedModes({ found, cavity, rounds, model }: BoxReading, change: BoxChange): ChangeForecast {
  const open = rounds.find(({ state }) => state === 'open');
  if (model === null || found?.kind !== 'solved' || cavity.kind !== 'cavity' || open === undefined)
    return { kind: 'no-model' };
  if (!isPossible(model, change)) return { kind: 'impossible' };
  const read = open.peaks.flatMap(({ label, frequencyHz }) =>
    label === 'other' ? [] : [{ part: label, frequencyHz }],
  );
  const hole = soundhole(cavity.holeRadiusM, cavity.holeEdgeM, 'flanged', 1);
  const constants = constantsOf(found);
  const moveOf = (mode: number) => (values: readonly number[]) => {
    const box = foundBox(
      withConstants(found, values),
      cavity,
      hole,
      read.map(() => 1),
    )!;
    return boxModes(changedBox(box, change))[mode]!.frequencyHz - boxModes(box)[mode]!.frequencyHz;
  };
  return {
    kind: 'moved',
    modes: read.map(({ part, frequencyHz: nowHz }, mode) => {
      const moveHz = propagated(moveOf(mode), constants).result;
      return {
        part,
        nowHz,
        moveHz,
        thenHz: estimate(nowHz.value + moveHz.value, Math.hypot(nowHz.sigma, moveHz.sigma)),
      };
    }),
  };
}

type Solved = BoxFound & { readonly kind: 'solved' };

/** Constants of the model that the rounds found, in a fixed order; the grips stand for the areas. */
function constantsOf({ top, back, airHz }: Solved): readonly Estimate[] {
  return [top.effective!.massKg, airHz, ...plateConstants(top), ...(back === 'held' ? [] : plateConstants(back))];
}

/** Plate without the air, and how much the air adds, Hz: unlike the plate on the air, these two were fitted side by side. */
function plateConstants({ vacuoHz, uncoupledHz }: PlateFound): readonly [Estimate, Estimate] {
  const grip2 = uncoupledHz.value ** 2 - vacuoHz.value ** 2;
  const gripHz = Math.sqrt(Math.max(grip2, 1e-6));
  // the sigma of the plate on the air, as if all of it came from the grip
  return [vacuoHz, estimate(gripHz, Math.min(gripHz / 2, (uncoupledHz.value * uncoupledHz.sigma) / gripHz))];
}

function withConstants(found: Solved, values: readonly number[]): Solved {
  const [massKg, airHz, topHz, topGripHz, backHz, backGripHz] = values;
  const plate = (old: PlateFound, vacuoHz: number, gripHz: number): PlateFound => ({
    ...old,
    vacuoHz: estimate(vacuoHz, 0),
    uncoupledHz: estimate(Math.hypot(vacuoHz, gripHz), 0),
  });
  const { top, back } = found;
  return {
    ...found,
    airHz: estimate(airHz!, 0),
    top: {
      ...plate(top, topHz!, topGripHz!),
      effective: { ...top.effective!, massKg: estimate(massKg!, 0) },
    },
    back: back === 'held' ? back : plate(back, backHz!, backGripHz!),
  };
}

function isPossible(model: Box, change: BoxChange): boolean {
  if (model.hole === 'blocked') return false;
  const radiusM = change.holeRadiusM ?? model.hole.radiusM;
  const lengthM = model.hole.effectiveLengthM + model.hole.endCorrectionRatio * (radiusM - model.hole.radiusM);
  const volumeM3 = model.volumeM3 + (change.depthChangeM ?? 0) * (change.planAreaM2 ?? 0);
  const massKg = model.top.massKg + (change.bridgeMassChangeKg ?? 0);
  return radiusM > 0 && lengthM > 0 && volumeM3 > 0.2 * model.volumeM3 && massKg > 0.2 * model.top.massKg;
}
