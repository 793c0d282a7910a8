// The maker did something else than was proposed: pick the brace, the stretch and the depth, then tap.
import { useState } from 'preact/hooks';
import type { Series } from '../../compare/series.ts';
import { openStep } from '../../record/cut-entry.ts';
import type { InstrumentRecord, Plan } from '../../record/record.ts';
import { forecastWords } from '../forecast/words.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { useEnterCuts } from '../parts/enter-cuts.ts';
import { PlanDrawing } from '../plan/plan-drawing.tsx';
import { ShavingEntry } from '../plan/shaving.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { StepForm } from './step-form.tsx';
import { useListen } from './use-listen.ts';

export function DidElse(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan | undefined;
  readonly conditions: Series;
  readonly onClose: () => void;
}) {
  const { record, plan, conditions, onClose } = props;
  const { newId } = useWorkshop();
  const t = forecastWords().nextPass;
  const enter = useEnterCuts();
  const listen = useListen(record, conditions);
  const [chosen, setChosen] = useState(plan?.braces[0]?.id);
  const brace = plan?.braces.find(({ id }) => id === chosen);
  const step = openStep(record);
  return (
    <section aria-label={t.didElse}>
      <h3>{t.didElse}</h3>
      {plan !== undefined && brace !== undefined ? (
        <div class="pass-columns">
          <div>
            <ChoiceField
              label={words.steps.brace}
              value={brace.id}
              options={plan.braces.map(({ id, name }) => [id, name] as const)}
              onChange={setChosen}
            />
            <ShavingEntry key={brace.id} record={record} plan={plan} brace={brace} />
          </div>
          <PlanDrawing plan={plan} hand={record.hand} face="inside" chosen={brace.id} onChoose={setChosen} />
        </div>
      ) : step === undefined ? (
        <Actions>
          <Button
            text={words.steps.addShaving}
            onPress={() => enter(record, [{ id: newId(), brace: '', braceIds: [] }])}
          />
        </Actions>
      ) : (
        <StepForm record={record} step={step} />
      )}
      <Actions>
        {step !== undefined && <Button kind="primary" isBig text={t.tapNow} onPress={() => listen(step.id)} />}
        <Button kind="quiet" text={words.shell.close} onPress={onClose} />
      </Actions>
    </section>
  );
}
