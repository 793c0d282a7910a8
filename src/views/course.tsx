// The chart of every mode over the steps, and for each target in plain words where the maker stands.
import { type Course as CourseOf, courseToward, type Rate } from '../compare/course.ts';
import type { Series } from '../compare/series.ts';
import { courseUnder } from '../compare/shown-course.ts';
import { type Track, tracks } from '../compare/tracks.ts';

import type { InstrumentRecord, Target } from '../record/record.ts';
import { CoursePanels } from './course-panels.tsx';
import { number, signed, withHalfWidth } from './figures.ts';
import { StepEffects } from './step-effects.tsx';
import { missingWords } from './words.ts';

export function Course(props: { readonly record: InstrumentRecord; readonly conditions: Series }) {
  const { record, conditions } = props;
  const course = courseUnder(record, conditions);
  const followed = tracks(record, conditions.stage, conditions.support);
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
      <CoursePanels record={record} course={course} />
      <StepEffects record={record} followed={course.tracks} />
    </>
  );
}

/** Where one target stands, readable from two metres. */
function Stand(props: {
  readonly record: InstrumentRecord;
  readonly target: Target;
  readonly track: Track | undefined;
}) {
  const { target, track, record } = props;
  const wanted = `${number(target.frequencyHz, 1)} ± ${number(target.toleranceHz, 1)} Hz`;
  if (track === undefined)
    return (
      <section class="stand">
        <h2>{target.mode}</h2>
        <p>Wanted {wanted}. No mode measured here has that name yet: name it on the bench, under its figure.</p>
      </section>
    );
  const course = courseToward(track, record.steps, target);
  const now = track.points.at(-1)!.mode.frequencyHz;
  return (
    <section class="stand">
      <h2>{target.mode}</h2>
      <p class={`verdict ${course.verdict.kind}`}>{verdictWords(course)}</p>
      <dl class="stand-figures">
        <div>
          <dt>Now</dt>
          <dd>{withHalfWidth(now, 'Hz')}</dd>
        </div>
        <div>
          <dt>Wanted</dt>
          <dd>{wanted}</dd>
        </div>
        <div>
          <dt>Left</dt>
          <dd>{signed(course.leftHz, 'Hz')}</dd>
        </div>
        <div>
          <dt>A gram moved it</dt>
          <dd>{rateWords(course.perGram, 'Hz')}</dd>
        </div>
        <div>
          <dt>A millimetre moved it</dt>
          <dd>{rateWords(course.perMm, 'Hz')}</dd>
        </div>
      </dl>
    </section>
  );
}

const rateWords = (rate: Rate, unit: string): string =>
  rate.kind === 'rate' ? signed(rate.perUnit, unit) : missingWords(rate.because);

function verdictWords(course: CourseOf): string {
  const { verdict } = course;
  switch (verdict.kind) {
    case 'within':
      return verdict.surely
        ? 'Within the target. Stop here.'
        : 'Within the target, though its uncertainty reaches outside. Stop here and tap again tomorrow.';
    case 'past':
      return 'Below the target. Take nothing more off; wood cannot be put back.';
    case 'next-overshoots':
      return `The next pass like the last would overshoot: about ${withHalfWidth(verdict.nextHz, 'Hz')}. Take less.`;
    case 'keep-going':
      return `About ${withHalfWidth(verdict.passesLeft, '')} more passes like the last; the next one leads to about ${withHalfWidth(verdict.nextHz, 'Hz')}.`;
    case 'cannot-say':
      return `No forecast: ${missingWords(verdict.because)}.`;
  }
}
