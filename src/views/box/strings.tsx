// The strings: how hard each pulls, what that does to bridge and top, and one set against another.
import type { DeedName } from '../../app/deeds.ts';
import {
  OWN_SET,
  type StringLoad,
  stringCautions,
  stringLoad,
  tuningNamed,
  turnRead,
  usualStrings,
} from '../../compare/string-load.ts';
import type { Estimate } from '../../quantity/estimate.ts';
import { nToKgf, nToLbf } from '../../quantity/units.ts';
import type { BoxStrings } from '../../record/box-edit.ts';
import { bridgeTurnTimes } from '../../record/box-part.ts';
import { withField } from '../../record/edit.ts';
import { bridgeTurnDeg, turningStiffness, USUAL_LIMITS } from '../../strings/bridge.ts';
import { STRING_SETS } from '../../strings/tension.ts';
import { TUNINGS } from '../../strings/tuning.ts';
import { CautionLine } from '../parts/cautions.tsx';
import { ChoiceField, NumberField } from '../parts/fields.tsx';
import { number, parts, signed, signedNumber, withHalfWidth } from '../parts/figures.ts';
import { useWorkshop } from '../workshop-context.ts';
import { Frets } from './frets.tsx';
import { OwnSet } from './own-set.tsx';
import { type BoxPartProps, useBoxEdit } from './part.ts';
import { boxWords, noteName, stringsNamed } from './words.ts';

type Load = StringLoad & { readonly kind: 'load' };

export function BoxStringsPart({ record }: BoxPartProps) {
  const { preferences } = useWorkshop();
  const edit = useBoxEdit();
  const t = boxWords().strings;
  const usual = usualStrings(record);
  const strings = record.box?.strings ?? usual;
  const change = (deed: DeedName, make: (known: BoxStrings) => BoxStrings) =>
    edit(deed, (box) => ({ ...box, strings: make(box.strings ?? usual) }));
  const a4Hz = preferences.settings.value.a4Hz;
  const load = stringLoad(strings, strings.setName, a4Hz);
  const other = strings.otherSetName === undefined ? undefined : stringLoad(strings, strings.otherSetName, a4Hz);
  const names = [...STRING_SETS.map(({ name }) => name), OWN_SET];
  const needsOwn = strings.setName === OWN_SET || strings.otherSetName === OWN_SET;
  type NumberKey = 'scaleMm' | 'saddleHeightMm' | 'breakAngleDeg' | 'neckAngleDeg';
  const size = (key: NumberKey, least: number, most: number, hint: string) => (
    <NumberField
      label={t[key]}
      measure={key.endsWith('Mm') ? 'mm' : 'plain'}
      unit={key.endsWith('Deg') ? '°' : undefined}
      least={least}
      most={most}
      hint={hint}
      value={strings[key]}
      onChange={(value) => value !== undefined && change('strings', (known) => ({ ...known, [key]: value }))}
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
      <section class="card">
        <h2>{t.strung}</h2>
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
          {size('scaleMm', 300, 900, t.scaleHint)}
          {size('saddleHeightMm', 3, 40, t.saddleHeightHint)}
          {size('breakAngleDeg', 0, 80, t.breakAngleHint)}
          {size('neckAngleDeg', -10, 10, t.neckAngleHint)}
          <NumberField
            label={t.age}
            measure="plain"
            unit={t.years}
            least={0}
            most={400}
            value={strings.ageYears}
            onChange={(value) => change('string-age', (known) => withField(known, 'ageYears', value))}
          />
        </div>
        {needsOwn && (
          <OwnSet strings={strings} onChange={(ownSet) => change('own-set', (k) => ({ ...k, ownSet: [...ownSet] }))} />
        )}
      </section>
      {load.kind === 'load' && (
        <Turns
          strings={strings}
          load={load}
          other={other?.kind === 'load' ? other : undefined}
          onChange={(turns) => change('bridge-turn', (k) => ({ ...k, turns }))}
        />
      )}
      <Frets
        strings={strings}
        load={load.kind === 'load' ? load : undefined}
        onAction={(action12Mm) => change('action', (known) => withField(known, 'action12Mm', action12Mm))}
      />
    </>
  );
}

