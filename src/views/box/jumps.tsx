// Before gluing: what the maker's own earlier instruments did at the next stage says what to expect.

import { useEffect, useState } from 'preact/hooks';
import { expectAfterStage, type StageForecast } from '../../box/stage-jump.ts';
import { type InstrumentJump, modeNow, stageJumps } from '../../compare/stage-jumps.ts';
import { nameAfterStage, stagePlates } from '../../forecast/stage-question.ts';
import { type Estimate, propagated } from '../../quantity/estimate.ts';
import { type Stage, stages } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { CautionLine } from '../parts/cautions.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { number, signedNumber, withHalfWidth } from '../parts/figures.ts';
import { Table } from '../parts/table.tsx';
import { TextField } from '../parts/text-field.tsx';
import { Waiting } from '../parts/waiting.tsx';
import { modeNames, stageWords } from '../words/codes.ts';
import { useWorkshop } from '../workshop-context.ts';
import type { BoxPartProps } from './part.ts';
import { percentOf } from './sheet.tsx';
import { StageShapesSaid } from './stage-shapes.tsx';
import { boxWords } from './words.ts';

export function BoxJumps({ record }: BoxPartProps) {
  const { earlier, forecasts } = useWorkshop();
  const t = boxWords().jumps;
  useEffect(() => {
    void earlier.load();
  }, [record.id]);
  const now = record.steps.at(-1)?.stage ?? 'braced';
  const [from, setFrom] = useState<Stage>(now === 'strung' ? 'closed' : now);
  const [to, setTo] = useState<Stage>(stages[Math.min(stages.indexOf(now) + 1, stages.length - 1)]!);
  const [nameBefore, setNameBefore] = useState<string>(now === 'closed' || now === 'strung' ? 'top' : 'monopole');
  // what the maker says of it; until then the shapes of the drawn top, or what is usual
  const [saidAfter, setSaidAfter] = useState<string | undefined>(undefined);
  const plates = stagePlates(record, from, to);
  const platesKey = JSON.stringify(plates);
  useEffect(() => {
    if (plates !== undefined) forecasts.stages.ask(plates);
  }, [platesKey]);
  const asked = forecasts.stages.current.value;
  const answer = asked.kind === 'ready' && asked.key === platesKey ? asked.answer : undefined;
  const shapes = answer?.kind === 'carried' ? answer : undefined;
  const carriedName = shapes && nameAfterStage(shapes, nameBefore, to);
  const usualName = to === 'closed' || to === 'strung' ? 'top' : nameBefore;
  const nameAfter = saidAfter ?? carriedName ?? usualName;
  const records = earlier.records.value;
  const jumps = stageJumps(records ?? [], { from, to, nameBefore, nameAfter });
  const nowHz = modeNow(record, from, nameBefore);
  /** another mode or stage: what was said of the former one no longer counts */
  const clearing =
    <T,>(set: (value: T) => void) =>
    (value: T) => {
      setSaidAfter(undefined);
      set(value);
    };
  const backward = stages.indexOf(to) <= stages.indexOf(from);
  const stageOptions = stages.map((stage) => [stage, stageWords[stage]] as const);
  return (
    <>
      <h1>{t.title}</h1>
      <section class="stand" aria-label={t.label}>
        {records === undefined ? (
          <p role="status">{t.reading}</p>
        ) : backward ? (
          <p class="stop">{t.backward}</p>
        ) : nowHz === undefined ? (
          <p class="verdict cannot-say">{t.noMode(nameBefore, from)}</p>
        ) : (
          <Expected forecast={expectAfterStage(jumps, nowHz)} nowHz={nowHz} />
        )}
      </section>
      <Card title={t.which}>
        <p class="hint">
          {t.otherName} {record.plan === undefined ? t.noPlan : plates === undefined ? t.noPlates : t.byShapes}
        </p>
        <div class="fields">
          <ChoiceField label={t.stageBefore} value={from} options={stageOptions} onChange={clearing(setFrom)} />
          <TextField label={t.modeBefore} value={nameBefore} list={[...modeNames]} onChange={clearing(setNameBefore)} />
          <ChoiceField label={t.stageAfter} value={to} options={stageOptions} onChange={clearing(setTo)} />
          <TextField label={t.modeAfter} value={nameAfter} list={[...modeNames]} onChange={setSaidAfter} />
        </div>
        {plates !== undefined && (
          <>
            <Waiting
              asked={asked}
              what={t.comparing}
              onCancel={() => forecasts.stages.cancel()}
              onAgain={() => forecasts.stages.again(plates)}
            />
            {answer?.kind === 'unsolvable' && <p class="note">{t.unsolvable}</p>}
            {shapes !== undefined && (
              <StageShapesSaid shapes={shapes} name={nameBefore} nameAfter={carriedName} from={from} to={to} />
            )}
            {saidAfter !== undefined && carriedName !== undefined && saidAfter !== carriedName && (
              <p class="note">
                {t.otherwise(saidAfter, carriedName)}{' '}
                <Button kind="quiet" text={t.takeShapes} onPress={() => setSaidAfter(undefined)} />
              </p>
            )}
          </>
        )}
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

/** What the mode went by; the two readings are independent. */
const ratioOf = ({ before, after }: InstrumentJump): Estimate =>
  propagated(([from, to]) => to! / from!, [before, after]).result;

function percent(ratio: number): string {
  const change = 100 * (ratio - 1);
  return `${signedNumber(change, 1)} %`;
}

function Expected(props: { readonly forecast: StageForecast; readonly nowHz: Estimate }) {
  const { forecast, nowHz } = props;
  const t = boxWords().jumps;
  switch (forecast.kind) {
    case 'too-few':
      return <p class="verdict cannot-say">{t.tooFew(forecast.have, forecast.need)}</p>;
    case 'expected':
      return (
        <>
          <p class="figure-value">
            <span class="figure-number">{number(forecast.frequencyHz, 0)}</span>
            <span class="figure-unit">Hz</span>
          </p>
          <p class="lead">
            {t.expect(
              number(forecast.low95Hz, 0),
              number(forecast.high95Hz, 0),
              forecast.instruments,
              withHalfWidth(nowHz, 'Hz'),
            )}
          </p>
          <p class="hint">
            {t.usual(percent(forecast.ratio), number(forecast.spreadPercent, 1), forecast.instruments)}
          </p>
        </>
      );
  }
}
