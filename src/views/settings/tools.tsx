// What the maker's instruments are worth: hygrometer, ruler, caliper, scale.

import { HALF_WIDTH_95 } from '../../quantity/estimate.ts';
import { Card } from '../parts/card.tsx';
import { NumberField, TextField } from '../parts/fields.tsx';
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
          label={t.hygrometerOffset}
          hint={t.hygrometerOffsetHint}
          measure="percent"
          least={-30}
          most={30}
          value={settings.hygrometerOffsetPercent}
          onChange={(value) => value !== undefined && preferences.change({ hygrometerOffsetPercent: value })}
        />
        <NumberField
          label={t.hygrometerDoubt}
          hint={t.hygrometerDoubtHint}
          measure="percent"
          least={0}
          most={29}
          value={Number((HALF_WIDTH_95 * settings.hygrometerSigmaPercent).toFixed(1))}
          onChange={(value) =>
            value !== undefined && preferences.change({ hygrometerSigmaPercent: value / HALF_WIDTH_95 })
          }
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
    ['rulerMm', t.ruler, 'mm', 20],
    ['caliperMm', t.caliper, 'mm', 5],
    ['scaleG', t.scale, 'g', 100],
  ] as const;
  return (
    <Card title={t.tools}>
      <p class="hint">{t.toolsLead}</p>
      <div class="fields">
        {tools.map(([key, label, measure, most]) => (
          <NumberField
            key={key}
            label={label}
            measure={measure}
            least={0.001}
            most={most}
            value={settings[key]}
            onChange={(value) => value !== undefined && preferences.change({ [key]: value })}
          />
        ))}
        <NumberField
          label={t.sanding}
          hint={t.sandingHint}
          measure="mm"
          least={0}
          most={3}
          value={settings.sandingMm}
          onChange={(sandingMm) => sandingMm !== undefined && preferences.change({ sandingMm })}
        />
      </div>
    </Card>
  );
}
