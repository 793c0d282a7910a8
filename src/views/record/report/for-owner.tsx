// The sheet that goes with the instrument: what it is made of, how it answers, how to keep it.

import { reportFacts } from '../../../compare/report.ts';
import { ownPlan } from '../../../record/plan-edit.ts';
import type { InstrumentRecord } from '../../../record/record.ts';
import { stepPhotos } from '../../../record/step-photos.ts';
import { Facts } from '../../parts/figure.tsx';
import { day } from '../../parts/figures.ts';
import { useLength } from '../../parts/own-units.ts';
import { useAir } from '../../parts/use-air.ts';
import { words } from '../../words/language.ts';
import { ReportPlan, ReportSignature, woodFacts } from './parts.tsx';
import { ReportPhoto } from './photo.tsx';

export function OwnerReport(props: { readonly record: InstrumentRecord; readonly photos: boolean }) {
  const { record } = props;
  const facts = reportFacts(record);
  const air = useAir();
  const length = useLength(3);
  const t = words.report;
  const wood = woodFacts(record);
  const plan = ownPlan(record);
  const first = record.steps[0];
  const last = record.steps.at(-1);
  const worked = air.range(facts.humidityPercent, facts.tempC);
  const photo = record.steps.flatMap(stepPhotos).at(-1)?.photoId;
  const strings = record.box?.strings;
  return (
    <>
      <section class="report-first">
        {props.photos && photo !== undefined ? (
          <ReportPhoto photoId={photo} text={t.photo} />
        ) : (
          <ReportPlan record={record} face="outside" />
        )}
        <div>
          <Facts
            class="report-facts"
            of={[
              [t.model, record.model],
              [t.player, record.hand === 'left' ? t.left : t.right],
              [t.measured, first && last ? t.fromTo(day(first.atIso), day(last.atIso)) : undefined],
              ...wood,
              [words.quantities.scale, plan === undefined ? undefined : length(plan.scaleMm)],
              [t.strings, strings?.setName],
            ]}
          />
          <section class="report-care">
            <h2>{t.care}</h2>
            <ul>
              <li>{worked === '' ? t.careAirUnknown : t.careAir(worked)}</li>
              {strings !== undefined && <li>{t.careStrings(strings.setName)}</li>}
              <li>{t.careSlack}</li>
              <li>{t.careAsk}</li>
            </ul>
          </section>
        </div>
      </section>
      <section>
        <h2>{t.signature}</h2>
        <ReportSignature record={record} final={facts.final} short />
      </section>
      <p class="report-small">{t.ownerPromise}</p>
      <div class="report-sign">
        {[t.maker, t.date, t.lookAgain].map((label) => (
          <p key={label}>{label}</p>
        ))}
      </div>
    </>
  );
}
