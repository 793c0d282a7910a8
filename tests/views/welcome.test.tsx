// @vitest-environment happy-dom
import { signal } from '@preact/signals';
import { act } from 'preact/test-utils';
import { expect, test } from 'vitest';
import { defaultSettings } from '../../src/storage/settings.ts';
import { Welcome } from '../../src/views/bench/welcome.tsx';
import { show } from './shown.tsx';

test.each([
  ['Begin my own', '#/record'],
  ['Look at the example', '#/bench'],
])('a first visit is told what this is; “%s” leads on, and it is not told again', (name, hash) => {
  location.hash = '#/bench';
  const settings = signal(defaultSettings);
  const preferences = {
    settings,
    change: (part: object) => {
      settings.value = { ...settings.value, ...part };
    },
  };
  const page = show(<Welcome />, {}, { preferences });
  expect(page.querySelector('h2')?.textContent).toContain('what the next shaving will do');
  act(() => [...page.querySelectorAll('button')].find(({ textContent }) => textContent === name)!.click());
  expect(settings.value.isWelcomed).toBe(true);
  expect(page.querySelector('h2')).toBeNull();
  expect(location.hash).toBe(hash);
});
