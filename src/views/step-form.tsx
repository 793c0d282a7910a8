// What was done at a step and under what conditions. Every field saves itself.
import type { DeedName } from '../app/deeds.ts';
import { appendStep, changeStep, withField } from '../record/edit.ts';
import { type InstrumentRecord, type Shaving, type Stage, type Step, stages } from '../record/record.ts';
import { ClimateFields } from './climate-fields.tsx';
import { ChoiceField, NumberField, TextField } from './fields.tsx';
import { Photo } from './photo.tsx';
import { useAir } from './use-air.ts';
import { words } from './words/language.ts';
import { stageWords } from './words.ts';
import { useEditRecord, useWorkshop } from './workshop-context.ts';

export function StepForm(props: { readonly record: InstrumentRecord; readonly step: Step }) {
  const editRecord = useEditRecord();
  const { step, record } = props;
  const air = useAir();
  const change = (deed: DeedName, edit: (step: Step) => Step) =>
    editRecord(deed, (current) => changeStep(current, step.id, edit));
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
        placeholder={words.steps.doneExample}
        onChange={(done) => change('done', (s) => ({ ...s, done }))}
      />
      <Shavings record={record} step={step} onChange={(shavings) => change('shaving', (s) => ({ ...s, shavings }))} />
      <div class="fields">
        <NumberField
          label={words.steps.mass}
          measure="g"
          least={0.1}
          most={20000}
          value={step.massG}
          onChange={(massG) => change('mass', (s) => withField(s, 'massG', massG))}
        />
        <ClimateFields climate={step.climate} onChange={(deed, climate) => change(deed, (s) => ({ ...s, climate }))} />
      </div>
      {step.gluing !== undefined && <p class="note">{words.steps.gluedIn(air.one(step.gluing))}</p>}
      <TextField
        label={words.steps.heard}
        value={step.heard}
        placeholder={words.steps.heardExample}
        onChange={(heard) => change('heard', (s) => ({ ...s, heard }))}
      />
      <Photo photoId={step.photoId} onChange={(photoId) => change('photo', (s) => withField(s, 'photoId', photoId))} />
    </div>
  );
}

function Shavings(props: {
  readonly record: InstrumentRecord;
  readonly step: Step;
  readonly onChange: (shavings: readonly Shaving[]) => void;
}) {
  const { record, step } = props;
  const braces = [
    ...new Set(
      record.steps
        .flatMap((known) => known.shavings.map((shaving) => shaving.brace))
        .concat(record.floors.map((floor) => floor.brace)),
    ),
  ];
  const set = (at: number, shaving: Shaving) =>
    props.onChange(step.shavings.map((known, i) => (i === at ? shaving : known)));
  return (
    <div class="shavings">
      {step.shavings.map((shaving, at) => {
        const floor = record.floors.find((known) => known.brace === shaving.brace);
        const low = floor !== undefined && shaving.heightLeftMm !== undefined && shaving.heightLeftMm <= floor.heightMm;
        return (
          <fieldset key={at} class="shaving">
            <legend>{words.steps.shaving(at + 1)}</legend>
            <TextField
              label={words.steps.brace}
              value={shaving.brace}
              list={braces}
              onChange={(brace) => set(at, { ...shaving, brace })}
            />
            <div class="fields">
              <NumberField
                label={words.steps.from}
                measure="mm"
                value={shaving.fromMm}
                onChange={(value) => set(at, withField(shaving, 'fromMm', value))}
              />
              <NumberField
                label={words.steps.to}
                measure="mm"
                value={shaving.toMm}
                onChange={(value) => set(at, withField(shaving, 'toMm', value))}
              />
              <NumberField
                label={words.steps.off}
                measure="mm"
                least={0}
                most={50}
                value={shaving.offMm}
                onChange={(value) => set(at, withField(shaving, 'offMm', value))}
              />
              <NumberField
                label={words.steps.weigh}
                measure="g"
                least={0}
                most={1000}
                value={shaving.massOffG}
                onChange={(value) => set(at, withField(shaving, 'massOffG', value))}
              />
              <NumberField
                label={words.steps.heightLeft}
                measure="mm"
                least={0}
                most={60}
                value={shaving.heightLeftMm}
                hint={floor === undefined ? undefined : words.steps.floor(floor.heightMm)}
                onChange={(value) => set(at, withField(shaving, 'heightLeftMm', value))}
              />
            </div>
            {low && (
              <p class="stop" role="alert">
                {words.steps.atFloor}
              </p>
            )}
            <button
              type="button"
              class="quiet"
              onClick={() => props.onChange(step.shavings.filter((_, i) => i !== at))}
            >
              {words.steps.remove}
            </button>
          </fieldset>
        );
      })}
      <button type="button" class="quiet" onClick={() => props.onChange([...step.shavings, { brace: '' }])}>
        {words.steps.addShaving}
      </button>
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
