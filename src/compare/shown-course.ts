// The course of the modes that is worth drawing: of the measured series, the named modes, else those heard most.
import type { InstrumentRecord, Target } from '../record/record.ts';
import { type Series, targetsAt } from './series.ts';
import { type Track, tracks } from './tracks.ts';

/** The course of the modes through steps that may be compared. */
export interface ShownCourse {
  readonly conditions: Series;
  /** named ones where there are any, else those heard at most steps; ascending in frequency */
  readonly tracks: readonly Track[];
  readonly targets: readonly Target[];
}

/** Most modes whose course is drawn: more are not read. */
const mostTracks = 6;

/** What to draw of the steps that were measured under one set of conditions. */
export function courseUnder(record: InstrumentRecord, conditions: Series): ShownCourse {
  const followed = tracks(record, conditions.stage, conditions.support);
  const named = followed.filter((track) => track.name !== undefined);
  const most = Math.max(...followed.map((track) => track.points.length));
  const shown = named.length > 0 ? named : followed.filter((track) => track.points.length === most);
  return {
    conditions,
    tracks: shown.slice(0, mostTracks),
    targets: targetsAt(record, conditions.stage),
  };
}
