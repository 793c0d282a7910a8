// What a roving round tells: read in the worker, then shown mode by mode.
import { useMemo } from 'preact/hooks';
import { rovingQuestion } from '../../forecast/roving-question.ts';
import type { InstrumentRecord, Step } from '../../record/record.ts';
import type { RovingRound } from '../../record/roving-edit.ts';
import { Card } from '../parts/card.tsx';
import { moment } from '../parts/figures.ts';
import { TapsOfRound } from './taps.tsx';
import { ShapesTold } from './told.tsx';
import { useShapes } from './use-shapes.ts';
import { shapesWords } from './words.ts';

export function ShapesOfRound(props: {
  readonly record: InstrumentRecord;
  readonly step: Step;
  readonly round: RovingRound;
}) {
  const { record, step, round } = props;
  const t = shapesWords();
  const question = useMemo(() => rovingQuestion(record, step, round), [record, step, round]);
  return (
    <>
      <p class="hint">{t.result(moment(round.atIso))}</p>
      {question === undefined ? <p class="note">{t.needsModes}</p> : <Reading {...props} question={question} />}
      <TapsOfRound record={record} step={step} round={round} />
    </>
  );
}

function Reading(
  props: Parameters<typeof ShapesOfRound>[0] & {
    readonly question: NonNullable<ReturnType<typeof rovingQuestion>>;
  },
) {
  const { readings } = useShapes();
  const t = shapesWords();
  const state = readings.of(props.question).value;
  switch (state.kind) {
    case 'reading':
      return (
        <Card>
          <p role="status">{t.reading}</p>
          <progress max={1} value={state.fraction} aria-label={t.reading} />
        </Card>
      );
    case 'failed':
      return <p class="note">{t.failed(state.message)}</p>;
    case 'read':
      if (state.answer.kind === 'too-few')
        return <p class="note">{state.tapIds.length === 0 ? t.noSounds : t.tooFew[state.answer.of]}</p>;
      return (
        <ShapesTold
          record={props.record}
          step={props.step}
          round={props.round}
          answer={state.answer}
          tapIds={state.tapIds}
        />
      );
  }
}
