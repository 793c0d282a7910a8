// The strings: how hard each pulls, what that does to bridge and top, and one set against another.
import type { DeedName } from '../app/deeds.ts';
import { OWN_SET, type StringLoad, stringCautions, stringLoad, tuningNamed, turnRead } from '../compare/string-load.ts';
import type { Estimate } from '../quantity/estimate.ts';
import { nToLbf } from '../quantity/units.ts';
import type { BoxStrings } from '../record/box-edit.ts';
import { bridgeTurnTimes } from '../record/box-part.ts';
import { withField } from '../record/edit.ts';
import { bridgeTurnDeg, turningStiffness, USUAL_LIMITS } from '../strings/bridge.ts';
import { STRING_SETS } from '../strings/tension.ts';
import { TUNINGS } from '../strings/tuning.ts';
import { Frets } from './box-frets.tsx';
import { OwnSet } from './box-own-set.tsx';
import { type BoxPartProps, useBoxEdit } from './box-part.ts';
import { cautionWords, noteName, stringsNeedWords } from './box-words.ts';
import { CautionLine } from './cautions.tsx';
import { ChoiceField, NumberField } from './fields.tsx';
import { number, parts, signed, withHalfWidth } from './figures.ts';
import { useWorkshop } from './workshop-context.ts';

/** Strings to begin with: a usual steel-string guitar. Common practice, no source. */
const usual: BoxStrings = {
  setName: 'light 12-53',
  scaleMm: 645,
  tuning: 'standard',
  saddleHeightMm: 12.5,
  breakAngleDeg: 25,
  neckAngleDeg: 0.5,
};

type Load = StringLoad & { readonly kind: 'load' };

