// The worker that keeps the page itself, so that it opens with no network: the build writes it, this registers it. It waits
// beside the version at work until it is told to take over.
import { Workbox } from 'workbox-window';

/**
 * Registers the worker of the build, once the page has what it asked for itself.
 * @param given `onNeedRefresh` is called once a newer version lies ready
 * @returns has the newer version take over and the page start anew
 */
export function registerOfflineWorker(given: { readonly onNeedRefresh: () => void }): () => Promise<void> {
  // A page in development has no worker, nor has one from an insecure origin.
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return async () => undefined;
  const worker = new Workbox('./sw.js');
  worker.addEventListener('waiting', given.onNeedRefresh);
  // A browser that refuses (private windows do) leaves the page as it is: at work, and not kept.
  void worker.register().catch(() => undefined);
  return async () => {
    worker.addEventListener('controlling', () => location.reload());
    worker.messageSkipWaiting();
  };
}
