// What if: knobs on the box, the three modes now and then, and a target over them.

import { useState } from 'preact/hooks';
import { boxSensitivities } from '../../box/what-if.ts';
import { type MovedMode, movedModes } from '../../compare/box-change.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { Card, FoldedCard } from '../parts/card.tsx';
import { CautionLine } from '../parts/cautions.tsx';
import { LargeFigure } from '../parts/figure.tsx';
import { number, signed, signedNumber, withHalfWidth } from '../parts/figures.ts';
import { useLength, useRoundLength } from '../parts/own-units.ts';
import { Table } from '../parts/table.tsx';
import { type Aim, Aims, missingHz } from './box-targets.tsx';
import { Notes } from './notes.tsx';
import type { BoxPartProps } from './part.ts';
import { NoBoxYet } from './step.tsx';
import { boxWords, partWords } from './words.ts';

interface Knobs {
  readonly holeMm: number;
  readonly depthMm: number;
  readonly bridgeG: number;
  readonly topPercent: number;
  readonly backPercent: number;
}

const asPercent = (percent: number): string => `${signedNumber(percent, 0)} %`;

const still: Knobs = { holeMm: 0, depthMm: 0, bridgeG: 0, topPercent: 0, backPercent: 0 };

export function BoxWhatIf({ record, step, reading }: BoxPartProps) {
  const [knobs, setKnobs] = useState(still);
  const [length, round] = [useLength('rule', 1), useRoundLength()];
  /** what a knob turns by, and what the table is told by */
  const [turn, small] = [round(0.5, 1 / 64), round(1, 1 / 32)];
  const { whatIf: t, codes, whatIsMissing } = boxWords();
  if (step === undefined || reading === undefined)
    return (
      <>
        <h1>{t.title}</h1>
        <NoBoxYet />
      </>
    );
  const { cavity, model } = reading;
  if (model === undefined || cavity.kind !== 'cavity')
    return (
      <>
        <h1>{t.title}</h1>
        <p class="lead">{t.needsModel}</p>
        <a class="primary button" href="#/box/found">
          {whatIsMissing}
        </a>
      </>
    );
  const planAreaM2 = cavity.planAreaM2;
  const signedLength = (mm: number) => `${mm > 0 ? '+' : ''}${length(mm)}`;
  const forecast = movedModes(reading, {
    holeRadiusM: cavity.holeRadiusM + knobs.holeMm / 1000,
    ...(planAreaM2 === undefined ? {} : { depthChangeM: knobs.depthMm / 1000, planAreaM2 }),
    bridgeMassChangeKg: knobs.bridgeG / 1000,
    topStiffnessRatio: 1 + knobs.topPercent / 100,
    backStiffnessRatio: 1 + knobs.backPercent / 100,
  });
  const knob = (key: keyof Knobs, least: number, most: number, step: number, say: (value: number) => string) => (
    <Knob
      label={t[key]}
      say={say}
      least={least}
      most={most}
      step={step}
      value={knobs[key]}
      onChange={(value) => setKnobs({ ...knobs, [key]: value })}
    />
  );
  return (
    <>
      <h1>{t.title}</h1>
      <section class="stand" aria-label={t.nowAndThen}>
        {forecast.kind === 'moved' ? (
          <ol class="then">
            {forecast.modes.map((mode, i) => (
              <Then key={mode.nowHz.value} mode={mode} at={i} aim={record.box?.aims?.find((aim) => aim.mode === i)} />
            ))}
          </ol>
        ) : (
          <p class="stop" role="alert">
            {t.noBoxLeft}
          </p>
        )}
      </section>
      <Card title={t.oneThing}>
        <div class="knobs">
          {knob('holeMm', -20 * turn.mm, 20 * turn.mm, turn.mm, signedLength)}
          {planAreaM2 === undefined ? (
            <p class="hint">{t.noDepth}</p>
          ) : (
            knob('depthMm', -40 * turn.mm, 40 * turn.mm, turn.mm, signedLength)
          )}
          {knob('bridgeG', -15, 30, 0.5, (g) => `${signedNumber(g, 1)} g`)}
          {knob('topPercent', -40, 20, 1, asPercent)}
          {model.back !== 'held' && knob('backPercent', -40, 20, 1, asPercent)}
        </div>
        <Actions>
          <Button text={t.asItIs} onPress={() => setKnobs(still)} />
        </Actions>
        <p class="hint">{t.knobsHint}</p>
        <CautionLine about={['shaving', 'strings', 'stop']} />
      </Card>
      <Aims aims={record.box?.aims ?? []} modes={forecast.kind === 'moved' ? forecast.modes : []} />
      {forecast.kind === 'moved' && <Notes box={record.box ?? {}} modes={forecast.modes.map(({ thenHz }) => thenHz)} />}
      {planAreaM2 !== undefined && (
        <FoldedCard title={t.howMuch}>
          <Table
            label={t.howMuchLabel}
            head={[t.mode, t.perHole(small.said), t.perDepth(small.said), t.perBridge, t.perTop, t.perBack]}
            rows={boxSensitivities(model, planAreaM2).map((mode, i) => [
              codes.modes[i],
              ...[
                small.mm * mode.hzPerMmHoleRadius,
                small.mm * mode.hzPerMmDepth,
                mode.hzPerGBridge,
                mode.hzPerPercentTopStiffness,
                mode.hzPerPercentBackStiffness,
              ].map((hz) => `${number(hz, 2)} Hz`),
            ])}
          />
        </FoldedCard>
      )}
    </>
  );
}

function Then(props: { readonly mode: MovedMode; readonly at: number; readonly aim: Aim | undefined }) {
  const { whatIf: t, codes, found } = boxWords();
  const { nowHz, moveHz, thenHz } = props.mode;
  const { aim } = props;
  const missing = aim === undefined ? undefined : missingHz(aim, props.mode);
  return (
    <li class="figure">
      <h2>{found.modeOf(codes.modes[props.at]!, partWords[props.mode.part])}</h2>
      <LargeFigure figure={thenHz} unit="Hz" mostDecimals={1} />
      <p>
        {t.now(withHalfWidth(nowHz, 'Hz'))}
        <br />
        {moveHz.value === 0 ? t.noMove : t.move(signed(moveHz, 'Hz'))}
      </p>
      {aim !== undefined && missing !== undefined && (
        <p class={Math.abs(missing) <= aim.toleranceHz ? 'tag done' : 'tag'}>
          {Math.abs(missing) <= aim.toleranceHz
            ? t.within
            : (missing > 0 ? t.below : t.above)(number(Math.abs(missing), 1))}
        </p>
      )}
    </li>
  );
}

function Knob(props: {
  readonly label: string;
  readonly say: (value: number) => string;
  readonly least: number;
  readonly most: number;
  readonly step: number;
  readonly value: number;
  readonly onChange: (value: number) => void;
}) {
  const { label, value } = props;
  const shown = props.say(value);
  return (
    <label class="knob">
      <span>{label}</span>
      <input
        type="range"
        min={props.least}
        max={props.most}
        step={props.step}
        value={value}
        aria-valuetext={shown}
        onInput={(event) => props.onChange(Number(event.currentTarget.value))}
      />
      <output>{shown}</output>
    </label>
  );
}
