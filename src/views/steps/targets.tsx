// Wanted modes: typed, or taken from a signature of this or another instrument.

import { useState } from 'preact/hooks';
import type { EditName } from '../../app/edits.ts';
import { type Series, targetsAt } from '../../compare/series.ts';
import { signatures } from '../../compare/signature.ts';
import { type Track, tracks } from '../../compare/tracks.ts';
import { pinMode } from '../../record/edit.ts';
import type { InstrumentRecord, Target } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { FoldedCard } from '../parts/card.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { number } from '../parts/figures.ts';
import { NumberField } from '../parts/number-field.tsx';
import { useStepName } from '../parts/step-name.ts';
import { TextField } from '../parts/text-field.tsx';
import { midSentence, modeNames, stageWords } from '../words/codes.ts';
import { words } from '../words/language.ts';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { NewTarget, offeredToleranceHz, type TargetAsked } from './new-target.tsx';

export function Targets(props: { readonly record: InstrumentRecord; readonly conditions: Series }) {
  const { newId } = useWorkshop();
  const editRecord = useEditRecord();
  const { record, conditions } = props;
  const targets = targetsAt(record, conditions.stage);
  // Open at first where there is no target yet; after that only the maker opens and closes it.
  const [open] = useState(targets.length === 0);
  const set = (changed: readonly Target[], editName: EditName) =>
    editRecord(editName, (current) => ({
      ...current,
      targets: [...current.targets.filter((target) => target.stage !== conditions.stage), ...changed],
    }));
  const change = (target: Target, part: Partial<Target>) =>
    set(
      targets.map((known) => (known.id === target.id ? { ...known, ...part } : known)),
      'target',
    );
  /** @param tapped the mode that the target is for, where it has no name yet: it gets the target's */
  const add = (added: readonly TargetAsked[], tapped?: Track) => {
    const replaced = new Set(added.map((target) => target.mode));
    editRecord('target', (current) => {
      const { step, mode } = tapped?.points.at(-1) ?? {};
      const named =
        tapped?.name !== undefined || step === undefined || mode === undefined
          ? current
          : pinMode(current, {
              id: newId(),
              stepId: step.id,
              frequencyHz: mode.frequencyHz.value,
              mode: added[0]!.mode,
            });
      const others = current.targets.filter(({ stage, mode }) => stage !== conditions.stage || !replaced.has(mode));
      const made = added.map((target) => ({ ...target, id: newId(), stage: conditions.stage }));
      return { ...named, targets: [...others, ...made] };
    });
  };
  return (
    <FoldedCard title={words.steps.targetFor(midSentence(stageWords[conditions.stage]))} isOpen={open}>
      {targets.map((target) => (
        <fieldset key={target.id} class="target">
          <legend>{target.mode}</legend>
          <div class="fields">
            <TextField
              label={words.steps.mode}
              value={target.mode}
              list={[...modeNames]}
              onChange={(mode) => mode !== '' && change(target, { mode })}
            />
            <NumberField
              of="wantedHz"
              value={target.frequencyHz}
              onSet={(frequencyHz) => change(target, { frequencyHz, origin: 'typed' })}
            />
            <NumberField
              of="toleranceHz"
              value={target.toleranceHz}
              onSet={(toleranceHz) => change(target, { toleranceHz })}
            />
          </div>
          <p class="hint">{words.steps.targetFrom(target.origin)}</p>
          <Button
            kind="quiet"
            text={words.steps.remove}
            onPress={() =>
              set(
                targets.filter((known) => known.id !== target.id),
                'remove-target',
              )
            }
          />
        </fieldset>
      ))}
      <NewTarget
        followed={tracks(record, conditions.stage, conditions.support)}
        taken={targets.map(({ mode }) => mode)}
        onAdd={(target, tapped) => add([target], tapped)}
      />
      <FromSignature record={record} conditions={conditions} onTake={add} />
    </FoldedCard>
  );
}

function FromSignature(props: {
  readonly record: InstrumentRecord;
  readonly conditions: Series;
  readonly onTake: (targets: readonly TargetAsked[]) => void;
}) {
  const { shelf, peek } = useWorkshop();
  const stepName = useStepName();
  const [recordId, setRecordId] = useState(props.record.id);
  const [other, setOther] = useState<InstrumentRecord | undefined>(undefined);
  const source = recordId === props.record.id ? props.record : other;
  const steps = (source?.steps ?? []).filter((step) => signatures(step).length > 0);
  const [stepId, setStepId] = useState('');
  const step = steps.find((known) => known.id === stepId) ?? steps.at(-1);
  const choose = async (id: string) => {
    setRecordId(id);
    setOther(await peek(id));
  };
  const take = () => {
    if (source === undefined || step === undefined) return;
    const signature = signatures(step)[0]!;
    const followed = tracks(source, step.stage, signature.support);
    props.onTake(
      followed.flatMap((track) => {
        const point = track.points.find((known) => known.step.id === step.id);
        if (track.name === undefined || point === undefined) return [];
        const frequencyHz = Number(point.mode.frequencyHz.value.toFixed(1));
        return [
          {
            mode: track.name,
            frequencyHz,
            toleranceHz: offeredToleranceHz(frequencyHz),
            origin: words.steps.originOf(source.name, source.steps.indexOf(step) + 1),
          },
        ];
      }),
    );
  };
  const others = shelf.summaries.value.filter((summary) => summary.kind === 'instrument' && !summary.deleted);
  return (
    <fieldset class="target">
      <legend>{words.steps.fromSignature}</legend>
      <div class="fields">
        <ChoiceField
          label={words.steps.instrument}
          value={recordId}
          options={others.map((summary) => [summary.id, summary.name] as const)}
          onChange={(id) => void choose(id)}
        />
        <ChoiceField
          label={words.steps.step}
          value={step?.id ?? ''}
          options={steps.map(
            (known) =>
              [
                known.id,
                `${number((source?.steps.indexOf(known) ?? 0) + 1, 0)}. ${source === undefined ? '' : stepName(source, known)}`,
              ] as const,
          )}
          onChange={setStepId}
        />
      </div>
      {step !== undefined && step.stage !== props.conditions.stage && (
        <p class="stop">{words.steps.otherStage(midSentence(stageWords[step.stage]))}</p>
      )}
      <Button text={words.steps.takeTarget} isDisabled={step === undefined} onPress={take} />
    </fieldset>
  );
}
