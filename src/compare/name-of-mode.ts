// The name that a frequency of a step goes by in the record.
import type { InstrumentRecord, Step } from '../record/record.ts';
import { centsBetween } from './match.ts';
import { signatures } from './signature.ts';
import { tracks } from './tracks.ts';

/** A frequency is a mode's where it lies this close to where its track says, cents. Our choice. */
const SAME_MODE_CENTS = 20;

/** Name of the mode of a step nearest to this frequency, Hz; undefined where none lies there, or it has no name. */
export function nameOfMode(record: InstrumentRecord, step: Step, frequencyHz: number): string | undefined {
  const near = signatures(step)
    .flatMap(({ support }) => tracks(record, step.stage, support))
    .flatMap(({ name, points }) =>
      points
        .filter((point) => point.step.id === step.id)
        .map(({ mode }) => ({ name, cents: Math.abs(centsBetween(mode.frequencyHz.value, frequencyHz)) })),
    )
    .filter(({ cents }) => cents < SAME_MODE_CENTS)
    .toSorted((a, b) => a.cents - b.cents);
  return near[0]?.name;
}
