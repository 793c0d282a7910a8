import { version } from '../../../package.json';
import { words } from '../words/language.ts';
import { SettingsListening, SettingsRounds } from './listening.tsx';
import { SettingsLooks } from './looks.tsx';
import { SettingsHygrometer, SettingsTools } from './tools.tsx';

/** What the maker prefers on this machine. */
export function SettingsView() {
  return (
    <div class="settings">
      <h1>{words.settings.title}</h1>
      <p class="hint">{words.settings.lead}</p>
      <SettingsRounds />
      <SettingsListening />
      <SettingsHygrometer />
      <SettingsTools />
      <SettingsLooks />
      <p class="hint">
        {words.settings.version(version)} <a href="licences.txt">{words.settings.licences}</a>
      </p>
    </div>
  );
}
