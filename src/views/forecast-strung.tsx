// Under the strings: what is foreseen at the bridge, and later what was measured beside it.
import { type BridgePull, bridgePull } from '../forecast/plan-question.ts';
import type { StrungAnswer } from '../forecast/strung.ts';
import { ROTATION_GUIDE_DEG } from '../plate/static-load.ts';
import { type BoxStrings, changeBox } from '../record/box-edit.ts';
import { bridgeTurnTimes } from '../record/box-part.ts';
import type { InstrumentRecord } from '../record/record.ts';
import { NumberField } from './fields.tsx';
import { number, withHalfWidth } from './figures.ts';
import { useWorkshop } from './workshop-context.ts';

/** What pulls at the bridge of the open record. */
export function usePull(record: InstrumentRecord): BridgePull {
  return bridgePull(record, useWorkshop().preferences.settings.value.a4Hz);
}

const guide = `${ROTATION_GUIDE_DEG}° that is published as a limit (Gore and Gilet 2011)`;

/** The turn against the published limit; where the spread reaches over it, neither side is claimed. */
export function turnWords({ value, sigma }: StrungAnswer['turnDeg']): string {
  const doubt = 2 * sigma;
  if (value - doubt > ROTATION_GUIDE_DEG) return `More than the ${guide}.`;
  return value + doubt > ROTATION_GUIDE_DEG ? `About at the ${guide}.` : `Below the ${guide}.`;
}

export function UnderTheStrings(props: { readonly record: InstrumentRecord; readonly strung: StrungAnswer }) {
  const { record, strung } = props;
  const pull = usePull(record);
  const strings = record.box?.strings;
  return (
    <div class="card">
      <h2>Under the strings</h2>
      <p>
        With its bridge glued the saddle would turn by <strong>{withHalfWidth(strung.turnDeg, '°')}</strong> and rise by{' '}
        {withHalfWidth(strung.riseMm, 'mm')} at once, under {number(pull.tensionN, 0)} N at{' '}
        {number(pull.stringHeightMm, 1)} mm above the top.
      </p>
      <p class="hint">
        {pull.from === 'strings'
          ? `The pull of the set “${pull.setName}” as entered under Strings.`
          : 'No strings are entered yet, so a usual light steel set is taken. '}
        {pull.from === 'usual' && <a href="#/box/strings">Enter the strings</a>}
      </p>
      <p class={strung.turnDeg.value > ROTATION_GUIDE_DEG ? 'stop' : 'caution'}>
        {turnWords(strung.turnDeg)} A guide, not a guarantee; wood creeps, and the turn grows over months.
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
  const { shelf } = useWorkshop();
  const { strings, strung } = props;
  const change = (make: (known: BoxStrings) => BoxStrings) =>
    shelf.edit('as-strung', (record) =>
      changeBox(record, (box) => (box.strings === undefined ? box : { ...box, strings: make(box.strings) })),
    );
  return (
    <details open={(strings.turns ?? []).length + (strings.rises ?? []).length > 0}>
      <summary>Measured once strung</summary>
      <p class="hint">
        Read the bridge slack and at pitch: the difference of the two, by angle and by height at the saddle.
      </p>
      {bridgeTurnTimes.map((after) => {
        const turnDeg = strings.turns?.find((known) => known.after === after)?.turnDeg;
        const riseMm = strings.rises?.find((known) => known.after === after)?.riseMm;
        return (
          <fieldset key={after}>
            <legend>After {after}</legend>
            <div class="fields pair">
              <NumberField
                label="Turn (degrees)"
                measure="plain"
                least={-10}
                most={20}
                value={turnDeg}
                onChange={(v) =>
                  change((s) => ({
                    ...s,
                    turns: withEntry(s.turns, after, v === undefined ? v : { after, turnDeg: v }),
                  }))
                }
              />
              <NumberField
                label="Rise at the saddle"
                measure="mm"
                least={-20}
                most={20}
                value={riseMm}
                onChange={(v) =>
                  change((s) => ({
                    ...s,
                    rises: withEntry(s.rises, after, v === undefined ? v : { after, riseMm: v }),
                  }))
                }
              />
            </div>
            {turnDeg !== undefined && <p>{againstForecast('Turn', turnDeg, strung.turnDeg, '°')}</p>}
            {riseMm !== undefined && <p>{againstForecast('Rise', riseMm, strung.riseMm, 'mm')}</p>}
          </fieldset>
        );
      })}
      <p class="hint">
        The forecast is of the first minutes. What is more after weeks is creep, which nobody computes from a drawing.
      </p>
    </details>
  );
}

function againstForecast(what: string, measured: number, foreseen: StrungAnswer['turnDeg'], unit: string): string {
  const apart = measured - foreseen.value;
  const verdict =
    Math.abs(apart) <= 2 * foreseen.sigma
      ? 'as foreseen'
      : `${number(Math.abs(apart), 1)} ${unit} ${apart > 0 ? 'more' : 'less'} than foreseen`;
  return `${what} ${number(measured, 1)} ${unit} measured, ${withHalfWidth(foreseen, unit)} foreseen: ${verdict}.`;
}
