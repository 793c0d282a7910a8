// What happened since an earlier measurement of the same series: since the last one, since this morning, since the start.
import { type Estimate, HALF_WIDTH_95 } from '../quantity/estimate.ts';
import { removals, together } from '../record/cuts.ts';
import type { InstrumentRecord, Step } from '../record/record.ts';
import { weatherBetween } from './conditions.ts';
import { type Move, moveBetween } from './move.ts';
import type { Series } from './series.ts';
import { type Track, type TrackPoint, tracks } from './tracks.ts';

/** From where a move is counted. */
export const sinceWhen = ['last', 'morning', 'start'] as const;
export type SinceWhen = (typeof sinceWhen)[number];

/** One mode since then. */
export interface MoveSince {
  readonly track: Track;
  readonly from: TrackPoint;
  readonly move: Move;
}

/** What was done to a series since then, and what that did. */
export interface Since {
  readonly when: SinceWhen;
  readonly from: Step;
  readonly to: Step;
  readonly massOffG: number | undefined;
  readonly heightOffMm: number | undefined;
  /** modes that were heard at the last measurement and at or after the earlier one; ascending in frequency */
  readonly moves: readonly MoveSince[];
  /** modes that moved by more than holding and weather explain, though nothing was entered as cut */
  readonly unexplained: readonly MoveSince[];
}

/**
 * The latest measurement of a series against an earlier one; undefined where there is none.
 * @param dayOf the day of an instant where the maker is
 */
export function moveSince(
  record: InstrumentRecord,
  { stage, support }: Series,
  when: SinceWhen,
  dayOf: (iso: string) => string,
): Since | undefined {
  const followed = tracks(record, stage, support);
  const measured = record.steps.filter((step) =>
    followed.some(({ points }) => points.some((point) => point.step.id === step.id)),
  );
  const to = measured.at(-1);
  const earlier = measured.slice(0, -1);
  const from =
    to === undefined
      ? undefined
      : when === 'last'
        ? earlier.at(-1)
        : when === 'start'
          ? earlier[0]
          : earlier.find((step) => dayOf(step.atIso) === dayOf(to.atIso));
  if (to === undefined || from === undefined) return undefined;
  const place = (step: Step) => record.steps.indexOf(step);
  const off = together(removals(record).slice(place(from) + 1, place(to) + 1));
  const moves = followed.flatMap((track): MoveSince[] => {
    const now = track.points.find((point) => point.step === to);
    // A bad step in between, or one that did not hear the mode, does not hide a move.
    const before = track.points.find((point) => place(point.step) >= place(from) && point.step !== to);
    return now === undefined || before === undefined
      ? []
      : [{ track, from: before, move: moveBetween(before.mode.frequencyHz, now.mode.frequencyHz) }];
  });
  const isNothingCut = (off.heightOffMm ?? 0) === 0 && (off.massOffG ?? 0) === 0;
  return {
    when,
    from,
    to,
    ...off,
    moves,
    unexplained: isNothingCut ? moves.filter((moved) => isBeyondWeather(moved, to)) : [],
  };
}

/** Change of a mode by air that was not noted, as a share of it, one sigma: some 10 %RH either way. Common practice, no source. */
const UNKNOWN_AIR: Estimate = { value: 1, sigma: 0.007 };

/** Whether a mode moved down by more than holding and the air between explain: shaving lowers. */
function isBeyondWeather({ from, move }: MoveSince, to: Step): boolean {
  const { value, sigma } = weatherBetween(from.step, to)?.frequencyRatio ?? UNKNOWN_AIR;
  const hz = from.mode.frequencyHz.value;
  const left = move.hz.value - hz * (value - 1);
  return move.trusted && left < -HALF_WIDTH_95 * Math.hypot(move.hz.sigma, hz * sigma);
}
