// Before gluing: what the maker's own earlier instruments did at the next stage says what to expect.
import { useEffect, useState } from 'preact/hooks';
import { expectAfterStage, type StageForecast } from '../box/stage-jump.ts';
import { modeNow, stageJumps } from '../compare/stage-jumps.ts';
import { nameAfterStage, stagePlates } from '../forecast/stage-question.ts';
import type { Estimate } from '../quantity/estimate.ts';
import { type Stage, stages } from '../record/record.ts';
import type { BoxPartProps } from './box-part.ts';
import { StageShapesSaid } from './box-stage-shapes.tsx';
import { CautionLine } from './cautions.tsx';
import { ChoiceField, TextField } from './fields.tsx';
import { number, withHalfWidth } from './figures.ts';
import { Waiting } from './forecast-waiting.tsx';
import { modeNames, stageWords } from './words.ts';
import { useWorkshop } from './workshop-context.ts';

export function BoxJumps({ record }: BoxPartProps) {
  const { earlier, forecasts } = useWorkshop();
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
  const anew =
    <T,>(set: (value: T) => void) =>
    (value: T) => {
      setSaidAfter(undefined);
      set(value);
    };
  const backward = stages.indexOf(to) <= stages.indexOf(from);
  const stageOptions = stages.map((stage) => [stage, stageWords[stage]] as const);
  return (
    <>
      <h1>Before gluing: what to expect</h1>
      <section class="stand" aria-label="What to expect">
        {records === undefined ? (
          <p role="status">Reading the records …</p>
        ) : backward ? (
          <p class="stop">The stage after must come later than the stage before.</p>
        ) : nowHz === undefined ? (
          <p class="verdict cannot-say">
            This instrument has no mode named “{nameBefore}” at the stage “{stageWords[from].toLowerCase()}”. Tap it and
            name the mode on the bench.
          </p>
        ) : (
          <Expected forecast={expectAfterStage(jumps, nowHz)} nowHz={nowHz} />
        )}
      </section>
      <section class="card">
        <h2>Which stage, which mode</h2>
        <p class="hint">
          A mode may go by another name afterwards: a loose top’s monopole is called top in the box.{' '}
          {record.plan === undefined
            ? 'Draw the top under Plan and its shapes say which mode becomes which; until then it is for you to say.'
            : plates === undefined
              ? 'The drawing knows the top thicknessed, braced and on the rims; between these stages it is for you to say.'
              : 'The shapes of the drawn top say which becomes which; your own word counts for more.'}
        </p>
        <div class="fields">
          <ChoiceField label="Stage before" value={from} options={stageOptions} onChange={anew(setFrom)} />
          <TextField label="Mode before" value={nameBefore} list={[...modeNames]} onChange={anew(setNameBefore)} />
          <ChoiceField label="Stage after" value={to} options={stageOptions} onChange={anew(setTo)} />
          <TextField label="Mode after" value={nameAfter} list={[...modeNames]} onChange={setSaidAfter} />
        </div>
        {plates !== undefined && (
          <>
            <Waiting
              asked={asked}
              what="Comparing the shapes of the drawn top"
              onCancel={() => forecasts.stages.cancel()}
              onAgain={() => forecasts.stages.again(plates)}
            />
            {answer?.kind === 'unsolvable' && <p class="note">The drawn top cannot be computed. Look at the plan.</p>}
            {shapes !== undefined && (
              <StageShapesSaid shapes={shapes} name={nameBefore} nameAfter={carriedName} from={from} to={to} />
            )}
            {saidAfter !== undefined && carriedName !== undefined && saidAfter !== carriedName && (
              <p class="note">
                You say “{saidAfter}”, the shapes say “{carriedName}”.{' '}
                <button type="button" class="quiet" onClick={() => setSaidAfter(undefined)}>
                  Take the shapes’ name
                </button>
              </p>
            )}
          </>
        )}
        {jumps.length === 0 ? (
          <p>No earlier instrument on the shelf has both modes named at these two stages.</p>
        ) : (
          <section class="scroll" tabIndex={0} aria-label="Earlier instruments">
            <table class="moves">
              <thead>
                <tr>
                  <th scope="col">Instrument</th>
                  <th scope="col">{stageWords[from]}</th>
                  <th scope="col">{stageWords[to]}</th>
                  <th scope="col">Went</th>
                </tr>
              </thead>
              <tbody>
                {jumps.map((jump) => (
                  <tr key={jump.recordId}>
                    <th scope="row">{jump.instrument}</th>
                    <td>{number(jump.fromHz, 1)} Hz</td>
                    <td>{number(jump.toHz, 1)} Hz</td>
                    <td>{percent(jump.toHz / jump.fromHz)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </section>
        )}
        <CautionLine about={['stop', 'heat']} />
      </section>
    </>
  );
}

function percent(ratio: number): string {
  const change = 100 * (ratio - 1);
  return `${change > 0 ? '+' : ''}${number(change, 1)} %`;
}

function Expected(props: { readonly forecast: StageForecast; readonly nowHz: Estimate }) {
  const { forecast, nowHz } = props;
  switch (forecast.kind) {
    case 'too-few':
      return (
        <p class="verdict cannot-say">
          {forecast.have === 0
            ? 'None of your earlier instruments has'
            : `Only ${forecast.have} of your earlier instruments has`}{' '}
          both modes named at these stages; {forecast.need} are needed before anything can be said.
        </p>
      );
    case 'expected':
      return (
        <>
          <p class="figure-value">
            <span class="figure-number">{number(forecast.frequencyHz, 0)}</span>
            <span class="figure-unit">Hz</span>
          </p>
          <p class="lead">
            Expect it between {number(forecast.low95Hz, 0)} and {number(forecast.high95Hz, 0)} Hz, in 95 of 100
            instruments built like your {forecast.instruments} earlier ones. Now: {withHalfWidth(nowHz, 'Hz')}.
          </p>
          <p class="hint">
            Usual change {percent(forecast.ratio)}, scatter from instrument to instrument{' '}
            {number(forecast.spreadPercent, 1)} %. With {forecast.instruments} instruments the range is as wide as it
            must be; every further one narrows it.
          </p>
        </>
      );
  }
}
