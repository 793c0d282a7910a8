// The next pass without a drawing, judged by what the passes so far have done.
import { courseToward } from '../../compare/course.ts';
import type { Series } from '../../compare/series.ts';
import type { Track } from '../../compare/tracks.ts';
import { nextPassMeasured } from '../../forecast/measured-pass.ts';
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
  const aims = targets.flatMap((target) => {
    const track = trackOf(props, target);
    return track === undefined ? [] : [{ track, target }];
  });
  return (
    <>
      {aims.length > 0 && <MeasuredPassOf record={record} aims={aims} />}
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

interface Aim {
  readonly track: Track;
  readonly target: Target;
}

/** One pass like the last for all that is wanted, sized by what like passes have done. */
function MeasuredPassOf(props: { readonly record: InstrumentRecord; readonly aims: readonly Aim[] }) {
  const { record, aims } = props;
  const t = forecastWords().nextPass;
  const length = useLength(3);
  const { next, at, moves } = nextPassMeasured(record, aims);
  const lands = next.kind === 'pass' ? next.pass.landsAt : [];
  return (
    <>
      {aims.map(({ track, target }, i) => (
        <div key={target.id}>
          <TargetBand target={target} now={track.points.at(-1)!.mode.frequencyHz} lands={lands[i]} />
          <p class="hint">{verdictWords(courseToward(track, removals(record), target))}</p>
        </div>
      ))}
      {next.kind === 'stop' ? (
        <StopHere stop={next} />
      ) : (
        <p class="pass-cut">
          {t.asLast(length(next.pass.depthMm), at?.brace ?? '', Math.min(...moves.map(({ length: n }) => n)))}
          {` · ${t.chancePast(chanceWords(next.pass.chancePast))}`}
        </p>
      )}
    </>
  );
}
