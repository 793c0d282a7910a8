import { afterEach, expect, test, vi } from 'vitest';
import { keepAwake } from '../../src/capture/presence.ts';

/** A page with a screen that can be kept on, as the Screen Wake Lock API (W3C) has it: hiding the page lets it go. */
function page() {
  const locks: { released: boolean; release: () => Promise<void> }[] = [];
  const listeners = new Set<() => void>();
  const document = {
    visibilityState: 'visible',
    addEventListener: (_kind: string, listener: () => void) => listeners.add(listener),
    removeEventListener: (_kind: string, listener: () => void) => listeners.delete(listener),
  };
  const request = async () => {
    const lock = {
      released: false,
      release: async () => {
        lock.released = true;
      },
    };
    locks.push(lock);
    return lock;
  };
  vi.stubGlobal('document', document);
  vi.stubGlobal('navigator', { wakeLock: { request } });
  const show = async (state: 'visible' | 'hidden') => {
    document.visibilityState = state;
    if (state === 'hidden') for (const lock of locks) lock.released = true;
    for (const listener of listeners) listener();
    await Promise.resolve();
  };
  return { locks, listeners, show, isHeld: () => locks.some(({ released }) => !released) };
}

afterEach(() => vi.unstubAllGlobals());

test('the screen stays on while the page listens, also after it was hidden once or often', async () => {
  const { isHeld, show } = page();
  const allowSleep = keepAwake();
  await Promise.resolve();
  expect(isHeld()).toBe(true);
  for (let times = 0; times < 3; times++) {
    await show('hidden');
    expect(isHeld()).toBe(false);
    await show('visible');
    expect(isHeld()).toBe(true);
  }
  allowSleep();
  expect(isHeld()).toBe(false);
});

test('once listening is over nothing keeps the screen on, not even a lock that comes late', async () => {
  const { isHeld, show, locks, listeners } = page();
  const allowSleep = keepAwake();
  allowSleep();
  await Promise.resolve();
  await Promise.resolve();
  expect(isHeld()).toBe(false);
  await show('hidden');
  await show('visible');
  expect(locks).toHaveLength(1);
  expect(listeners.size).toBe(0);
});

test('one lock is enough: being seen again while it is held asks for no second one', async () => {
  const { show, locks } = page();
  const allowSleep = keepAwake();
  await Promise.resolve();
  await show('visible');
  expect(locks).toHaveLength(1);
  allowSleep();
});
