// The part of the AudioWorkletGlobalScope that the processor uses (Web Audio API, W3C Recommendation, section 1.32).
declare const sampleRate: number;
declare const currentFrame: number;

interface ProcessorPort {
  onmessage: ((event: { readonly data: unknown }) => void) | null;
  postMessage(message: unknown, transfer?: readonly ArrayBuffer[]): void;
}

declare abstract class AudioWorkletProcessor {
  readonly port: ProcessorPort;
  constructor(options?: unknown);
}

declare function registerProcessor(name: string, processor: new (options: never) => AudioWorkletProcessor): void;
