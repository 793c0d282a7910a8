// May I glue today, and what will the dome do when the season turns.

import { useState } from 'preact/hooks';
import type { Estimate } from '../../quantity/estimate.ts';
import { stampGluing } from '../../record/wood-edit.ts';
import { gluingGate } from '../../wood/gluing.ts';
import { Card } from '../parts/card.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { moment, number, withHalfWidth } from '../parts/figures.ts';
import { EnterButton, EntryForm } from '../parts/form.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { useStepName } from '../parts/step-name.ts';
import { useAir } from '../parts/use-air.ts';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { Dome } from './dome.tsx';
import { woodWords } from './words.ts';

export function Gluing() {
  return (
    <EntryForm>
      <GluingGate />
    </EntryForm>
  );
}

function GluingGate() {
  const { preferences } = useWorkshop();
  const t = woodWords().gluing;
  const settings = preferences.settings.value;
  const [reading, setReading] = useState<number | undefined>(undefined);
  const [tempC, setTemp] = useState(20);
  const set = (part: Parameters<typeof preferences.change>[0]) => preferences.change(part);
  // The setting says what to add to the reading; the gate asks what it reads too high.
  const offset: Estimate = { value: -settings.hygrometerOffsetPercent, sigma: settings.hygrometerSigmaPercent };
  const window = { lowPercent: settings.gluingLowPercent, highPercent: settings.gluingHighPercent };
  const gate = reading === undefined ? undefined : gluingGate(reading, offset, tempC, window);
  return (
    <>
      <Card title={t.may}>
        <div class="fields">
          <NumberField of="hygrometer" value={reading} onChange={setReading} />
          <NumberField of="gluingTemperature" isNeeded value={tempC} onSet={setTemp} />
          <NumberField
            of="gluingFrom"
            most={settings.gluingHighPercent}
            value={settings.gluingLowPercent}
            onSet={(value) => set({ gluingLowPercent: value })}
          />
          <NumberField
            of="gluingTo"
            least={settings.gluingLowPercent}
            value={settings.gluingHighPercent}
            onSet={(value) => set({ gluingHighPercent: value })}
          />
        </div>
        <p class="hint">{t.windowHint(number(settings.hygrometerOffsetPercent, 1))}</p>
        {gate === undefined ? (
          <p>{t.typeReading}</p>
        ) : (
          <>
            <p
              class={`verdict ${gate.kind === 'glue' ? 'go' : gate.kind === 'unsure' ? '' : 'look-again'}`}
              role="status"
            >
              {t.gate[gate.kind]}
            </p>
            <p>
              {t.trueHumidity(withHalfWidth(gate.humidityPercent, '%RH'), withHalfWidth(gate.moisturePercent, '%'))}
            </p>
            <Stamp humidityPercent={Math.min(100, Math.max(0, gate.humidityPercent.value))} tempC={tempC} />
          </>
        )}
      </Card>
      <Dome humidityPercent={gate?.humidityPercent.value ?? 45} tempC={tempC} isToday={gate !== undefined} />
    </>
  );
}

function Stamp(props: { readonly humidityPercent: number; readonly tempC: number }) {
  const { shelf, preferences } = useWorkshop();
  const editRecord = useEditRecord();
  const { gluing: t, choose } = woodWords();
  const air = useAir();
  const stepName = useStepName();
  const record = shelf.record.value;
  const step = record?.steps.at(-1);
  const instruments = shelf.summaries.value.filter(
    (summary) => summary.kind === 'instrument' && summary.steps > 0 && !summary.deleted && !summary.archived,
  );
  if (record?.kind !== 'instrument' || step === undefined)
    return instruments.length === 0 ? (
      <p class="hint">{t.noStep}</p>
    ) : (
      <ChoiceField
        label={t.whatIsGlued}
        value=""
        options={[['', choose], ...instruments.map((summary) => [summary.id, summary.name] as const)]}
        onChange={(id) => id !== '' && void shelf.open(id)}
      />
    );
  const { hygrometer, hygrometerOffsetPercent } = preferences.settings.value;
  const gluing = { ...props, hygrometer, hygrometerOffsetPercent };
  return (
    <>
      <EnterButton onEnter={() => editRecord('gluing-air', (current) => stampGluing(current, step.id, gluing))}>
        {t.stamp(record.steps.length, record.name)}
      </EnterButton>
      <p class="hint">
        {t.stepAt(stepName(record, step), moment(step.atIso))}
        {step.gluing !== undefined && ` ${t.stamped(air.one(step.gluing))}`}
      </p>
    </>
  );
}
