// The strings: how hard each pulls, what that does to bridge and top, and one set against another.

import type { EditName } from '../../app/edits.ts';
import { OWN_SET, stringCautions, stringLoad, tuningNamed, usualStrings } from '../../compare/string-load.ts';
import { type Estimate, scaled } from '../../quantity/estimate.ts';
import { nToKgf, nToLbf } from '../../quantity/units.ts';
import type { BoxStrings } from '../../record/box-edit.ts';
import { withField } from '../../record/edit.ts';
import type { QuantityName } from '../../record/quantities.ts';
import { STRING_SETS } from '../../strings/tension.ts';
import { TUNINGS } from '../../strings/tuning.ts';
import { Card } from '../parts/card.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { Facts, LargeFigure } from '../parts/figure.tsx';
import { signedNumber, withHalfWidth } from '../parts/figures.ts';
import { NumberField } from '../parts/number-field.tsx';
import { useRoundLength } from '../parts/own-units.ts';
import { Table } from '../parts/table.tsx';
import { useWorkshop } from '../workshop-context.ts';
import { type Load, Turns } from './bridge-turns.tsx';
import { Frets } from './frets.tsx';
import { OwnSet } from './own-set.tsx';
import { type BoxPartProps, useBoxEdit } from './part.ts';
import { boxWords, noteName, stringsNamed } from './words.ts';

export function BoxStringsPart({ record }: BoxPartProps) {
  const { preferences } = useWorkshop();
  const edit = useBoxEdit();
  const t = boxWords().strings;
  const round = useRoundLength();
  const usual = usualStrings(record);
  const strings = record.box?.strings ?? usual;
  const change = (editName: EditName, make: (known: BoxStrings) => BoxStrings) =>
    edit(editName, (box) => ({ ...box, strings: make(box.strings ?? usual) }));
  const a4Hz = preferences.settings.value.a4Hz;
  const load = stringLoad(strings, strings.setName, a4Hz);
  const other = strings.otherSetName === undefined ? undefined : stringLoad(strings, strings.otherSetName, a4Hz);
  const names = [...STRING_SETS.map(({ name }) => name), OWN_SET];
  const needsOwn = strings.setName === OWN_SET || strings.otherSetName === OWN_SET;
  const size = (
    key: 'scaleMm' | 'saddleHeightMm' | 'breakAngleDeg' | 'neckAngleDeg',
    of: QuantityName,
    hint: string,
  ) => (
    <NumberField
      of={of}
      hint={hint}
      value={strings[key]}
      onSet={(value) => change('strings', (known) => ({ ...known, [key]: value }))}
    />
  );
  return (
    <>
      <h1>{t.title}</h1>
      {load.kind === 'not-ready' ? (
        <p class="verdict cannot-say">{t.needs[load.because]}</p>
      ) : (
        <Pull load={load} other={other?.kind === 'load' ? other : undefined} strings={strings} />
      )}
      {other?.kind === 'not-ready' && <p class="note">{t.otherNeeds(other.because)}</p>}
      <Card title={t.strung}>
        <div class="fields">
          <ChoiceField
            label={t.set}
            value={strings.setName}
            options={names.map((name) => [name, stringsNamed(name)] as const)}
            onChange={(setName) => change('string-set', (known) => ({ ...known, setName }))}
          />
          <ChoiceField
            label={t.compareWith}
            value={strings.otherSetName ?? ''}
            options={[['', t.nothing], ...names.map((name) => [name, stringsNamed(name)] as const)]}
            onChange={(name) =>
              change('other-set', (known) => withField(known, 'otherSetName', name === '' ? undefined : name))
            }
          />
          <ChoiceField
            label={t.tuning}
            value={strings.tuning}
            options={TUNINGS.map(({ name }) => [name, stringsNamed(name)] as const)}
            onChange={(tuning) => change('tuning', (known) => ({ ...known, tuning }))}
          />
          {size('scaleMm', 'scale', t.scaleHint)}
          {size('saddleHeightMm', 'saddleHeight', t.saddleHeightHint(round(11, 7 / 16).said, round(14, 9 / 16).said))}
          {size('breakAngleDeg', 'breakAngle', t.breakAngleHint)}
          {size('neckAngleDeg', 'neckAngle', t.neckAngleHint)}
          <NumberField
            of="stringAge"
            value={strings.ageYears}
            onChange={(value) => change('string-age', (known) => withField(known, 'ageYears', value))}
          />
        </div>
        {needsOwn && (
          <OwnSet strings={strings} onChange={(ownSet) => change('own-set', (k) => ({ ...k, ownSet: [...ownSet] }))} />
        )}
      </Card>
      {load.kind === 'load' && (
        <Turns
          strings={strings}
          load={load}
          other={other?.kind === 'load' ? other : undefined}
          onChange={(turns) => change('bridge-turn', (k) => ({ ...k, turns }))}
          onAction={(action12Mm) => change('action', (known) => withField(known, 'action12Mm', action12Mm))}
          onRead={(editName, key, value) => change(editName, (k) => withField(k, key, value))}
        />
      )}
      <Frets strings={strings} load={load.kind === 'load' ? load : undefined} />
    </>
  );
}

