// What the maker prefers, kept as it changes.
import { type ReadonlySignal, signal } from '@preact/signals';
import { defaultSettings, type Settings } from '../storage/settings.ts';

export type { Settings };

export interface PreferencePorts {
  loadSettings(): Promise<Settings>;
  saveSettings(settings: Settings): Promise<void>;
}

export interface Preferences {
  readonly settings: ReadonlySignal<Settings>;
  load(): Promise<void>;
  change(part: Partial<Settings>): void;
}

export function createPreferences(ports: PreferencePorts): Preferences {
  const settings = signal(defaultSettings);
  return {
    settings,
    load: async () => {
      // A private window may refuse storage; the defaults serve.
      settings.value = await ports.loadSettings().catch(() => defaultSettings);
    },
    change: (part) => {
      settings.value = { ...settings.value, ...part };
      void ports.saveSettings(settings.value).catch(() => undefined);
    },
  };
}
