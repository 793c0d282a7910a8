// The worker that keeps the page itself, so that it opens with no network: the build writes it, this registers it. It waits
// beside the version at work until it is told to take over.

/**
 * Registers the worker of the build.
 * @param given `onNeedRefresh` is called once a newer version lies ready
 * @returns has the newer version take over and the page start anew
 */
export function registerOfflineWorker(given: { readonly onNeedRefresh: () => void }): () => Promise<void> {
  // A page in development has no worker, nor has one from an insecure origin.
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return async () => undefined;
  const { serviceWorker } = navigator;
  let waiting: ServiceWorker | undefined;
  const offer = (worker: ServiceWorker | null) => {
    // The first worker of all replaces nobody.
    if (worker?.state !== 'installed' || serviceWorker.controller === null) return;
    waiting = worker;
    given.onNeedRefresh();
  };
  const watch = (registration: ServiceWorkerRegistration) => {
    offer(registration.waiting);
    registration.addEventListener('updatefound', () => {
      const worker = registration.installing;
      worker?.addEventListener('statechange', () => offer(worker));
    });
  };
  const register = () =>
    // A browser that refuses (private windows do) leaves the page as it is: at work, and not kept.
    void serviceWorker.register('./sw.js').then(watch, () => undefined);
  // What the page itself asks for comes first.
  if (document.readyState === 'complete') register();
  else window.addEventListener('load', register, { once: true });
  return async () => {
    serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
    waiting?.postMessage({ type: 'SKIP_WAITING' });
  };
}
