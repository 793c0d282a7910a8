// Rounds, the microphone, and what the page sounds while taps are taken.

import { useEffect } from 'preact/hooks';
import { USUAL_TAP_LIMITS } from '../../signal/hear/tap-gate.ts';
import { Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { CheckField, ChoiceField } from '../parts/choice-field.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

export function SettingsRounds() {
  const { preferences } = useWorkshop();
  const settings = preferences.settings.value;
  const t = words.settings;
  const counts = [
    ['tapsPerHold', undefined],
    ['holdsPerRound', t.holdsHint],
    ['holdPauseS', undefined],
  ] as const;
  return (
    <Card title={t.rounds}>
      <div class="fields">
        {counts.map(([key, hint]) => (
          <NumberField
            key={key}
            hint={hint}
            of={key}
            value={settings[key]}
            onSet={(value) => preferences.change({ [key]: value })}
          />
        ))}
        <NumberField of="a4" value={settings.a4Hz} onSet={(a4Hz) => preferences.change({ a4Hz })} />
      </div>
      <ChoiceField
        label={t.feedback}
        hint={t.feedbackHint}
        value={settings.feedback}
        options={(['silent', 'tones', 'spoken'] as const).map((choice) => [choice, t.feedbackChoices[choice]])}
        onChange={(feedback) => preferences.change({ feedback })}
      />
      <CheckField
        label={t.spaceBar}
        value={settings.spaceBar}
        onChange={(spaceBar) => preferences.change({ spaceBar })}
      />
    </Card>
  );
}

export function SettingsListening() {
  const { preferences } = useWorkshop();
  const { loudEnoughDb, loudestDb } = preferences.settings.value;
  const t = words.settings;
  const isUsual = loudEnoughDb === USUAL_TAP_LIMITS.loudEnoughDb && loudestDb === USUAL_TAP_LIMITS.loudestDb;
  return (
    <Card title={t.listening}>
      <MicrophoneChoice />
      <div class="fields">
        <NumberField
          of="loudEnough"
          hint={t.loudEnoughHint}
          value={loudEnoughDb}
          onSet={(value) => preferences.change({ loudEnoughDb: value })}
        />
        <NumberField
          of="loudest"
          hint={t.loudestHint}
          value={loudestDb}
          onSet={(value) => preferences.change({ loudestDb: value })}
        />
      </div>
      {!isUsual && <Button kind="quiet" text={t.backToUsual} onPress={() => preferences.change(USUAL_TAP_LIMITS)} />}
    </Card>
  );
}

function MicrophoneChoice() {
  const { preferences, microphones } = useWorkshop();
  const { deviceId, deviceLabel } = preferences.settings.value;
  const t = words.settings;
  useEffect(() => microphones.follow(), []);
  const list = microphones.list.value;
  const isGone = deviceId !== undefined && !list.some((known) => known.deviceId === deviceId);
  const named = list.map(({ deviceId: id, label }, i) => [id, label === '' ? t.nameless(i + 1) : label] as const);
  return (
    <ChoiceField
      label={t.microphone}
      hint={isGone ? t.goneHint : list.some(({ label }) => label === '') ? t.namelessHint : undefined}
      value={deviceId ?? 'any'}
      options={[['any', t.anyMicrophone], ...named, ...(isGone ? [[deviceId, t.gone(deviceLabel)] as const] : [])]}
      onChange={(id) =>
        preferences.change({
          deviceId: id === 'any' ? undefined : id,
          deviceLabel: list.find((known) => known.deviceId === id)?.label ?? '',
        })
      }
    />
  );
}
