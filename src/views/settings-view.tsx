import type { Settings } from '../app/preferences.ts';
import { HALF_WIDTH_95 } from '../quantity/estimate.ts';
import { CheckField, ChoiceField, NumberField, TextField } from './fields.tsx';
import { useWorkshop } from './workshop-context.ts';

/** What the maker prefers on this machine. */
export function SettingsView() {
  const { preferences } = useWorkshop();
  const settings = preferences.settings.value;
  const set = (part: Partial<Settings>) => preferences.change(part);
  const whole = (value: number | undefined, take: (value: number) => void) =>
    value !== undefined && take(Math.round(value));
  return (
    <div class="settings">
      <h1>Settings</h1>
      <section class="card">
        <h2>Rounds</h2>
        <div class="fields">
          <NumberField
            label="Taps a hold"
            measure="plain"
            least={1}
            most={40}
            value={settings.tapsPerHold}
            onChange={(value) => whole(value, (tapsPerHold) => set({ tapsPerHold }))}
          />
          <NumberField
            label="Holds a round"
            hint="Picking the piece up anew is the scatter that counts"
            measure="plain"
            least={1}
            most={10}
            value={settings.holdsPerRound}
            onChange={(value) => whole(value, (holdsPerRound) => set({ holdsPerRound }))}
          />
          <NumberField
            label="Seconds between holds"
            measure="plain"
            least={2}
            most={60}
            value={settings.holdPauseS}
            onChange={(value) => whole(value, (holdPauseS) => set({ holdPauseS }))}
          />
          <NumberField
            label="Pitch of A4"
            measure="hz"
            least={380}
            most={480}
            value={settings.a4Hz}
            onChange={(a4Hz) => a4Hz !== undefined && set({ a4Hz })}
          />
        </div>
        <ChoiceField
          label="When a tap is kept"
          hint="The page never listens to itself"
          value={settings.feedback}
          options={[
            ['silent', 'Stay silent'],
            ['tones', 'Sound a short tone'],
            ['spoken', 'Speak, where this browser has a voice'],
          ]}
          onChange={(feedback) => set({ feedback })}
        />
        <CheckField
          label="The space bar starts and stops listening"
          value={settings.spaceBar}
          onChange={(spaceBar) => set({ spaceBar })}
        />
      </section>
      <section class="card">
        <h2>Hygrometer</h2>
        <div class="fields">
          <TextField label="Which one" value={settings.hygrometer} onChange={(hygrometer) => set({ hygrometer })} />
          <NumberField
            label="Add to its reading"
            hint="Hygrometers disagree: hold yours against a known one"
            measure="percent"
            least={-30}
            most={30}
            value={settings.hygrometerOffsetPercent}
            onChange={(value) => value !== undefined && set({ hygrometerOffsetPercent: value })}
          />
          <NumberField
            label="Still in doubt by ±"
            hint="95 %, after the offset"
            measure="percent"
            least={0}
            most={29}
            value={Number((HALF_WIDTH_95 * settings.hygrometerSigmaPercent).toFixed(1))}
            onChange={(value) => value !== undefined && set({ hygrometerSigmaPercent: value / HALF_WIDTH_95 })}
          />
        </div>
      </section>
      <WoodSettings />
      <section class="card">
        <h2>Units and looks</h2>
        <div class="fields">
          <ChoiceField
            label="Lengths"
            value={settings.length}
            options={[
              ['mm', 'Millimetres'],
              ['inch', 'Inches'],
            ]}
            onChange={(length) => set({ length })}
          />
          <ChoiceField
            label="Masses"
            value={settings.mass}
            options={[
              ['g', 'Grams'],
              ['oz', 'Ounces'],
            ]}
            onChange={(mass) => set({ mass })}
          />
          <ChoiceField
            label="Temperatures"
            value={settings.temperature}
            options={[
              ['c', '°C'],
              ['f', '°F'],
            ]}
            onChange={(temperature) => set({ temperature })}
          />
          <ChoiceField
            label="Light"
            value={settings.theme}
            options={[
              ['system', 'As the system has it'],
              ['light', 'Light'],
              ['dark', 'Dark, high contrast'],
            ]}
            onChange={(theme) => set({ theme })}
          />
        </div>
      </section>
    </div>
  );
}

/** What the maker's ruler, caliper and scale are worth; offered beside every new entry. */
function WoodSettings() {
  const { preferences } = useWorkshop();
  const settings = preferences.settings.value;
  const tools = [
    ['rulerMm', 'Ruler ±', 'mm', 20],
    ['caliperMm', 'Caliper ±', 'mm', 5],
    ['scaleG', 'Scale ±', 'g', 100],
  ] as const;
  return (
    <section class="card">
      <h2>Ruler, caliper, scale</h2>
      <p class="hint">
        How far off each may well be (95 %). Offered with every new entry; each entry can have its own.
      </p>
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
          label="Sanding still takes"
          hint="Between the thicknesser and the finished plate"
          measure="mm"
          least={0}
          most={3}
          value={settings.sandingMm}
          onChange={(sandingMm) => sandingMm !== undefined && preferences.change({ sandingMm })}
        />
      </div>
    </section>
  );
}
