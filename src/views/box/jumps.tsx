// Before gluing: what the maker's own earlier instruments did at the next stage says what to expect.

import { useEffect, useState } from 'preact/hooks';
import { type InstrumentJump, stageJumps } from '../../compare/stage-jumps.ts';
import { nameAfterStage, stagePlates } from '../../forecast/stage-question.ts';
import { type Estimate, propagated } from '../../quantity/estimate.ts';
import { type InstrumentRecord, type Stage, stages } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { CautionLine } from '../parts/cautions.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { withHalfWidth } from '../parts/figures.ts';
import { Table } from '../parts/table.tsx';
import { TextField } from '../parts/text-field.tsx';
import { Waiting } from '../parts/waiting.tsx';
import { modeNames, stageWords } from '../words/codes.ts';
import { useWorkshop } from '../workshop-context.ts';
import type { BoxPartProps } from './part.ts';
import { percentOf } from './sheet.tsx';
import { StageShapesSaid } from './stage-shapes.tsx';
import { isOfBox, WhatToExpect } from './what-to-expect.tsx';
import { boxWords } from './words.ts';

export function BoxJumps({ record }: BoxPartProps) {
  const { earlier } = useWorkshop();
  const t = boxWords().jumps;
  useEffect(() => {
    void earlier.load();
  }, [record.id]);
  const now = record.steps.at(-1)?.stage ?? 'braced';
  const [from, setFrom] = useState<Stage>(now === 'strung' ? 'closed' : now);
  const [to, setTo] = useState<Stage>(stages[Math.min(stages.indexOf(now) + 1, stages.length - 1)]!);
  const [nameBefore, setNameBefore] = useState<string>(isOfBox(now) ? 'top' : 'monopole');
  // what the maker says of it; until then the shapes of the drawn top, or what is usual
  const [saidAfter, setSaidAfter] = useState<string | undefined>(undefined);
  const byShapes = useShapes(record, from, to, nameBefore);
  const nameAfter = saidAfter ?? byShapes.carriedName ?? (isOfBox(to) ? 'top' : nameBefore);
  const jumps = stageJumps(earlier.records.value ?? [], { from, to, nameBefore, nameAfter });
  /** another mode or stage: what was said of the former one no longer counts */
  const clearing =
    <T,>(set: (value: T) => void) =>
    (value: T) => {
      setSaidAfter(undefined);
      set(value);
    };
  const stageOptions = stages.map((stage) => [stage, stageWords[stage]] as const);
  const drawn = record.plan === undefined ? t.noPlan : byShapes.plates === undefined ? t.noPlates : t.byShapes;
  return (
    <>
      <h1>{t.title}</h1>
      <section class="stand" aria-label={t.label}>
        <WhatToExpect
          record={record}
          jumps={jumps}
          from={from}
          to={to}
          nameBefore={nameBefore}
          shapes={byShapes.shapes}
        />
      </section>
      <Card title={t.which}>
        <p class="hint">
          {t.otherName} {drawn}
        </p>
        <div class="fields">
          <ChoiceField label={t.stageBefore} value={from} options={stageOptions} onChange={clearing(setFrom)} />
          <TextField label={t.modeBefore} value={nameBefore} list={[...modeNames]} onChange={clearing(setNameBefore)} />
          <ChoiceField label={t.stageAfter} value={to} options={stageOptions} onChange={clearing(setTo)} />
          <TextField label={t.modeAfter} value={nameAfter} list={[...modeNames]} onChange={setSaidAfter} />
        </div>
        <ByShapes {...byShapes} from={from} to={to} nameBefore={nameBefore} saidAfter={saidAfter} say={setSaidAfter} />
        {jumps.length === 0 ? (
          <p>{t.noEarlier}</p>
        ) : (
          <Table
            label={t.earlierLabel}
            class="moves"
            head={[t.instrument, stageWords[from], stageWords[to], t.went]}
            rows={jumps.map((jump) => [
              jump.instrument,
              withHalfWidth(jump.before, 'Hz'),
              withHalfWidth(jump.after, 'Hz'),
              percentOf(ratioOf(jump)),
            ])}
          />
        )}
        <CautionLine about={['stop', 'heat']} />
      </Card>
    </>
  );
}

/** Which mode of the drawn top a mode becomes at the next stage; asked anew whenever the drawing or the stages change. */
function useShapes(record: InstrumentRecord, from: Stage, to: Stage, nameBefore: string) {
  const { forecasts } = useWorkshop();
  const plates = stagePlates(record, from, to);
  const key = JSON.stringify(plates);
  useEffect(() => {
    if (plates !== undefined) forecasts.stages.ask(plates);
  }, [key]);
  const asked = forecasts.stages.current.value;
  const answer = asked.kind === 'ready' && asked.key === key ? asked.answer : undefined;
  const shapes = answer?.kind === 'carried' ? answer : undefined;
  return { plates, asked, answer, shapes, carriedName: shapes && nameAfterStage(shapes, nameBefore, to) };
}

function ByShapes(
  props: ReturnType<typeof useShapes> & {
    readonly from: Stage;
    readonly to: Stage;
    readonly nameBefore: string;
    readonly saidAfter: string | undefined;
    readonly say: (name: string | undefined) => void;
  },
) {
  const { forecasts } = useWorkshop();
  const { plates, shapes, carriedName, from, to, nameBefore, saidAfter } = props;
  const t = boxWords().jumps;
  if (plates === undefined) return null;
  return (
    <>
      <Waiting
        asked={props.asked}
        what={t.comparing}
        onCancel={() => forecasts.stages.cancel()}
        onAgain={() => forecasts.stages.again(plates)}
      />
      {props.answer?.kind === 'unsolvable' && <p class="note">{t.unsolvable}</p>}
      {shapes !== undefined && (
        <StageShapesSaid shapes={shapes} name={nameBefore} nameAfter={carriedName} from={from} to={to} />
      )}
      {saidAfter !== undefined && carriedName !== undefined && saidAfter !== carriedName && (
        <p class="note">
          {t.otherwise(saidAfter, carriedName)}{' '}
          <Button kind="quiet" text={t.takeShapes} onPress={() => props.say(undefined)} />
        </p>
      )}
    </>
  );
}

/** What the mode went by; the two readings are independent. */
const ratioOf = ({ before, after }: InstrumentJump): Estimate =>
  propagated(([from, to]) => to! / from!, [before, after]).result;
