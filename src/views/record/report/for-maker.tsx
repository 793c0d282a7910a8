// The report for the maker's own file: everything that lets the next instrument be foretold from this one.

import { patternOf } from '../../../compare/pattern-of.ts';
import { reportFacts } from '../../../compare/report.ts';
import { seriesKey } from '../../../compare/series.ts';
import type { ShownCourse } from '../../../compare/shown-course.ts';
import { planNow } from '../../../record/cuts.ts';
import { ownPlan } from '../../../record/plan-edit.ts';
import { planMass } from '../../../record/plan-mass.ts';
import type { InstrumentRecord } from '../../../record/record.ts';
import { Facts } from '../../parts/figure.tsx';
import { day, number, withHalfWidth } from '../../parts/figures.ts';
import { useLength, useMass } from '../../parts/own-units.ts';
import { useCutNames, useStepName } from '../../parts/step-name.ts';
import { Table } from '../../parts/table.tsx';
import { useAir } from '../../parts/use-air.ts';
import { planWords } from '../../plan/words.ts';
import { CoursePanels } from '../../steps/course-panels.tsx';
import { midSentence, stageWords } from '../../words/codes.ts';
import { conditionsWords } from '../../words/conditions.ts';
import { words } from '../../words/language.ts';
import { BoxSection, Photos } from './box-section.tsx';
import { ReportPlan, ReportSignature, ReportWood } from './parts.tsx';
import { ReportShapes } from './shapes-section.tsx';

export function MakerReport(props: { readonly record: InstrumentRecord; readonly photos: boolean }) {
  const { record } = props;
  const facts = reportFacts(record);
  const t = words.report;
  return (
    <>
      <section class="report-first">
        <ReportPlan record={record} face="inside" />
        <Summary record={record} />
      </section>
      <section>
        <h2>{t.wood}</h2>
        <ReportWood record={record} />
      </section>
      <section>
        <h2>{t.signature}</h2>
        <ReportSignature record={record} final={facts.final} />
      </section>
      <ReportShapes record={record} />
      {facts.courses.length > 0 && (
        <section>
          <h2>{t.course}</h2>
          {facts.courses.map((course) => (
            <CourseOf key={seriesKey(course.conditions)} record={record} course={course} />
          ))}
          <p class="report-small">{t.bandNote}</p>
        </section>
      )}
      <StepTable record={record} course={facts.courses.at(-1)} />
      {facts.earlier.length > 0 && (
        <section class="report-whole">
          <h2>{t.earlier}</h2>
          <Table
            class="report-table"
            head={[t.step, t.earlierHow, t.earlierModes]}
            rows={facts.earlier.map(({ step, signature, modes }) => [
              number(record.steps.indexOf(step) + 1, 0),
              conditionsWords({ stage: step.stage, support: signature.support }),
              modes
                .map(
                  ({ mode, name }) => `${name === undefined ? '' : `${name} `}${withHalfWidth(mode.frequencyHz, 'Hz')}`,
                )
                .join('; '),
            ])}
          />
        </section>
      )}
      <BoxSection record={record} />
      {record.notes !== '' && (
        <section class="report-whole">
          <h2>{t.notes}</h2>
          <p class="report-notes">{record.notes}</p>
        </section>
      )}
      {props.photos && <Photos record={record} />}
      <section class="report-whole report-care">
        <h2>{t.cautions}</h2>
        <ul>
          {t.makerCautions.map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
      </section>
    </>
  );
}

function Summary(props: { readonly record: InstrumentRecord }) {
  const { record } = props;
  const length = useLength(3);
  const mass = useMass();
  const air = useAir();
  const t = words.report;
  const { lastMassG, humidityPercent, tempC } = reportFacts(record);
  const plan = ownPlan(record);
  const pattern = plan === undefined ? undefined : patternOf(plan);
  const first = record.steps[0];
  const last = record.steps.at(-1);
  return (
    <Facts
      class="report-facts"
      of={[
        [t.model, record.model],
        [t.player, record.hand === 'left' ? t.left : t.right],
        [t.stage, last === undefined ? undefined : stageWords[last.stage]],
        [
          t.measured,
          first === undefined || last === undefined ? undefined : t.fromTo(day(first.atIso), day(last.atIso)),
        ],
        [
          t.weighed,
          lastMassG === undefined
            ? undefined
            : t.weighedAt(mass(lastMassG.massG), record.steps.indexOf(lastMassG.step) + 1),
        ],
        [t.air, air.range(humidityPercent, tempC)],
        [words.quantities.scale, plan === undefined ? undefined : length(plan.scaleMm)],
        [t.thickness, plan === undefined ? undefined : length(plan.thicknessMm)],
        [t.bracing, pattern === undefined ? undefined : planWords().patterns[pattern]],
        [t.drawnMass, plan === undefined ? undefined : t.withoutBridge(mass(planMass(planNow(record, plan)).totalG))],
      ]}
    />
  );
}

function CourseOf(props: { readonly record: InstrumentRecord; readonly course: ShownCourse }) {
  return (
    <>
      <p class="report-how">{words.report.courseUnder(midSentence(conditionsWords(props.course.conditions)))}</p>
      <CoursePanels record={props.record} course={props.course} />
    </>
  );
}

/** Every step by name, with the modes of the last course. */
function StepTable(props: { readonly record: InstrumentRecord; readonly course: ShownCourse | undefined }) {
  const { record, course } = props;
  const mass = useMass();
  const air = useAir();
  const t = words.report;
  const [stepName, cutNames] = [useStepName(), useCutNames()];
  const tracks = (course?.tracks ?? []).filter((track) => track.name !== undefined).slice(0, 3);
  if (record.steps.length === 0) return null;
  return (
    <Table
      label={t.course}
      class="report-table report-steps"
      head={[t.step, t.done, t.mass, t.climate, ...tracks.map((track) => t.inHz(track.name ?? ''))]}
      rows={record.steps.map((step, i) => [
        number(i + 1, 0),
        <>
          {stepName(record, step)}
          {step.done !== '' &&
            cutNames(record, step).map((cut) => (
              <span class="report-faint block" key={cut}>
                {cut}
              </span>
            ))}
          {day(step.atIso) !== day(record.steps[i - 1]?.atIso ?? '1970-01-01') && (
            <span class="report-faint"> {day(step.atIso)}</span>
          )}
          {step.heard !== '' && <span class="report-heard">“{step.heard}”</span>}
        </>,
        step.massG === undefined ? '–' : mass(step.massG),
        air.one(step.climate) || '–',
        ...tracks.map((track) => {
          const point = track.points.find((known) => known.step.id === step.id);
          return point === undefined ? t.notHeard : withHalfWidth(point.mode.frequencyHz, '');
        }),
      ])}
    />
  );
}
