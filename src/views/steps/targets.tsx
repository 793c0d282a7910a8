// Wanted modes: typed, or taken from a signature of this or another instrument.

import { useState } from 'preact/hooks';
import type { EditName } from '../../app/edits.ts';
import { type Series, targetsAt } from '../../compare/series.ts';
import { signatures } from '../../compare/signature.ts';
import { tracks } from '../../compare/tracks.ts';
import type { InstrumentRecord, Target } from '../../record/record.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { FoldedCard } from '../parts/card.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { number } from '../parts/figures.ts';
import { NumberField } from '../parts/number-field.tsx';
import { TextField } from '../parts/text-field.tsx';
import { midSentence, modeNames, stageWords } from '../words/codes.ts';
import { words } from '../words/language.ts';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';

/** Offered tolerance: about what a listener can just notice on one mode. Woodhouse et al. 2012, Acta Acust. 98, 475 (about 1 %, from memory). */
const offeredTolerance = 0.01;

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
  const add = (added: readonly Omit<Target, 'id' | 'stage'>[]) => {
    const replaced = new Set(added.map((target) => target.mode));
    set(
      [
        ...targets.filter((target) => !replaced.has(target.mode)),
        ...added.map((target) => ({ ...target, id: newId(), stage: conditions.stage })),
      ],
      'target',
    );
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
      <Actions>
        <Button
          text={words.steps.typeTarget}
          onPress={() =>
            add([
              {
                mode: modeNames.find((mode) => !targets.some((target) => target.mode === mode)) ?? 'mode',
                frequencyHz: 180,
                toleranceHz: 2,
                origin: 'typed',
              },
            ])
          }
        />
      </Actions>
      <FromSignature record={record} conditions={conditions} onTake={add} />
    </FoldedCard>
  );
}

function FromSignature(props: {
  readonly record: InstrumentRecord;
  readonly conditions: Series;
  readonly onTake: (targets: readonly Omit<Target, 'id' | 'stage'>[]) => void;
}) {
  const { shelf, peek } = useWorkshop();
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
            toleranceHz: Number((frequencyHz * offeredTolerance).toFixed(1)),
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
                `${number((source?.steps.indexOf(known) ?? 0) + 1, 0)}. ${stageWords[known.stage]}: ${known.done}`,
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
