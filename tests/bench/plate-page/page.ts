// Hands questions to the worker, one at a time.
const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });

const ask = (question: unknown): Promise<unknown> =>
  new Promise((resolve) => {
    worker.onmessage = ({ data }) => resolve(data);
    worker.postMessage(question);
  });

Object.assign(window, { ask });
