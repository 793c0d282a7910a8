// The page's side of the worker: one promise a request, progress on the way, and a cancel that takes effect at once
// because it ends the worker.
import type { Reply, Request, Work, WorkKind } from './messages.ts';

export interface RunOptions {
  readonly onProgress?: (fraction: number) => void;
  readonly signal?: AbortSignal;
}

/** A computation was ended by the person. */
export class CancelledError extends Error {
  override readonly name = 'CancelledError';
}

/** A line of workers of one: requests are answered in the order they were made. */
export class Solver {
  private worker: Worker | undefined;
  private last: Promise<unknown> = Promise.resolve();
  private isWarm = false;

  /** Has the worker get ready for readings, once for each worker: a reading will soon be wanted. */
  warmUp(): void {
    if (this.isWarm) return;
    this.isWarm = true;
    void this.run('warm-up', null).catch(() => {
      this.isWarm = false;
    });
  }

  /**
   * Has something computed.
   * @throws CancelledError where the signal was raised; Error with the worker's message where the computation failed
   */
  run<K extends WorkKind>(kind: K, ask: Work[K]['ask'], options: RunOptions = {}): Promise<Work[K]['answer']> {
    const next = this.last.then(() => this.one({ kind, ask } as Request, options)) as Promise<Work[K]['answer']>;
    this.last = next.catch(() => undefined);
    return next;
  }

  private one(request: Request, options: RunOptions): Promise<Work[WorkKind]['answer']> {
    if (options.signal?.aborted) return Promise.reject(new CancelledError('cancelled'));
    const worker = this.ready();
    return new Promise((resolve, reject) => {
      const cancel = () => {
        this.discard();
        reject(new CancelledError('cancelled'));
      };
      const finish = (settle: () => void) => {
        options.signal?.removeEventListener('abort', cancel);
        settle();
      };
      options.signal?.addEventListener('abort', cancel, { once: true });
      worker.onmessage = (event: MessageEvent<Reply>) => {
        const message = event.data;
        switch (message.kind) {
          case 'progress':
            options.onProgress?.(message.fraction);
            break;
          case 'answer':
            finish(() => resolve(message.answer));
            break;
          case 'failed':
            finish(() => reject(new Error(message.message)));
            break;
        }
      };
      worker.onerror = (event) => {
        this.discard();
        finish(() => reject(new Error(event.message)));
      };
      worker.postMessage(request);
    });
  }

  private ready(): Worker {
    this.worker ??= new Worker(new URL('./solver-worker.ts', import.meta.url), { type: 'module' });
    return this.worker;
  }

  private discard(): void {
    this.worker?.terminate();
    this.worker = undefined;
    this.isWarm = false;
  }
}
