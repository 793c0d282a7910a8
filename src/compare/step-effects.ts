// What each step did to the modes that are followed: where they stood, and how far they moved since they were last heard.
import { removals, together } from '../record/cuts.ts';
import type { InstrumentRecord, Step } from '../record/record.ts';
import { airChange } from './conditions.ts';
import { type Move, moveBetween } from './move.ts';
import type { Track, TrackPoint } from './tracks.ts';

/** One mode at one step. */
export interface ModeEffect {
  readonly point: TrackPoint;
  /** since the last step at which this mode was heard; undefined at the first */
  readonly move: Move | undefined;
}

/** One measured step. */
export interface StepEffect {
  readonly step: Step;
  /** place of the step in the record, from 1 */
  readonly number: number;
  /** taken off since the measured step before, g; undefined where no step between said so */
  readonly massOffG: number | undefined;
  /** the same in millimetres of brace height */
  readonly heightOffMm: number | undefined;
  /** change of air since the measured step before, where it is worth naming */
  readonly air: ReturnType<typeof airChange>;
  /** in the order of the tracks; undefined where the mode was not heard */
  readonly modes: readonly (ModeEffect | undefined)[];
}

/**
 * The measured steps of some tracks, in the order of the record.
 * @param followed tracks of one stage under one support
 */
export function stepEffects(record: InstrumentRecord, followed: readonly Track[]): readonly StepEffect[] {
  const measured = new Set(followed.flatMap((track) => track.points.map((point) => point.step.id)));
  const removed = removals(record);
  const effects: StepEffect[] = [];
  let last = -1;
  record.steps.forEach((step, i) => {
    if (!measured.has(step.id)) return;
    const before = record.steps[last];
    const off = together(before === undefined ? [] : removed.slice(last + 1, i + 1));
    effects.push({
      step,
      number: i + 1,
      ...off,
      air: airChange(before?.climate ?? {}, step.climate),
      modes: followed.map((track) => effectOn(track, step)),
    });
    last = i;
  });
  return effects;
}

function effectOn(track: Track, step: Step): ModeEffect | undefined {
  const i = track.points.findIndex((point) => point.step.id === step.id);
  const point = track.points[i];
  if (point === undefined) return undefined;
  const before = track.points[i - 1];
  return {
    point,
    move: before === undefined ? undefined : moveBetween(before.mode.frequencyHz, point.mode.frequencyHz),
  };
}
