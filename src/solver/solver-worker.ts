// Runs the long computations away from the page. It holds no state: the page may end it at any moment.
import { fitRound } from '../signal/round.ts';
import { averageSpectrum } from '../signal/spectrum.ts';
import type { Reply, Request, Work, WorkKind } from './messages.ts';

const reply = (message: Reply): void => self.postMessage(message);
const onProgress = (fraction: number): void => reply({ kind: 'progress', fraction });

function solve(request: Request): Work[WorkKind]['answer'] {
  switch (request.kind) {
    case 'fit-round':
      return fitRound(request.ask.holds, { onProgress });
    case 'average-spectrum':
      return averageSpectrum(request.ask.taps);
  }
}

self.onmessage = (event: MessageEvent<Request>) => {
  try {
    reply({ kind: 'answer', answer: solve(event.data) });
  } catch (cause) {
    reply({ kind: 'failed', message: cause instanceof Error ? cause.message : String(cause) });
  }
};
