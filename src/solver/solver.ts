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

/** The worker neither answered nor said how far it was, twice. */
export class SilentError extends Error {
  override readonly name = 'SilentError';
}

/**
 * A worker that says nothing for this long is taken for dead, ms. The longest silences of a worker at work are some seconds,
 * on a phone ten times that; a browser that ends a worker for want of memory tells nobody.
 */
const usualSilenceMs = 90_000;
/** A fresh worker is tried once: what ended the first may have been chance. */
const mostWorkers = 2;

/** A line of workers of one: requests are answered in the order they were made. */
export class Solver {
  private worker: Worker | undefined;
  private last: Promise<unknown> = Promise.resolve();
  private isWarm = false;
  private readonly silenceMs: number;

  /** @param silenceMs how long a worker may say nothing before it is taken for dead, ms */
  constructor(silenceMs: number = usualSilenceMs) {
    this.silenceMs = silenceMs;
  }

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
   * @throws CancelledError where the signal was raised; SilentError where two workers never answered; Error with the worker's
   *         message where the computation failed
   */
  run<K extends WorkKind>(kind: K, ask: Work[K]['ask'], options: RunOptions = {}): Promise<Work[K]['answer']> {
    const next = this.last.then(() => this.one({ kind, ask } as Request, options)) as Promise<Work[K]['answer']>;
    this.last = next.catch(() => undefined);
    return next;
  }

  private async one(request: Request, options: RunOptions): Promise<Work[WorkKind]['answer']> {
    for (let workers = 1; ; workers++) {
      try {
        return await this.once(request, options);
      } catch (cause) {
        if (!(cause instanceof SilentError) || workers === mostWorkers) throw cause;
      }
    }
  }

  private once(request: Request, options: RunOptions): Promise<Work[WorkKind]['answer']> {
    if (options.signal?.aborted) return Promise.reject(new CancelledError('cancelled'));
    const worker = this.ready();
    return new Promise((resolve, reject) => {
      let silence: ReturnType<typeof setTimeout>;
      const finish = (settle: () => void) => {
        clearTimeout(silence);
        options.signal?.removeEventListener('abort', cancel);
        settle();
      };
      const end = (cause: Error) => {
        this.discard();
        finish(() => reject(cause));
      };
      const cancel = () => end(new CancelledError('cancelled'));
      const listen = () => {
        clearTimeout(silence);
        silence = setTimeout(() => end(new SilentError(`${request.kind}: no answer`)), this.silenceMs);
      };
      options.signal?.addEventListener('abort', cancel, { once: true });
      worker.onmessage = (event: MessageEvent<Reply>) => {
        const message = event.data;
        switch (message.kind) {
          case 'progress':
            listen();
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
      worker.onerror = (event) => end(new Error(event.message));
      worker.onmessageerror = () => end(new Error(`${request.kind}: the answer cannot be read`));
      listen();
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
