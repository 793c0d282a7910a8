// The chart of every mode over the steps, and for each target in plain words where the maker stands.

import { type CourseToTarget as CourseOf, courseToward, type Rate } from '../../compare/course.ts';
import type { Series } from '../../compare/series.ts';
import { courseUnder } from '../../compare/shown-course.ts';
import { type Track, tracks } from '../../compare/tracks.ts';
import { scaled } from '../../quantity/estimate.ts';
import { removals } from '../../record/cuts.ts';
import type { InstrumentRecord, Target } from '../../record/record.ts';
import { Facts } from '../parts/figure.tsx';
import { number, signed, withHalfWidth } from '../parts/figures.ts';
import { useRateDepth } from '../parts/own-units.ts';
import { missingWords } from '../words/codes.ts';
import { words } from '../words/language.ts';
import { CoursePanels } from './course-panels.tsx';
import { StepEffects } from './effects.tsx';

export function Course(props: { readonly record: InstrumentRecord; readonly conditions: Series }) {
  const { record, conditions } = props;
  const course = courseUnder(record, conditions);
  const followed = tracks(record, conditions.stage, conditions.support);
  // A single dot in a drawing says no more than its figure in the table.
  const hasMoves = course.tracks.some(({ points }) => points.length > 1);
  return (
    <>
      {course.targets.map((target) => (
        <Stand
          key={target.id}
          record={record}
          target={target}
          track={followed.find((track) => track.name === target.mode)}
        />
      ))}
      {hasMoves && <CoursePanels record={record} course={course} />}
      <StepEffects record={record} followed={course.tracks} />
    </>
  );
}

/** The figures of one target's course; whether to go on is said with the next pass. */
function Stand(props: {
  readonly record: InstrumentRecord;
  readonly target: Target;
  readonly track: Track | undefined;
}) {
  const { target, track, record } = props;
  const depth = useRateDepth();
  const wanted = `${number(target.frequencyHz, 1)} ± ${number(target.toleranceHz, 1)} Hz`;
  if (track === undefined)
    return (
      <section class="stand">
        <h2>{target.mode}</h2>
        <p>{words.steps.wantedOnly(wanted)}</p>
      </section>
    );
  const course = courseToward(track, removals(record), target);
  const now = track.points.at(-1)!.mode.frequencyHz;
  return (
    <section class="stand">
      <h2>{target.mode}</h2>
      <Facts
        of={[
          [words.steps.now, withHalfWidth(now, 'Hz')],
          [words.steps.wanted, wanted],
          [words.steps.left, signed(course.leftHz, 'Hz')],
          [words.steps.perGram, rateWords(course.perGram, 'Hz')],
          [words.steps.perDepth(depth.said), rateWords(course.perMm, 'Hz', depth.mm)],
        ]}
      />
    </section>
  );
}

const rateWords = (rate: Rate, unit: string, units = 1): string =>
  rate.kind === 'rate' ? signed(scaled(rate.perUnit, units), unit) : missingWords(rate.because);

export function verdictWords(course: CourseOf): string {
  const { verdict } = course;
  switch (verdict.kind) {
    case 'within':
      return verdict.surely ? words.steps.within : words.steps.withinUnsure;
    case 'past':
      return words.steps.past;
    case 'next-overshoots':
      return words.steps.overshoots(withHalfWidth(verdict.nextHz, 'Hz'));
    case 'keep-going':
      return words.steps.keepGoing(withHalfWidth(verdict.passesLeft, ''), withHalfWidth(verdict.nextHz, 'Hz'));
    case 'cannot-say':
      return words.steps.cannotSay(missingWords(verdict.because));
  }
}
