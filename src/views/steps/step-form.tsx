// What was done at a step and under what conditions. Every field saves itself.
import type { EditName } from '../../app/edits.ts';
import { type Weight, weightAt } from '../../record/cuts.ts';
import { appendStep, changeStep, withField } from '../../record/edit.ts';
import { type InstrumentRecord, type Stage, type Step, stages } from '../../record/record.ts';
import { stepPhotos, withPhotos } from '../../record/step-photos.ts';
import { ChoiceField } from '../parts/choice-field.tsx';
import { ClimateFields } from '../parts/climate-fields.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { useMass, useMassEstimate, useRoundLength } from '../parts/own-units.ts';
import { TextField } from '../parts/text-field.tsx';
import { useAir } from '../parts/use-air.ts';
import { carriedWords, stageWords } from '../words/codes.ts';
import { words } from '../words/language.ts';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { StepCuts } from './cuts.tsx';
import { StepPhotos } from './step-photos.tsx';

export function StepForm(props: { readonly record: InstrumentRecord; readonly step: Step }) {
  const editRecord = useEditRecord();
  const { step, record } = props;
  const air = useAir();
  const [mass, massEstimate, round] = [useMass(), useMassEstimate(), useRoundLength()];
  /** Where the piece was not weighed: what it weighed last, less what was cut since. */
  const carried = (weight: Weight | undefined) =>
    weight?.kind === 'carried' ? carriedWords(weight, mass, massEstimate) : undefined;
  const change = (editName: EditName, edit: (step: Step) => Step) =>
    editRecord(editName, (current) => changeStep(current, step.id, edit));
  return (
    <div class="step-form">
      <ChoiceField
        label={words.steps.stage}
        value={step.stage}
        options={stages.map((stage): readonly [Stage, string] => [stage, stageWords[stage]])}
        onChange={(stage) => change('stage', (s) => ({ ...s, stage }))}
      />
      <TextField
        label={words.steps.done}
        lines={2}
        value={step.done}
        placeholder={words.steps.doneExample(round(1, 1 / 32).said, round(180, 7).said)}
        onChange={(done) => change('done', (s) => ({ ...s, done }))}
      />
      <StepCuts
        record={record}
        step={step}
        onChange={(cuts) => change('shaving', (s) => ({ ...s, cuts: [...cuts] }))}
      />
      <div class="fields">
        <NumberField
          of="pieceMass"
          hint={carried(weightAt(record, step.id))}
          value={step.massG}
          onChange={(massG) => change('mass', (s) => withField(s, 'massG', massG))}
        />
        <ClimateFields
          climate={step.climate}
          onChange={(editName, climate) => change(editName, (s) => ({ ...s, climate }))}
        />
      </div>
      {step.gluing !== undefined && <p class="note">{words.steps.gluedIn(air.one(step.gluing))}</p>}
      <TextField
        label={words.steps.heard}
        value={step.heard}
        placeholder={words.steps.heardExample}
        onChange={(heard) => change('heard', (s) => ({ ...s, heard }))}
      />
      <StepPhotos photos={stepPhotos(step)} onChange={(photos) => change('photo', (s) => withPhotos(s, photos))} />
    </div>
  );
}

/** Begins a new step: something was done to the wood since the last one. */
export function useNewStep(): () => string | undefined {
  const { beginStep } = useWorkshop();
  const editRecord = useEditRecord();
  return () => {
    const step = beginStep();
    if (step === undefined) return undefined;
    editRecord('new-step', (record) => appendStep(record, step));
    return step.id;
  };
}
