// What the maker's report says of the box, and its photographs.

import { readBox } from '../../../compare/box-reading.ts';
import { stringLoad, tuningNamed } from '../../../compare/string-load.ts';
import type { InstrumentRecord } from '../../../record/record.ts';
import { stepPhotos } from '../../../record/step-photos.ts';
import { partWords } from '../../box/words.ts';
import { Facts } from '../../parts/figure.tsx';
import { number, withHalfWidth } from '../../parts/figures.ts';
import { useLength } from '../../parts/own-units.ts';
import { useStepName } from '../../parts/step-name.ts';
import { words } from '../../words/language.ts';
import { useWorkshop } from '../../workshop-context.ts';
import { ReportPhoto } from './photo.tsx';

export function BoxSection(props: { readonly record: InstrumentRecord }) {
  const { preferences } = useWorkshop();
  const [length, scale] = [useLength(), useLength(3, 0)];
  const t = words.report;
  const { record } = props;
  const { box } = record;
  const step = record.steps.findLast((known) => known.stage === 'closed' || known.stage === 'strung');
  if (box === undefined) return null;
  const reading = step === undefined ? undefined : readBox(record, step);
  const open = reading?.rounds.find(({ state }) => state === 'open');
  const strings = box.strings;
  const load =
    strings === undefined ? undefined : stringLoad(strings, strings.setName, preferences.settings.value.a4Hz);
  return (
    <section class="report-whole">
      <h2>{t.box}</h2>
      <Facts
        class="report-facts"
        of={[
          [
            t.volume,
            reading?.cavity.kind === 'cavity'
              ? withHalfWidth(
                  { value: 1000 * reading.cavity.volumeM3.value, sigma: 1000 * reading.cavity.volumeM3.sigma },
                  'l',
                )
              : undefined,
          ],
          [t.hole, box.cavity?.holeRadiusMm === undefined ? undefined : length(box.cavity.holeRadiusMm)],
          ...(open?.peaks ?? []).flatMap((peak): readonly (readonly [string, string])[] =>
            peak.label === 'other' ? [] : [[t.peak(partWords[peak.label]), withHalfWidth(peak.frequencyHz, 'Hz')]],
          ),
          [t.strings, strings?.setName],
          [t.tuning, strings === undefined ? undefined : tuningNamed(strings.tuning).name],
          [t.stringScale, strings === undefined ? undefined : scale(strings.scaleMm)],
          [
            t.turned,
            strings?.turns === undefined || strings.turns.length === 0
              ? undefined
              : strings.turns.map(({ after, turnDeg }) => t.turnAfter(number(turnDeg, 1), after)).join(', '),
          ],
          [t.pull, load?.kind === 'load' ? withHalfWidth(load.tension.totalN, 'N') : undefined],
        ]}
      />
    </section>
  );
}

export function Photos(props: { readonly record: InstrumentRecord }) {
  const stepName = useStepName();
  const { steps } = props.record;
  const shown = steps.flatMap((step, i) => stepPhotos(step).map((photo) => ({ ...photo, step, n: i + 1 })));
  if (shown.length === 0) return null;
  return (
    <div class="report-photos">
      {shown.map(({ photoId, of, step, n }) => (
        <ReportPhoto
          key={photoId}
          photoId={photoId}
          text={`${words.report.photoOf(n)}: ${of === '' ? stepName(props.record, step) : of}`}
        />
      ))}
    </div>
  );
}
