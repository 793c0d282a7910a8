// A newer version of the page is offered, never forced, and never in the middle of a round.
import { type ReadonlySignal, signal } from '@preact/signals';

export class Updates {
  private readonly isReady = signal(false);
  private readonly update: () => Promise<void>;

  /** Registers the worker that makes the page work with no network. @param register of the build's service worker */
  constructor(register: (options: { onNeedRefresh: () => void }) => () => Promise<void>) {
    this.update = register({
      onNeedRefresh: () => {
        this.isReady.value = true;
      },
    });
  }

  /** true once a newer version lies ready */
  get ready(): ReadonlySignal<boolean> {
    return this.isReady;
  }

  /** Takes it: the page starts anew. */
  take(): void {
    void this.update();
  }
}