const newtons = (n: Estimate): string => withHalfWidth(n, 'N');

function Pull(props: { readonly load: Load; readonly other: Load | undefined; readonly strings: BoxStrings }) {
  const { load, other, strings } = props;
  const t = boxWords().strings;
  const { bridge, tension } = load;
  const total = parts(tension.totalN, 0);
  const tuning = tuningNamed(strings.tuning);
  const cautions = stringCautions(strings, tension.totalN, other?.tension.totalN);
  return (
    <>
      <section class="stand" aria-label={t.pullLabel}>
        <p class="figure-value">
          <span class="figure-number">{total.value}</span>
          <span class="figure-unit">
            N<br />±{total.halfWidth}
          </span>
        </p>
        <p>{t.pull(number(nToKgf(tension.totalN.value), 0), number(nToLbf(tension.totalN.value), 0))}</p>
        <dl class="stand-figures">
          <div>
            <dt>{t.torque}</dt>
            <dd>{withHalfWidth(bridge.torqueNm, 'N m')}</dd>
          </div>
          <div>
            <dt>{t.saddleDown}</dt>
            <dd>{newtons(bridge.saddleDownN)}</dd>
          </div>
          <div>
            <dt>{t.pinLift}</dt>
            <dd>{newtons(bridge.pinLiftN)}</dd>
          </div>
          <div>
            <dt>{bridge.netDownN.value <= 0 ? t.netLift : t.netPress}</dt>
            <dd>{newtons({ value: Math.abs(bridge.netDownN.value), sigma: bridge.netDownN.sigma })}</dd>
          </div>
        </dl>
        <ul class="cautions">
          {cautions.map((caution) => (
            <li key={caution} class={caution === 'slacken-first' ? 'hint' : 'stop'}>
              {t.cautions[caution]}
            </li>
          ))}
        </ul>
      </section>
      <section class="card">
        <h2>{t.stringByString}</h2>
        <section class="scroll" tabIndex={0} aria-label={t.eachLabel}>
          <table class="moves">
            <thead>
              <tr>
                <th scope="col">{t.string}</th>
                <th scope="col">{stringsNamed(load.set.name)}</th>
                {other !== undefined && <th scope="col">{stringsNamed(other.set.name)}</th>}
                {other !== undefined && <th scope="col">{t.difference}</th>}
              </tr>
            </thead>
            <tbody>
              {tension.eachN.map((pull, i) => (
                <tr key={i}>
                  <th scope="row">
                    {i + 1}. {noteName(tuning.openNotes[i]!)}
                  </th>
                  <td>{newtons(pull)}</td>
                  {other !== undefined && <td>{newtons(other.tension.eachN[i]!)}</td>}
                  {other !== undefined && <td>{change(pull, other.tension.eachN[i]!)}</td>}
                </tr>
              ))}
              <tr>
                <th scope="row">{t.all}</th>
                <td>{newtons(tension.totalN)}</td>
                {other !== undefined && <td>{newtons(other.tension.totalN)}</td>}
                {other !== undefined && <td>{change(tension.totalN, other.tension.totalN)}</td>}
              </tr>
            </tbody>
          </table>
        </section>
        <p class="hint">
          {t.doubtHint} {other !== undefined && t.differenceHint}
        </p>
      </section>
    </>
  );
}

const change = (now: Estimate, before: Estimate): string => {
  const percent = 100 * (now.value / before.value - 1);
  return `${signedNumber(percent, 0)} %`;
};

function Turns(props: {
  readonly strings: BoxStrings;
  readonly load: Load;
  readonly other: Load | undefined;
  readonly onChange: (turns: BoxStrings['turns'] & object) => void;
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
    <section class="card">
      <h2>{t.turns}</h2>
      <p>{t.turnsLead(USUAL_LIMITS.mostTurnDeg)}</p>
      <div class="fields">
        {bridgeTurnTimes.map((after) => (
          <NumberField
            key={after}
            label={t.after(t.times[after])}
            measure="plain"
            unit="°"
            least={-10}
            most={20}
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
          {t.resists(withHalfWidth(turningStiffness(torqueNm, turnRead(last.turnDeg)), ''))}
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
    </section>
  );
}
