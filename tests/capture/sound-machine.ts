// The browser's sound as far as the page uses it, with the rules of its specifications that a mistake would break: Media
// Capture and Streams, Web Audio API 1.1 (both W3C).
import { vi } from 'vitest';

/** How long each answer of the browser takes; left undefined it comes at once. */
interface Answers {
  permission?: Promise<unknown>;
  resume?: Promise<void>;
  module?: Promise<void>;
  close?: Promise<void>;
}

class FakeTrack extends EventTarget {
  readonly label = 'The good one';
  stopped = false;
  settings: Record<string, unknown> = { deviceId: 'good', echoCancellation: false };
  stop(): void {
    this.stopped = true;
  }
  getSettings(): Record<string, unknown> {
    return this.settings;
  }
}

/** A machine with a microphone; `window` and what hangs on it are replaced until the test's globals are put back. */
export function soundMachine(sampleRateHz = 48_000) {
  const answers: Answers = {};
  const track = new FakeTrack();
  const page = { visibilityState: 'visible' };
  const asked: unknown[] = [];
  /** every context that was made */
  const contexts: FakeContext[] = [];
  /** connections between nodes that stand now */
  const wires = new Set<string>();
  const tracks = [track];

  class FakeContext {
    readonly sampleRate = sampleRateHz;
    closed = false;
    readonly processors = new Set<string>();
    readonly audioWorklet = {
      addModule: async (url: string) => {
        await answers.module;
        if (/tap-processor/.test(url)) this.processors.add('tap-processor');
      },
    };
    constructor() {
      contexts.push(this);
    }
    async resume(): Promise<void> {
      await answers.resume;
    }
    async close(): Promise<void> {
      this.closed = true;
      await answers.close;
    }
  }

  class FakeWorkletNode {
    static made: FakeWorkletNode | undefined;
    /** what came back to the audio thread */
    readonly returned: { readonly kind: string; readonly channels: readonly Float32Array[] }[] = [];
    readonly numberOfOutputs: number;
    readonly port = {
      onmessage: null as ((event: { readonly data: unknown }) => void) | null,
      // As the browser does: what is handed over is empty on this side from now on.
      postMessage: (message: never, transfer: readonly Transferable[]) => {
        this.returned.push(structuredClone(message, { transfer: [...transfer] }));
      },
    };
    connected = true;
    constructor(context: FakeContext, name: string, options: { readonly numberOfOutputs?: number } = {}) {
      if (!context.processors.has(name)) throw new DOMException('no such processor', 'InvalidStateError');
      this.numberOfOutputs = options.numberOfOutputs ?? 1;
      FakeWorkletNode.made = this;
    }
    disconnect(): void {
      this.connected = false;
    }
    /** A block as the audio thread sends it. */
    send(channels: readonly Float32Array[], missingFrames = 0): void {
      this.port.onmessage?.({ data: { kind: 'block', firstFrame: 0, missingFrames, channels } });
    }
  }

  class FakeSource {
    private readonly stream: unknown;
    constructor(_context: FakeContext, options: { readonly mediaStream?: unknown } = {}) {
      if (options.mediaStream === undefined) throw new TypeError('no stream');
      this.stream = options.mediaStream;
    }
    connect(to: unknown): void {
      if (this.stream === stream && to === FakeWorkletNode.made) wires.add('microphone to worklet');
    }
    disconnect(): void {
      wires.clear();
    }
  }

  const stream = { getAudioTracks: () => tracks, getTracks: () => [track] };
  const devices = Object.assign(new EventTarget(), {
    getUserMedia: async (wanted: unknown) => {
      asked.push(wanted);
      await answers.permission;
      return stream;
    },
    enumerateDevices: async (): Promise<unknown[]> => [],
  });
  const machine: { mediaDevices: unknown } = { mediaDevices: devices };
  vi.stubGlobal('window', globalThis);
  vi.stubGlobal('isSecureContext', true);
  vi.stubGlobal('document', page);
  vi.stubGlobal('navigator', machine);
  vi.stubGlobal('AudioContext', FakeContext);
  vi.stubGlobal('AudioWorkletNode', FakeWorkletNode);
  vi.stubGlobal('MediaStreamAudioSourceNode', FakeSource);
  const node = (): FakeWorkletNode => {
    if (FakeWorkletNode.made === undefined) throw new Error('no node was made');
    return FakeWorkletNode.made;
  };
  return { answers, asked, contexts, devices, machine, node, page, track, tracks, wires };
}
