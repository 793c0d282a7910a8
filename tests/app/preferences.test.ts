import { describe, expect, test } from 'vitest';
import { Preferences } from '../../src/app/preferences.ts';
import { defaultSettings, type Settings } from '../../src/storage/settings.ts';
import { settled } from './taps-heard.ts';

describe('preferences', () => {
  test('are the usual ones until they are loaded; each change is shown at once and stored with all the others', async () => {
    const saved: Settings[] = [];
    const stored = { ...defaultSettings, a4Hz: 442 };
    const preferences = new Preferences({
      loadSettings: async () => stored,
      saveSettings: async (settings) => void saved.push(settings),
    });
    expect(preferences.settings.value).toEqual(defaultSettings);
    await preferences.load();
    expect(preferences.settings.value).toEqual(stored);
    expect(saved).toEqual([]);
    preferences.change({ theme: 'dark' });
    expect(preferences.settings.value).toEqual({ ...stored, theme: 'dark' });
    preferences.change({ a4Hz: 415 });
    expect(saved).toEqual([
      { ...stored, theme: 'dark' },
      { ...stored, theme: 'dark', a4Hz: 415 },
    ]);
  });

  test('serve for this session where the browser stores nothing', async () => {
    const refused = async () => {
      throw new Error('private window');
    };
    const preferences = new Preferences({ loadSettings: refused, saveSettings: refused });
    await preferences.load();
    expect(preferences.settings.value).toEqual(defaultSettings);
    preferences.change({ theme: 'dark' });
    await settled();
    expect(preferences.settings.value.theme).toBe('dark');
  });
});
