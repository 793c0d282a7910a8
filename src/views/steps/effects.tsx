// What each step did: one row a measured step, one column a mode, with the move since the row before.

import { type ModeEffect, type StepEffect, stepEffects } from '../../compare/step-effects.ts';
import type { Track } from '../../compare/tracks.ts';
import type { InstrumentRecord } from '../../record/record.ts';
import { Card } from '../parts/card.tsx';
import { number, signed, signedNumber, withHalfWidth } from '../parts/figures.ts';
import { useLength, useMass } from '../parts/own-units.ts';
import { useStepName } from '../parts/step-name.ts';
import { Table } from '../parts/table.tsx';
import { useAir } from '../parts/use-air.ts';
import { words } from '../words/language.ts';

const nameOf = (track: Track): string => track.name ?? `${number(track.points.at(-1)!.mode.frequencyHz.value, 0)} Hz`;

export function StepEffects(props: { readonly record: InstrumentRecord; readonly followed: readonly Track[] }) {
  const stepName = useStepName();
  const { record, followed } = props;
  const effects = stepEffects(record, followed);
  return (
    <Card title={words.steps.eachStep}>
      <Table
        label={words.steps.eachStep}
        head={[words.steps.step, ...followed.map((track) => nameOf(track))]}
        rows={effects.toReversed().map((effect) => [
          <>
            {effect.number}. {stepName(record, effect.step)}
            <Circumstances effect={effect} />
          </>,
          ...effect.modes.map((mode) => <Effect effect={mode} />),
        ])}
      />
    </Card>
  );
}

/** What was taken off, and the weather where it changed enough to matter. */
function Circumstances(props: { readonly effect: StepEffect }) {
  const length = useLength(3);
  const mass = useMass();
  const { massOffG, heightOffMm, air } = props.effect;
  const { degreesOff } = useAir();
  const facts = [
    heightOffMm === undefined || heightOffMm === 0 ? undefined : words.steps.takenOff(length(heightOffMm)),
    massOffG === undefined || massOffG === 0 ? undefined : words.steps.takenOff(mass(massOffG)),
    air.humidityChangePercent === undefined
      ? undefined
      : words.steps.humidityMoved(signedNumber(air.humidityChangePercent, 0)),
    air.tempChangeC === undefined
      ? undefined
      : words.steps.temperatureMoved(`${air.tempChangeC > 0 ? '+' : '−'}${degreesOff(air.tempChangeC)}`),
  ].filter((fact) => fact !== undefined);
  return facts.length === 0 ? null : <span class="hint">{facts.join(' · ')}</span>;
}

function Effect(props: { readonly effect: ModeEffect | undefined }) {
  const { effect } = props;
  if (effect === undefined) return <>{words.steps.notHeard}</>;
  const { point, move } = effect;
  return (
    <>
      {withHalfWidth(point.mode.frequencyHz, 'Hz')}
      {move !== undefined &&
        (move.trusted ? (
          <strong class="moved">{signed(move.hz, 'Hz')}</strong>
        ) : (
          <span class="hint moved">{words.steps.noTrustedChange}</span>
        ))}
    </>
  );
}
