// The measured shapes on the report: the last round from spot to spot, each mode as a small picture.
import { useEffect, useMemo } from 'preact/hooks';
import type { RovingQuestion } from '../../../forecast/roving-question.ts';
import { drawnOutline, rovingQuestion } from '../../../forecast/roving-question.ts';
import type { TapShape, TapShapes } from '../../../forecast/tap-shapes.ts';
import type { Point } from '../../../plate/outline.ts';
import type { InstrumentRecord } from '../../../record/record.ts';
import { rovingRounds } from '../../../record/roving-edit.ts';
import { ShapeOnPlan } from '../../forecast/shape.tsx';
import { day, number, withHalfWidth } from '../../parts/figures.ts';
import { pathOf, viewBoxOf } from '../../plan/face.ts';
import { words } from '../../words/language.ts';
import { useWorkshop } from '../../workshop-context.ts';
import '../../forecast/forecast.css';
import './shapes-section.css';

/** Nothing where no round went from spot to spot, or where it can be told at the spots only. */
export function ReportShapes({ record }: { readonly record: InstrumentRecord }) {
  const asked = useMemo(() => {
    const step = record.steps.findLast((one) => rovingRounds(one).length > 0);
    const round = step && rovingRounds(step).at(-1);
    const question = step && round && rovingQuestion(record, step, round);
    return question?.drawing === undefined || round === undefined ? undefined : { question, atIso: round.atIso };
  }, [record]);
  const outline = drawnOutline(record);
  return asked === undefined || outline === undefined ? null : <Shapes {...asked} outline={outline} />;
}

function Shapes(props: {
  readonly question: RovingQuestion;
  readonly atIso: string;
  readonly outline: readonly Point[];
}) {
  const { shapes } = useWorkshop();
  const t = words.report;
  useEffect(() => void shapes.load(), []);
  const state = shapes.now.value?.readings.of(props.question).value ?? { kind: 'reading' };
  if (state.kind === 'reading') return <p class="no-print">{t.readingShapes}</p>;
  if (state.kind !== 'read' || state.answer.kind !== 'shapes') return null;
  const { answer } = state;
  const told = answer.shapes.filter(({ whole }) => whole !== undefined);
  if (told.length === 0) return null;
  return (
    <section class="report-whole">
      <h2>{t.shapes}</h2>
      <p class="report-how">{t.shapesOf(day(props.atIso))}</p>
      <div class="report-shapes">
        {told.map((shape) => (
          <Picture key={shape.frequencyHz.value} shape={shape} answer={answer} outline={props.outline} />
        ))}
      </div>
    </section>
  );
}

function Picture(props: { readonly shape: TapShape; readonly answer: TapShapes; readonly outline: readonly Point[] }) {
  const { whole, frequencyHz } = props.shape;
  if (whole === undefined) return null;
  return (
    <figure>
      <svg viewBox={viewBoxOf(props.outline)} aria-hidden="true">
        <path class="report-outline" d={pathOf('outside', props.outline, true)} />
        <ShapeOnPlan mode={whole} face="outside" isFree={false} />
      </svg>
      <figcaption>
        <strong>{withHalfWidth(frequencyHz, 'Hz')}</strong>
        <br />
        {words.report.shapeIs(props.answer.computed[whole.computed]!.name, number(whole.likeness, 2))}
      </figcaption>
    </figure>
  );
}
