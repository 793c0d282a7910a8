import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { registerOfflineWorker } from '../../src/storage/offline-worker.ts';

const settled = () => new Promise((resolve) => setImmediate(resolve));

/** A page with a service worker beside it, as the specification of service workers (W3C) has it. */
function pageWith(waiting: boolean, refuses = false) {
  const page = { reloads: 0, asked: [] as string[], told: [] as unknown[] };
  const worker = (url: string) =>
    Object.assign(new EventTarget(), {
      scriptURL: url,
      state: 'installed',
      postMessage: (message: unknown) => {
        page.told.push(message);
      },
    });
  const ready = waiting ? worker('https://page.test/folder/sw.js') : null;
  const registration = Object.assign(new EventTarget(), { waiting: ready, installing: null, active: null });
  const container = Object.assign(new EventTarget(), {
    controller: null as unknown,
    register: async (url: string) => {
      page.asked.push(url);
      if (refuses) throw new DOMException('private window', 'SecurityError');
      return registration;
    },
  });
  const reload = () => {
    page.reloads++;
  };
  vi.stubGlobal('window', globalThis);
  vi.stubGlobal('self', globalThis);
  vi.stubGlobal('location', { href: 'https://page.test/folder/', pathname: '/folder/', reload });
  vi.stubGlobal('document', { readyState: 'complete', baseURI: 'https://page.test/folder/' });
  vi.stubGlobal('navigator', { serviceWorker: container });
  const takeControl = () => {
    container.controller = ready;
    container.dispatchEvent(new Event('controllerchange'));
  };
  return { page, takeControl };
}

beforeEach(() => {
  vi.stubEnv('PROD', true);
  // What the package says in development.
  for (const kind of ['log', 'warn', 'debug', 'groupCollapsed'] as const)
    vi.spyOn(console, kind).mockImplementation(() => undefined);
});
afterEach(() => {
  vi.unstubAllEnvs();
  vi.unstubAllGlobals();
  vi.restoreAllMocks();
});

describe('the worker that keeps the page', () => {
  test('is registered beside the page; a newer version that lies ready is told', async () => {
    const { page } = pageWith(true);
    let newer = 0;
    registerOfflineWorker({ onNeedRefresh: () => newer++ });
    await settled();
    expect(page.asked).toEqual(['./sw.js']);
    expect(newer).toBe(1);
    expect(page.told).toEqual([]);
  });

  test('with nothing newer nothing is told', async () => {
    pageWith(false);
    let newer = 0;
    registerOfflineWorker({ onNeedRefresh: () => newer++ });
    await settled();
    expect(newer).toBe(0);
  });

  test('takes over when it is told to, and only then does the page start anew', async () => {
    const { page, takeControl } = pageWith(true);
    const take = registerOfflineWorker({ onNeedRefresh: () => undefined });
    await settled();
    // A worker that takes control by itself, on the first visit, must not throw away what is being typed.
    takeControl();
    expect(page.reloads).toBe(0);
    await take();
    expect(page.told).toEqual([{ type: 'SKIP_WAITING' }]);
    expect(page.reloads).toBe(0);
    takeControl();
    expect(page.reloads).toBe(1);
  });

  test('a browser that refuses it leaves the page at work', async () => {
    const { page } = pageWith(false, true);
    const failures: unknown[] = [];
    const fail = (cause: unknown) => failures.push(cause);
    process.on('unhandledRejection', fail);
    registerOfflineWorker({ onNeedRefresh: () => undefined });
    await settled();
    process.off('unhandledRejection', fail);
    expect(page.asked).toHaveLength(1);
    expect(failures).toEqual([]);
  });

  test('a page in development has none, nor has a browser without them; to take a newer version is then no fault', async () => {
    const { page } = pageWith(true);
    vi.stubEnv('PROD', false);
    let newer = 0;
    await registerOfflineWorker({ onNeedRefresh: () => newer++ })();
    vi.stubEnv('PROD', true);
    vi.stubGlobal('navigator', {});
    await registerOfflineWorker({ onNeedRefresh: () => newer++ })();
    await settled();
    expect([page.asked, newer, page.reloads]).toEqual([[], 0, 0]);
  });
});
