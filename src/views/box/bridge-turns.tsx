// How far the bridge turned under the strings, in time.
import { useState } from 'preact/hooks';
import { type StringLoad, turnRead } from '../../compare/string-load.ts';
import { scaled } from '../../quantity/estimate.ts';
import type { BoxStrings } from '../../record/box-edit.ts';
import { bridgeTurnTimes } from '../../record/box-part.ts';
import { withField } from '../../record/edit.ts';
import { bridgeTurnDeg, turningStiffness, USUAL_BRIDGE_LIMITS } from '../../strings/bridge.ts';
import { Card } from '../parts/card.tsx';
import { CautionLine } from '../parts/cautions.tsx';
import { number, signed, withHalfWidth } from '../parts/figures.ts';
import { NumberField } from '../parts/number-field.tsx';
import { boxWords, stringsNamed } from './words.ts';

type Action = NonNullable<BoxStrings['action12Mm']>;

export type Load = StringLoad & { readonly kind: 'load' };

/** What is read of the bridge of a strung instrument, whatever was done to it before. */
export type ReadAsItIs = 'bridgeTunedDeg' | 'bridgeSlackDeg' | 'bellyMm';

export function Turns(props: {
  readonly strings: BoxStrings;
  readonly load: Load;
  readonly other: Load | undefined;
  readonly onChange: (turns: BoxStrings['turns'] & object) => void;
  readonly onAction: (action: Action | undefined) => void;
  readonly onRead: (editName: 'bridge-slope' | 'belly', key: ReadAsItIs, value: number | undefined) => void;
}) {
  const t = boxWords().strings;
  const turns = props.strings.turns ?? [];
  const torqueNm = props.load.bridge.torqueNm;
  const set = (after: (typeof bridgeTurnTimes)[number], turnDeg: number | undefined) => {
    const rest = turns.filter((known) => known.after !== after);
    const all = turnDeg === undefined ? rest : [...rest, { after, turnDeg }];
    props.onChange(all.toSorted((a, b) => bridgeTurnTimes.indexOf(a.after) - bridgeTurnTimes.indexOf(b.after)));
  };
  const first = turns[0];
  const last = turns.at(-1);
  return (
    <Card title={t.turns}>
      <AsItIs strings={props.strings} onAction={props.onAction} onRead={props.onRead} />
      <p>{t.turnsLead(USUAL_BRIDGE_LIMITS.mostTurnDeg)}</p>
      <div class="fields">
        {bridgeTurnTimes.map((after) => (
          <NumberField
            key={after}
            label={t.after(t.times[after])}
            of="bridgeTurn"
            value={turns.find((known) => known.after === after)?.turnDeg}
            onChange={(turnDeg) => set(after, turnDeg)}
          />
        ))}
      </div>
      {last !== undefined && last.turnDeg <= 0 && (
        <p class="stop" role="alert">
          {t.againstPull(number(last.turnDeg, 1))}
        </p>
      )}
      {last !== undefined && last.turnDeg > 0 && (
        <p>
          {t.resists(withHalfWidth(scaled(turningStiffness(torqueNm, turnRead(last.turnDeg)), Math.PI / 180), 'N m'))}
          {props.other !== undefined &&
            ` ${t.wouldTurn(
              stringsNamed(props.other.set.name),
              withHalfWidth(
                bridgeTurnDeg(props.other.bridge.torqueNm, turningStiffness(torqueNm, turnRead(last.turnDeg))),
                '°',
              ),
            )}`}
        </p>
      )}
      {first !== undefined && last !== undefined && first !== last && (
        <p class={last.turnDeg - first.turnDeg > 0.3 ? 'note' : 'hint'}>
          {t.between(
            t.times[first.after],
            t.times[last.after],
            signed({ value: last.turnDeg - first.turnDeg, sigma: Math.SQRT2 * turnRead(0).sigma }, '°'),
          )}
        </p>
      )}
      <CautionLine about={['strings', 'stop']} />
    </Card>
  );
}

/** The action, the slope of the bridge at pitch and slack, with what lies between them, and the belly. */
function AsItIs(props: Pick<Parameters<typeof Turns>[0], 'strings' | 'onAction' | 'onRead'>) {
  const { strings, onAction, onRead } = props;
  // One of the two alone is not kept: an action is that of the whole neck.
  const [half, setHalf] = useState<Partial<Action>>(strings.action12Mm ?? {});
  const note = (key: keyof Action, value: number | undefined) => {
    const known = withField(half, key, value);
    setHalf(known);
    const { first, last } = known;
    if (first !== undefined && last !== undefined) onAction({ first, last });
    else if (strings.action12Mm !== undefined) onAction(undefined);
  };
  const { bridgeTunedDeg, bridgeSlackDeg } = strings;
  const t = boxWords().strings;
  return (
    <>
      <div class="fields">
        <NumberField of="firstAction" value={half.first} onChange={(value) => note('first', value)} />
        <NumberField of="lastAction" value={half.last} onChange={(value) => note('last', value)} />
        <NumberField
          of="bridgeTuned"
          hint={t.slopeHint}
          value={bridgeTunedDeg}
          onChange={(value) => onRead('bridge-slope', 'bridgeTunedDeg', value)}
        />
        <NumberField
          of="bridgeSlack"
          value={bridgeSlackDeg}
          onChange={(value) => onRead('bridge-slope', 'bridgeSlackDeg', value)}
        />
        <NumberField of="belly" value={strings.bellyMm} onChange={(value) => onRead('belly', 'bellyMm', value)} />
      </div>
      {bridgeTunedDeg !== undefined && bridgeSlackDeg !== undefined && (
        <p>
          {t.turnsBy(signed({ value: bridgeTunedDeg - bridgeSlackDeg, sigma: Math.SQRT2 * turnRead(0).sigma }, '°'))}
        </p>
      )}
    </>
  );
}
