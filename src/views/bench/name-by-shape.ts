// The computed mode whose shape a tapped one has, as the last round from spot to spot tells it.
import { useEffect } from 'preact/hooks';
import type { ShapeOfDrawing } from '../../forecast/tap-shapes.ts';
import { useWorkshop } from '../workshop-context.ts';

/** For the last step of the open record; undefined where no round went from spot to spot, or it tells nothing of the mode. */
export function useNameByShape(frequencyHz: number): ShapeOfDrawing | undefined {
  const { shapes, shelf } = useWorkshop();
  const record = shelf.record.value;
  const isRoved = record?.steps.at(-1)?.rounds.some(({ roving }) => roving !== undefined) ?? false;
  useEffect(() => {
    if (isRoved) void shapes.load();
  }, [isRoved]);
  return record !== undefined && isRoved ? shapes.now.value?.nameAt(record, frequencyHz) : undefined;
}
