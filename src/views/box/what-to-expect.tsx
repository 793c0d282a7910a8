// What to expect of a mode at the next stage: by the maker's earlier instruments, and by the program's own models.
import { expectAfterStage, type StageForecast } from '../../box/stage-jump.ts';
import { type InstrumentJump, modeNow } from '../../compare/stage-jumps.ts';
import type { StageShapes } from '../../forecast/stage-shapes.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import { type InstrumentRecord, type Stage, stages } from '../../record/record.ts';
import { number, signedNumber, withHalfWidth } from '../parts/figures.ts';
import { useWorkshop } from '../workshop-context.ts';
import { ByModels } from './by-models.tsx';
import { boxWords } from './words.ts';

/** Whether the box is closed at a stage: the lowest mode of the top is then called by its part, not by its shape. */
export const isOfBox = (stage: Stage): boolean => stage === 'closed' || stage === 'strung';

export function WhatToExpect(props: {
  readonly record: InstrumentRecord;
  readonly jumps: readonly InstrumentJump[];
  readonly from: Stage;
  readonly to: Stage;
  readonly nameBefore: string;
  readonly shapes: StageShapes | undefined;
}) {
  const { earlier } = useWorkshop();
  const { from, to, nameBefore } = props;
  const t = boxWords().jumps;
  if (earlier.records.value === undefined) return <p role="status">{t.reading}</p>;
  if (stages.indexOf(to) <= stages.indexOf(from)) return <p class="stop">{t.backward}</p>;
  const nowHz = modeNow(props.record, from, nameBefore);
  const forecast = nowHz && expectAfterStage(props.jumps, nowHz);
  if (nowHz !== undefined && forecast?.kind === 'expected')
    return (
      <>
        <Expected forecast={forecast} nowHz={nowHz} />
        {props.shapes !== undefined && (
          <ByModels record={props.record} shapes={props.shapes} name={nameBefore} to={to} isFirst={false} />
        )}
      </>
    );
  const missing = forecast?.kind === 'too-few' ? t.tooFew(forecast.have, forecast.need) : t.noMode(nameBefore, from);
  return (
    <>
      {props.shapes !== undefined && (
        <ByModels record={props.record} shapes={props.shapes} name={nameBefore} to={to} isFirst />
      )}
      <p class={props.shapes === undefined ? 'verdict cannot-say' : 'hint'}>{missing}</p>
    </>
  );
}

function percent(ratio: number): string {
  const change = 100 * (ratio - 1);
  return `${signedNumber(change, 1)} %`;
}

function Expected(props: {
  readonly forecast: StageForecast & { readonly kind: 'expected' };
  readonly nowHz: Estimate;
}) {
  const { forecast, nowHz } = props;
  const t = boxWords().jumps;
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
      <p class="hint">{t.usual(percent(forecast.ratio), number(forecast.spreadPercent, 1), forecast.instruments)}</p>
    </>
  );
}