export function BoxStringsPart({ record }: BoxPartProps) {
  const { preferences } = useWorkshop();
  const edit = useBoxEdit();
  const strings = record.box?.strings ?? usual;
  const change = (deed: DeedName, make: (known: BoxStrings) => BoxStrings) =>
    edit(deed, (box) => ({ ...box, strings: make(box.strings ?? usual) }));
  const a4Hz = preferences.settings.value.a4Hz;
  const load = stringLoad(strings, strings.setName, a4Hz);
  const other = strings.otherSetName === undefined ? undefined : stringLoad(strings, strings.otherSetName, a4Hz);
  const names = [...STRING_SETS.map(({ name }) => name), OWN_SET];
  const needsOwn = strings.setName === OWN_SET || strings.otherSetName === OWN_SET;
  type NumberKey = 'scaleMm' | 'saddleHeightMm' | 'breakAngleDeg' | 'neckAngleDeg';
  const size = (key: NumberKey, label: string, least: number, most: number, hint: string) => (
    <NumberField
      label={label}
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
      <h1>Strings</h1>
      {load.kind === 'not-ready' ? (
        <p class="verdict cannot-say">{stringsNeedWords[load.because]}</p>
      ) : (
        <Pull load={load} other={other?.kind === 'load' ? other : undefined} strings={strings} />
      )}
      {other?.kind === 'not-ready' && <p class="note">The set to compare: {stringsNeedWords[other.because]}</p>}
      <section class="card">
        <h2>What is strung</h2>
        <div class="fields">
          <ChoiceField
            label="Set"
            value={strings.setName}
            options={names.map((name) => [name, name] as const)}
            onChange={(setName) => change('string-set', (known) => ({ ...known, setName }))}
          />
          <ChoiceField
            label="Compare with"
            value={strings.otherSetName ?? ''}
            options={[['', 'nothing'], ...names.map((name) => [name, name] as const)]}
            onChange={(name) =>
              change('other-set', (known) => withField(known, 'otherSetName', name === '' ? undefined : name))
            }
          />
          <ChoiceField
            label="Tuning"
            value={strings.tuning}
            options={TUNINGS.map(({ name }) => [name, name] as const)}
            onChange={(tuning) => change('tuning', (known) => ({ ...known, tuning }))}
          />
          {size('scaleMm', 'Scale length', 300, 900, 'Nut to saddle')}
          {size('saddleHeightMm', 'Strings above the top at the saddle', 3, 40, '11 to 14 mm is usual')}
          {size('breakAngleDeg', 'Break angle behind the saddle', 0, 80, 'String down to the pins')}
          {size('neckAngleDeg', 'Rise toward the nut', -10, 10, 'String against the top; a set-back neck is negative')}
          <NumberField
            label="Age of the instrument"
            measure="plain"
            unit="years"
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
  const { bridge, tension } = load;
  const total = parts(tension.totalN, 0);
  const tuning = tuningNamed(strings.tuning);
  const cautions = stringCautions(strings, tension.totalN, other?.tension.totalN);
  return (
    <>
      <section class="stand" aria-label="Pull of the strings">
        <p class="figure-value">
          <span class="figure-number">{total.value}</span>
          <span class="figure-unit">
            N<br />±{total.halfWidth}
          </span>
        </p>
        <p>
          pull of all strings together, about {number(tension.totalN.value / 9.80665, 0)} kg or{' '}
          {number(nToLbf(tension.totalN.value), 0)} lb hanging from the bridge.
        </p>
        <dl class="stand-figures">
          <div>
            <dt>Torque that turns the bridge</dt>
            <dd>{withHalfWidth(bridge.torqueNm, 'N m')}</dd>
          </div>
          <div>
            <dt>Presses the saddle down</dt>
            <dd>{newtons(bridge.saddleDownN)}</dd>
          </div>
          <div>
            <dt>Lifts the pins</dt>
            <dd>{newtons(bridge.pinLiftN)}</dd>
          </div>
          <div>
            <dt>{bridge.netDownN.value <= 0 ? 'Net lift on the top' : 'Net press on the top'}</dt>
            <dd>{newtons({ value: Math.abs(bridge.netDownN.value), sigma: bridge.netDownN.sigma })}</dd>
          </div>
        </dl>
        <ul class="cautions">
          {cautions.map((caution) => (
            <li key={caution} class={caution === 'slacken-first' ? 'hint' : 'stop'}>
              {cautionWords[caution]}
            </li>
          ))}
        </ul>
      </section>
      <section class="card">
        <h2>String by string</h2>
        <section class="scroll" tabIndex={0} aria-label="Pull of each string">
          <table class="moves">
            <thead>
              <tr>
                <th scope="col">String</th>
                <th scope="col">{load.set.name}</th>
                {other !== undefined && <th scope="col">{other.set.name}</th>}
                {other !== undefined && <th scope="col">Difference</th>}
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
                <th scope="row">All</th>
                <td>{newtons(tension.totalN)}</td>
                {other !== undefined && <td>{newtons(other.tension.totalN)}</td>}
                {other !== undefined && <td>{change(tension.totalN, other.tension.totalN)}</td>}
              </tr>
            </tbody>
          </table>
        </section>
        <p class="hint">
          Plain steel is known from its gauge to 1 %, wound strings to 4 %, because their cores are rarely told, nylon
          to 6 and 8 %; errors of one maker’s set add up.{' '}
          {other !== undefined && 'Difference: the set strung against the other.'}
        </p>
      </section>
    </>
  );
}

const change = (now: Estimate, before: Estimate): string => {
  const percent = 100 * (now.value / before.value - 1);
  return `${percent > 0 ? '+' : ''}${number(percent, 0)} %`;
};

function Turns(props: {
  readonly strings: BoxStrings;
  readonly load: Load;
  readonly other: Load | undefined;
  readonly onChange: (turns: BoxStrings['turns'] & object) => void;
}) {
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
      <h2>How far the bridge turns</h2>
      <p>
        Lay a small straightedge on the bridge and read its angle slack, then at pitch. A guideline: not more than{' '}
        {USUAL_LIMITS.mostTurnDeg}°, and no growth from week to week.
      </p>
      <div class="fields">
        {bridgeTurnTimes.map((after) => (
          <NumberField
            key={after}
            label={`After ${after}`}
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
          A turn of {number(last.turnDeg, 1)}° is against the pull. Read slack and at pitch again; the two may be
          exchanged.
        </p>
      )}
      {last !== undefined && last.turnDeg > 0 && (
        <p>
          The top resists turning with{' '}
          {withHalfWidth(turningStiffness(torqueNm, turnRead(last.turnDeg)), 'N m per radian')}.
          {props.other !== undefined &&
            ` Under the set “${props.other.set.name}” the bridge would turn about ${withHalfWidth(
              bridgeTurnDeg(props.other.bridge.torqueNm, turningStiffness(torqueNm, turnRead(last.turnDeg))),
              '°',
            )}.`}
        </p>
      )}
      {first !== undefined && last !== undefined && first !== last && (
        <p class={last.turnDeg - first.turnDeg > 0.3 ? 'note' : 'hint'}>
          Between {first.after} and {last.after} it went{' '}
          {signed({ value: last.turnDeg - first.turnDeg, sigma: Math.SQRT2 * turnRead(0).sigma }, '°')}.
        </p>
      )}
      <CautionLine about={['strings', 'stop']} />
    </section>
  );
}
