// What the maker prefers, kept as it changes.
import { type ReadonlySignal, signal } from '@preact/signals';
import { defaultSettings, type Settings } from '../storage/settings.ts';

export type { Settings };

export interface PreferencePorts {
  loadSettings(): Promise<Settings>;
  saveSettings(settings: Settings): Promise<void>;
}

export class Preferences {
  private readonly chosen = signal(defaultSettings);
  private readonly ports: PreferencePorts;

  constructor(ports: PreferencePorts) {
    this.ports = ports;
  }

  get settings(): ReadonlySignal<Settings> {
    return this.chosen;
  }

  async load(): Promise<void> {
    // A private window may refuse storage; the defaults serve.
    this.chosen.value = await this.ports.loadSettings().catch(() => defaultSettings);
  }

  change(part: Partial<Settings>): void {
    this.chosen.value = { ...this.chosen.value, ...part };
    void this.ports.saveSettings(this.chosen.value).catch(() => undefined);
  }
}
