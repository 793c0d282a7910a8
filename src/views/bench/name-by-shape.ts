// The computed mode whose shape a tapped one has, as the last round from spot to spot tells it.
import { useMemo } from 'preact/hooks';
import { rovingQuestion } from '../../forecast/roving-question.ts';
import { namesOfShapes } from '../../forecast/shape-names.ts';
import type { ShapeOfDrawing } from '../../forecast/tap-shapes.ts';
import { rovingRounds } from '../../record/roving-edit.ts';
import { useWorkshop } from '../workshop-context.ts';

/** A shape is of the mode asked for when it lies this near, as a share: the same step, read from the same taps. */
const SAME_SHARE = 0.002;

/** For the last step of the open record; undefined where no round went from spot to spot, or it tells nothing of the mode. */
export function useNameByShape(frequencyHz: number): ShapeOfDrawing | undefined {
  const { shapeReadings, shelf } = useWorkshop();
  const record = shelf.record.value;
  const question = useMemo(() => {
    const step = record?.steps.at(-1);
    const round = step && rovingRounds(step).at(-1);
    return record && step && round && rovingQuestion(record, step, round);
  }, [record]);
  const reading = question && shapeReadings.of(question).value;
  if (reading?.kind !== 'read' || reading.answer.kind !== 'shapes') return undefined;
  const { shapes } = reading.answer;
  const k = shapes.findIndex((shape) => Math.abs(shape.frequencyHz.value / frequencyHz - 1) < SAME_SHARE);
  return namesOfShapes(reading.answer)[k];
}
