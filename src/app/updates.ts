// A newer version of the page is offered, never forced, and never in the middle of a round.
import { type ReadonlySignal, signal } from '@preact/signals';

export interface Updates {
  /** true once a newer version lies ready */
  readonly ready: ReadonlySignal<boolean>;
  /** takes it: the page starts anew */
  take(): void;
}

/** Registers the worker that makes the page work with no network. @param register of the build's service worker */
export function createUpdates(register: (options: { onNeedRefresh: () => void }) => () => Promise<void>): Updates {
  const ready = signal(false);
  const update = register({
    onNeedRefresh: () => {
      ready.value = true;
    },
  });
  return { ready, take: () => void update() };
}
