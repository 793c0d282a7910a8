// Units, light and dark, language, and the name on reports.
import { Card } from '../parts/card.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { TextField } from '../parts/text-field.tsx';
import { languageNames, words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

/** The choices of an object of words, in its order. */
const choices = <T extends string>(texts: Readonly<Record<T, string>>): readonly (readonly [T, string])[] =>
  Object.entries(texts) as [T, string][];

export function SettingsLooks() {
  const { preferences } = useWorkshop();
  const settings = preferences.settings.value;
  const t = words.settings;
  return (
    <Card title={t.looks}>
      <div class="fields">
        <ChoiceField
          label={t.lengths}
          value={settings.length}
          options={choices(t.lengthChoices)}
          onChange={(length) => preferences.change({ length })}
        />
        <ChoiceField
          label={t.masses}
          value={settings.mass}
          options={choices(t.massChoices)}
          onChange={(mass) => preferences.change({ mass })}
        />
        <ChoiceField
          label={t.temperatures}
          value={settings.temperature}
          options={choices(t.temperatureChoices)}
          onChange={(temperature) => preferences.change({ temperature })}
        />
        <ChoiceField
          label={t.theme}
          value={settings.theme}
          options={choices(t.themeChoices)}
          onChange={(theme) => preferences.change({ theme })}
        />
        <ChoiceField
          label={t.language}
          value={settings.language}
          options={languageNames}
          onChange={(language) => preferences.change({ language })}
        />
        <TextField
          label={t.makerName}
          hint={t.makerNameHint}
          value={settings.makerName}
          onChange={(makerName) => preferences.change({ makerName })}
        />
      </div>
    </Card>
  );
}