const newtons = (n: Estimate): string => withHalfWidth(n, 'N');

function Pull(props: { readonly load: Load; readonly other: Load | undefined; readonly strings: BoxStrings }) {
  const { load, other, strings } = props;
  const t = boxWords().strings;
  const { bridge, tension } = load;
  const isPounds = useWorkshop().preferences.settings.value.mass === 'oz';
  const weight = isPounds ? { perN: nToLbf(1), unit: 'lb' } : { perN: nToKgf(1), unit: 'kg' };
  const tuning = tuningNamed(strings.tuning);
  const cautions = stringCautions(strings, tension.totalN, other?.tension.totalN);
  return (
    <>
      <section class="stand" aria-label={t.pullLabel}>
        <LargeFigure figure={scaled(tension.totalN, weight.perN)} unit={weight.unit} mostDecimals={0} />
        <p>{t.pull(newtons(tension.totalN))}</p>
        <Facts
          of={[
            [t.torque, withHalfWidth(bridge.torqueNm, 'N m')],
            [t.saddleDown, newtons(bridge.saddleDownN)],
            [t.pinLift, newtons(bridge.pinLiftN)],
            [
              bridge.netDownN.value <= 0 ? t.netLift : t.netPress,
              newtons({ value: Math.abs(bridge.netDownN.value), sigma: bridge.netDownN.sigma }),
            ],
          ]}
        />
        <ul class="cautions">
          {cautions.map((caution) => (
            <li key={caution} class={caution === 'slacken-first' ? 'hint' : 'stop'}>
              {t.cautions[caution]}
            </li>
          ))}
        </ul>
      </section>
      <Card title={t.stringByString}>
        <Table
          label={t.eachLabel}
          class="moves"
          head={[
            t.string,
            stringsNamed(load.set.name),
            other !== undefined ? stringsNamed(other.set.name) : undefined,
            other !== undefined ? t.difference : undefined,
          ]}
          rows={[
            ...tension.eachN.map((pull, i) => [
              <>
                {i + 1}. {noteName(tuning.openNotes[i]!)}
              </>,
              newtons(pull),
              other !== undefined ? newtons(other.tension.eachN[i]!) : undefined,
              other !== undefined ? change(pull, other.tension.eachN[i]!) : undefined,
            ]),
            [
              t.all,
              newtons(tension.totalN),
              other !== undefined ? newtons(other.tension.totalN) : undefined,
              other !== undefined ? change(tension.totalN, other.tension.totalN) : undefined,
            ],
          ]}
        />
        <p class="hint">
          {t.doubtHint} {other !== undefined && t.differenceHint}
        </p>
      </Card>
    </>
  );
}

const change = (now: Estimate, before: Estimate): string => {
  const percent = 100 * (now.value / before.value - 1);
  return `${signedNumber(percent, 0)} %`;
};
