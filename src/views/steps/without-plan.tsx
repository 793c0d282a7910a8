// The next pass without a drawing, judged by what the passes so far have done.
import { courseToward } from '../../compare/course.ts';
import type { Series } from '../../compare/series.ts';
import type { Track } from '../../compare/tracks.ts';
import { nextPassMeasured } from '../../forecast/measured-pass.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import { removals } from '../../record/cuts.ts';
import { isPlateAlone } from '../../record/plan-case.ts';
import type { InstrumentRecord, Target } from '../../record/record.ts';
import { chanceWords, forecastWords } from '../forecast/words.ts';
import { useLength } from '../parts/own-units.ts';
import { TargetBand } from './band.tsx';
import { verdictWords } from './course.tsx';
import { LastPass } from './last-pass.tsx';
import { StopHere, WhatElse } from './proposed.tsx';

export interface OfSeries {
  readonly record: InstrumentRecord;
  readonly conditions: Series;
  readonly targets: readonly Target[];
  readonly followed: readonly Track[];
}

export const trackOf = ({ followed }: OfSeries, { mode }: Target): Track | undefined =>
  followed.find((track) => track.name === mode);

/** Judged by what the passes so far have done. */
export function WithoutPlan(props: OfSeries) {
  const { record, conditions, targets } = props;
  const t = forecastWords().nextPass;
  return (
    <>
      {targets.map((target) => {
        const track = trackOf(props, target);
        const now = track?.points.at(-1)?.mode.frequencyHz;
        return (
          track &&
          now && (
            <div key={target.id}>
              <MeasuredPassOf record={record} track={track} target={target} now={now} />
              <p class="hint">{verdictWords(courseToward(track, removals(record), target))}</p>
            </div>
          )
        );
      })}
      <LastPass record={record} conditions={conditions} wanted={targets.map(({ mode }) => mode)} />
      {targets.length === 0 && <p class="note">{t.needsTarget}</p>}
      {isPlateAlone(conditions.support) && (
        <p class="hint">
          {t.needsPlan} <a href="#/plan">{t.toPlan}</a>
        </p>
      )}
      <WhatElse record={record} plan={undefined} conditions={conditions} />
    </>
  );
}

/** A pass like the last, sized by what like passes have done. */
function MeasuredPassOf(props: {
  readonly record: InstrumentRecord;
  readonly track: Track;
  readonly target: Target;
  readonly now: Estimate;
}) {
  const { record, track, target, now } = props;
  const t = forecastWords().nextPass;
  const length = useLength(3);
  const { next, at, moves } = nextPassMeasured(record, track, target);
  return (
    <>
      <TargetBand target={target} now={now} lands={next.kind === 'pass' ? next.pass.landsAt[0] : undefined} />
      {next.kind === 'stop' ? (
        <StopHere stop={next} />
      ) : (
        <p class="pass-cut">
          {t.asLast(length(next.pass.depthMm), at?.brace ?? '', moves.length)}
          {` · ${t.chancePast(chanceWords(next.pass.chancePast))}`}
        </p>
      )}
    </>
  );
}
