// What is on the bench, how it is held and where it is tapped.

import { useLayoutEffect, useState } from 'preact/hooks';
import type { InstrumentRecord, Stage, Step, Support } from '../../record/record.ts';
import { bridges } from '../../record/round-part.ts';
import { holdsAt } from '../../record/support.ts';
import { Button } from '../parts/actions.tsx';
import { CautionLine } from '../parts/cautions.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { moment } from '../parts/figures.ts';
import { useStepName } from '../parts/step-name.ts';
import { TextField } from '../parts/text-field.tsx';
import { StepForm, useNewStep } from '../steps/step-form.tsx';
import { bridgeWords, holdWords, spotWords, stageWords } from '../words/codes.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

export function BenchSetup(props: { readonly record: InstrumentRecord; readonly step: Step | undefined }) {
  const { bench, shelf } = useWorkshop();
  const newStep = useNewStep();
  const { record, step } = props;
  const stage = step?.stage ?? 'thicknessed';
  // Before it is painted: what was last measured depends on it, and would else push the page down.
  useLayoutEffect(() => bench.takeUp(record, stage), [record.id, stage]);
  const instruments = shelf.summaries.value.filter(
    (summary) => summary.kind !== 'stock' && !summary.archived && !summary.deleted,
  );
  return (
    <>
      <ChoiceField
        label={words.bench.onBench}
        value={record.id}
        options={instruments.map((summary) => [summary.id, summary.name] as const)}
        onChange={(id) => void shelf.open(id)}
      />
      {bench.supportKnown.value && <SupportFields stage={stage} />}
      <Spot />
      {step !== undefined && <ThisStep key={step.id} record={record} step={step} />}
      <Button text={step === undefined ? words.bench.firstStep : words.bench.newStep} onPress={newStep} />
      <CautionLine about={['shaving', 'stop', 'dust']} />
    </>
  );
}

/** How the piece is held; asked outright before the first taps in a stage. */
export function SupportFields(props: { readonly stage: Stage; readonly withoutHold?: boolean }) {
  const { bench } = useWorkshop();
  const support = bench.support.value;
  const choose = (changed: Support) => {
    bench.support.value = changed;
  };
  const isAsked = !bench.supportKnown.value;
  return (
    <section class={isAsked ? 'fields support asked' : 'fields support'} aria-label={words.bench.supportLabel}>
      {isAsked && <p class="asks">{words.bench.howIsItHeld(stageWords[props.stage])}</p>}
      {isAsked && <p class="hint">{words.bench.saySupportFirst}</p>}
      {props.withoutHold !== true && (
        <ChoiceField
          label={words.bench.support}
          value={support.hold}
          options={holdsAt(props.stage).map((hold) => [hold, holdWords[hold]] as const)}
          onChange={(hold) => choose({ ...support, hold })}
        />
      )}
      <ChoiceField
        label={words.bench.bridge}
        value={support.bridge}
        options={bridges.map((bridge) => [bridge, bridgeWords[bridge]] as const)}
        onChange={(bridge) => choose({ ...support, bridge })}
      />
      <ChoiceField
        label={words.bench.strings}
        value={support.strung ? 'on' : 'off'}
        options={[
          ['off', words.bench.stringChoices.off],
          ['on', words.bench.stringChoices.on],
        ]}
        onChange={(strung) => choose({ ...support, strung: strung === 'on' })}
      />
      {isAsked && (
        <Button
          kind="primary"
          text={words.bench.soItIs}
          onPress={() => {
            bench.supportKnown.value = true;
          }}
        />
      )}
    </section>
  );
}

function ThisStep(props: { readonly record: InstrumentRecord; readonly step: Step }) {
  const stepName = useStepName();
  const { record, step } = props;
  // Open until it says what was done; after that it opens and closes only when asked.
  const [open] = useState(step.done === '');
  return (
    <details class="this-step" open={open}>
      <summary>{words.bench.step(record.steps.indexOf(step) + 1, stepName(record, step))}</summary>
      <p class="hint">{moment(step.atIso)}</p>
      <StepForm record={record} step={step} />
    </details>
  );
}

function Spot() {
  const { bench } = useWorkshop();
  const known = Object.keys(spotWords);
  const [chosen, setOwn] = useState(false);
  const own = chosen || !known.includes(bench.spot.value);
  return (
    <>
      <ChoiceField
        label={words.bench.tapAt}
        value={own ? 'own' : bench.spot.value}
        options={[...known.map((spot) => [spot, spotWords[spot]!] as const), ['own', words.bench.anotherSpot] as const]}
        onChange={(spot) => {
          setOwn(spot === 'own');
          if (spot !== 'own') bench.spot.value = spot;
        }}
      />
      {own && (
        <TextField
          label={words.bench.ownSpot}
          value={known.includes(bench.spot.value) ? '' : bench.spot.value}
          onChange={(spot) => {
            if (spot !== '') bench.spot.value = spot;
          }}
        />
      )}
    </>
  );
}
