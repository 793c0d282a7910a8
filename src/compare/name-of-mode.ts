// The name that a frequency of a step goes by in the record.
import type { InstrumentRecord, Step } from '../record/record.ts';
import { centsBetween } from './match.ts';
import { signatures } from './signature.ts';
import { tracks } from './tracks.ts';

/** A mode is the pinned one where its frequency lies this close to where the track says, cents. Our choice. */
const SAME_MODE_CENTS = 20;

/** Name of the mode of a step at this frequency, Hz; undefined where none of its modes with a name lies there. */
export function nameOfMode(record: InstrumentRecord, step: Step, frequencyHz: number): string | undefined {
  return signatures(step)
    .flatMap(({ support }) => tracks(record, step.stage, support))
    .find((track) =>
      track.points.some(
        (point) =>
          point.step.id === step.id &&
          Math.abs(centsBetween(point.mode.frequencyHz.value, frequencyHz)) < SAME_MODE_CENTS,
      ),
    )?.name;
}
