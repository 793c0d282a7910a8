// From a record to what is asked of a roving round: its spots, its modes, and the drawing of the plate as it then was.
import { sameSupport } from '../compare/signature.ts';
import type { Point } from '../plate/outline.ts';
import type { PlateCase } from '../plate/plate-case.ts';
import { planAtStep } from '../record/cuts.ts';
import { isPlateAlone } from '../record/plan-case.ts';
import { planOutline } from '../record/plan-outline.ts';
import type { InstrumentRecord, Plan, Stage, Step, Support } from '../record/record.ts';
import { type RovingRound, roundOfModes } from '../record/roving-edit.ts';
import { fitParameters, solvableCase } from './plan-question.ts';
import type { TapShapesQuestion } from './tap-shapes.ts';

/** What is asked, but for the sounds. */
export type RovingQuestion = Omit<TapShapesQuestion, 'taps'> & {
  /** in the order of `spotOf` */
  readonly tapIds: readonly string[];
};

const bare: readonly Stage[] = ['board', 'joined', 'thicknessed'];

/** The plan as it stands on the bench at a step: before bracing there is nothing on the plate. */
export function planOnBench(record: InstrumentRecord, plan: Plan, step: Step): Plan {
  const then = planAtStep(record, plan, step.id);
  if (!bare.includes(step.stage)) return then;
  return { ...then, braces: [], bridgePlate: { ...then.bridgePlate, thicknessMm: 0 } };
}

/** The plate at a step as drawn; undefined without a drawing, where it cannot be computed, and of a closed box. */
export function plateOnBench(record: InstrumentRecord, step: Step, support: Support): PlateCase | undefined {
  if (record.plan === undefined || !isPlateAlone(support) || step.stage === 'closed' || step.stage === 'strung')
    return undefined;
  return solvableCase(planOnBench(record, record.plan, step), support);
}

/** The outline to show spots on; undefined where none is drawn. */
export function drawnOutline({ plan }: InstrumentRecord): readonly Point[] | undefined {
  const outline = plan === undefined ? [] : planOutline(plan);
  return outline.length === 0 ? undefined : outline;
}

/** @returns undefined where no ordinary round of the step tells the modes */
export function rovingQuestion(record: InstrumentRecord, step: Step, round: RovingRound): RovingQuestion | undefined {
  const fit = roundOfModes(step, ({ support }) => sameSupport(support, round.support))?.fit;
  if (fit === undefined) return undefined;
  const taps = round.taps.filter(({ leftOut, rovingSpot }) => leftOut === undefined && rovingSpot !== undefined);
  const { spots } = round.roving;
  const at = spots.flatMap(({ xMm, yMm }): Point[] => (xMm === undefined || yMm === undefined ? [] : [[xMm, yMm]]));
  const plate = at.length < spots.length ? undefined : plateOnBench(record, step, round.support);
  return {
    tapIds: taps.map(({ id }) => id),
    spotOf: taps.map(({ rovingSpot }) => rovingSpot!),
    spots: spots.length,
    modes: fit.modes.map(({ frequencyHz, q }) => ({ frequencyHz, q: q.value })),
    ...(plate !== undefined &&
      record.plan !== undefined && {
        drawing: { plate, parameters: fitParameters(record.plan, round.support), at },
      }),
  };
}
