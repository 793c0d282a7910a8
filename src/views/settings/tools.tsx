// What the maker's instruments are worth: hygrometer, ruler, caliper, scale.

import { HALF_WIDTH_95 } from '../../quantity/estimate.ts';
import { Card } from '../parts/card.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { TextField } from '../parts/text-field.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

export function SettingsHygrometer() {
  const { preferences } = useWorkshop();
  const settings = preferences.settings.value;
  const t = words.settings;
  return (
    <Card title={t.hygrometer}>
      <div class="fields">
        <TextField
          label={t.whichHygrometer}
          value={settings.hygrometer}
          onChange={(hygrometer) => preferences.change({ hygrometer })}
        />
        <NumberField
          of="hygrometerOffset"
          hint={t.hygrometerOffsetHint}
          value={settings.hygrometerOffsetPercent}
          onSet={(value) => preferences.change({ hygrometerOffsetPercent: value })}
        />
        <NumberField
          of="hygrometerDoubt"
          hint={t.hygrometerDoubtHint}
          value={Number((HALF_WIDTH_95 * settings.hygrometerSigmaPercent).toFixed(1))}
          onSet={(value) => preferences.change({ hygrometerSigmaPercent: value / HALF_WIDTH_95 })}
        />
      </div>
    </Card>
  );
}

export function SettingsTools() {
  const { preferences } = useWorkshop();
  const settings = preferences.settings.value;
  const t = words.settings;
  const tools = [
    ['rulerMm', 'rulerDoubt'],
    ['caliperMm', 'caliperDoubt'],
    ['scaleG', 'scaleDoubt'],
  ] as const;
  return (
    <Card title={t.tools}>
      <p class="hint">{t.toolsLead}</p>
      <div class="fields">
        {tools.map(([key, of]) => (
          <NumberField
            key={key}
            of={of}
            value={settings[key]}
            onSet={(value) => preferences.change({ [key]: value })}
          />
        ))}
        <NumberField
          of="sanding"
          hint={t.sandingHint}
          value={settings.sandingMm}
          onSet={(sandingMm) => preferences.change({ sandingMm })}
        />
      </div>
    </Card>
  );
}
