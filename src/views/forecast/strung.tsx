// Under the strings: what is foreseen at the bridge, and later what was measured beside it.
import { useEffect, useMemo } from 'preact/hooks';
import { type BridgePull, bridgePull, strungTop } from '../../forecast/plan-question.ts';
import type { StrungAnswer } from '../../forecast/strung.ts';
import { ROTATION_GUIDE_DEG } from '../../plate/static-load.ts';
import { type Estimate, HALF_WIDTH_95, scaled } from '../../quantity/estimate.ts';
import { type BoxStrings, changeBox } from '../../record/box-edit.ts';
import { bridgeTurnTimes } from '../../record/box-part.ts';
import type { InstrumentRecord, Plan, Support } from '../../record/record.ts';
import { Emphasised } from '../parts/emphasised.tsx';
import { number, withHalfWidth } from '../parts/figures.ts';
import { NumberField } from '../parts/number-field.tsx';
import { useLength, useLengthEstimate } from '../parts/own-units.ts';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { forecastWords } from './words.ts';

/** What pulls at the bridge of the open record. */
export function usePull(record: InstrumentRecord): BridgePull {
  const { a4Hz } = useWorkshop().preferences.settings.value;
  return useMemo(() => bridgePull(record, a4Hz), [record, a4Hz]);
}

/** The turn against the published limit; where the spread reaches over it, neither side is claimed. */
export function turnWords({ value, sigma }: StrungAnswer['turnDeg']): string {
  const doubt = 2 * sigma;
  const { above, about, below } = forecastWords().turn;
  const said = value - doubt > ROTATION_GUIDE_DEG ? above : value + doubt > ROTATION_GUIDE_DEG ? about : below;
  return said(`${ROTATION_GUIDE_DEG}°`);
}

/** Less than this no dial on a bench tells, mm. Common practice, no source. */
const LEAST_READ_MM = 0.02;

/** @param props.plan as it stands now */
export function UnderTheStrings(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly support: Support;
}) {
  const { forecasts } = useWorkshop();
  const { record, plan, support } = props;
  const pull = usePull(record);
  const question = useMemo(() => strungTop(record, plan, support, pull), [record, plan, support, pull]);
  const key = useMemo(() => JSON.stringify(question), [question]);
  useEffect(() => {
    if (question !== undefined) forecasts.strung.ask(question);
  }, [key]);
  const asked = forecasts.strung.current.value;
  const strung = asked.kind === 'ready' && asked.key === key ? asked.answer : null;
  if (strung === null) return null;
  const strings = record.box?.strings;
  const t = forecastWords();
  const [length, lengthEstimate] = [useLength(), useLengthEstimate()];
  const turn = withHalfWidth(strung.turnDeg, '°');
  const force = withHalfWidth(scaled({ value: 1, sigma: pull.share }, pull.tensionN), 'N');
  const canRiseMm = Math.abs(strung.riseMm.value) + HALF_WIDTH_95 * strung.riseMm.sigma;
  return (
    <div class="card">
      <h2>{t.strung}</h2>
      <p>
        <Emphasised
          text={
            canRiseMm < LEAST_READ_MM
              ? t.wouldTurnOnly(turn, force, length(pull.stringHeightMm))
              : t.wouldTurn(turn, lengthEstimate(strung.riseMm), force, length(pull.stringHeightMm))
          }
          part={turn}
        />
      </p>
      <p class="hint">
        {pull.setName !== undefined ? (
          t.pullOfSet(pull.setName)
        ) : (
          <>
            {t.pullUsual} <a href="#/box/strings">{t.enterStrings}</a>
          </>
        )}
      </p>
      <p class={strung.turnDeg.value > ROTATION_GUIDE_DEG ? 'stop' : 'caution'}>
        {turnWords(strung.turnDeg)} {t.turnGuide}
      </p>
      {strings !== undefined && <AsStrung strings={strings} strung={strung} />}
    </div>
  );
}

type Time = (typeof bridgeTurnTimes)[number];

/** A list by times with one entry put in, changed or, without a figure, taken out; earliest first. */
function withEntry<E extends { readonly after: Time }>(
  known: readonly E[] | undefined,
  after: Time,
  entry: E | undefined,
) {
  const rest = (known ?? []).filter((other) => other.after !== after);
  const all = entry === undefined ? rest : [...rest, entry];
  return all.toSorted((a, b) => bridgeTurnTimes.indexOf(a.after) - bridgeTurnTimes.indexOf(b.after));
}

function AsStrung(props: { readonly strings: BoxStrings; readonly strung: StrungAnswer }) {
  const editRecord = useEditRecord();
  const { strings, strung } = props;
  const t = forecastWords();
  const [length, lengthEstimate] = [useLength(3), useLengthEstimate()];
  const change = (make: (known: BoxStrings) => BoxStrings) =>
    editRecord('as-strung', (record) =>
      changeBox(record, (box) => (box.strings === undefined ? box : { ...box, strings: make(box.strings) })),
    );
  return (
    <details open={(strings.turns ?? []).length + (strings.rises ?? []).length > 0}>
      <summary>{t.asStrung}</summary>
      <p class="hint">{t.asStrungHint}</p>
      {bridgeTurnTimes.map((after) => {
        const turnDeg = strings.turns?.find((known) => known.after === after)?.turnDeg;
        const riseMm = strings.rises?.find((known) => known.after === after)?.riseMm;
        return (
          <fieldset key={after}>
            <legend>{t.afterTime[after]}</legend>
            <div class="fields pair">
              <NumberField
                of="bridgeTurn"
                value={turnDeg}
                onChange={(v) =>
                  change((s) => ({
                    ...s,
                    turns: withEntry(s.turns, after, v === undefined ? v : { after, turnDeg: v }),
                  }))
                }
              />
              <NumberField
                of="topRise"
                value={riseMm}
                onChange={(v) =>
                  change((s) => ({
                    ...s,
                    rises: withEntry(s.rises, after, v === undefined ? v : { after, riseMm: v }),
                  }))
                }
              />
            </div>
            {turnDeg !== undefined && (
              <p>{againstForecast(t.turnAgainst, turnDeg, strung.turnDeg, degrees, degreesEstimate)}</p>
            )}
            {riseMm !== undefined && (
              <p>{againstForecast(t.riseAgainst, riseMm, strung.riseMm, length, lengthEstimate)}</p>
            )}
          </fieldset>
        );
      })}
      <p class="hint">{t.creep}</p>
    </details>
  );
}

const degrees = (deg: number): string => `${number(deg, 1)}\u00a0°`;
const degreesEstimate = (deg: Estimate): string => withHalfWidth(deg, '°');

function againstForecast(
  sentence: (measured: string, foreseen: string, verdict: string) => string,
  measured: number,
  foreseen: Estimate,
  say: (value: number) => string,
  sayEstimate: (estimate: Estimate) => string,
): string {
  const { asForeseen, lessThanForeseen, moreThanForeseen } = forecastWords();
  const apart = measured - foreseen.value;
  const size = say(Math.abs(apart));
  const verdict =
    Math.abs(apart) <= 2 * foreseen.sigma ? asForeseen : apart > 0 ? moreThanForeseen(size) : lessThanForeseen(size);
  return sentence(say(measured), sayEstimate(foreseen), verdict);
}
