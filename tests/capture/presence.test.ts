import { afterEach, expect, test, vi } from 'vitest';
import { keepAwake, onPresence } from '../../src/capture/presence.ts';

/** A page with a screen that can be kept on, as the Screen Wake Lock API (W3C) has it: hiding the page lets it go. */
function page(state: 'visible' | 'hidden' = 'visible', refusal?: Error) {
  const asked: string[] = [];
  const locks: { released: boolean; release: () => Promise<void> }[] = [];
  const listeners = new Set<() => void>();
  const document = {
    visibilityState: state,
    addEventListener: (kind: string, listener: () => void) => kind === 'visibilitychange' && listeners.add(listener),
    removeEventListener: (kind: string, listener: () => void) =>
      kind === 'visibilitychange' && listeners.delete(listener),
  };
  const request = async (what: string) => {
    asked.push(what);
    if (refusal !== undefined) throw refusal;
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
  return { asked, locks, listeners, show, isHeld: () => locks.some(({ released }) => !released) };
}

/** What fails out of sight while this is done; the runner's own listeners are not asked meanwhile. */
async function failuresOf(editName: () => void): Promise<readonly unknown[]> {
  const failures: unknown[] = [];
  const others = process.listeners('unhandledRejection');
  process.removeAllListeners('unhandledRejection');
  process.on('unhandledRejection', (cause: unknown) => failures.push(cause));
  editName();
  await new Promise((resolve) => setImmediate(resolve));
  process.removeAllListeners('unhandledRejection');
  for (const other of others) process.on('unhandledRejection', other);
  return failures;
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

test('it is the screen that is kept on, and never that of a page nobody sees', async () => {
  const { asked, show, isHeld } = page('hidden');
  keepAwake();
  await Promise.resolve();
  expect(asked).toEqual([]);
  await show('visible');
  expect(asked).toEqual(['screen']);
  expect(isHeld()).toBe(true);
});

test('a browser that refuses, or cannot, is asked again when the page is seen, and nothing breaks', async () => {
  const { asked, show } = page('visible', new DOMException('battery low', 'NotAllowedError'));
  const allowSleep = keepAwake();
  await show('visible');
  expect(asked).toHaveLength(2);
  allowSleep();
  await show('visible');
  expect(asked).toHaveLength(2);
  vi.stubGlobal('navigator', {});
  expect(await failuresOf(() => keepAwake()())).toEqual([]);
});

test('what is no refusal but a fault is not swallowed', async () => {
  const fault = new TypeError('a fault of the program');
  page('visible', fault);
  expect(await failuresOf(() => keepAwake()())).toEqual([fault]);
});

test('whether the page is seen is told at every change, until nobody wants to know', async () => {
  const { show } = page();
  const told: boolean[] = [];
  const stop = onPresence((visible) => told.push(visible));
  await show('hidden');
  await show('visible');
  stop();
  await show('hidden');
  expect(told).toEqual([false, true]);
});
