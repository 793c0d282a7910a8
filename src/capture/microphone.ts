// The microphone: asks for it without any processing, says what it really got, and hands over samples from the audio
// thread. Everything it opens is undone by one close().

import { type BlockMessage, processorName, type ReturnMessage } from '../../worklets/block-message.ts';
import processorUrl from '../../worklets/tap-processor.ts?worker&url';
import { isTapRate } from '../signal/tap.ts';
import { LouderChannel } from './louder-channel.ts';
import { RateCheck, type RateFault } from './rate-check.ts';

/** What the browser did to the sound before we got it; `unknown` where it does not say. */
type Processing = 'off' | 'on' | 'unknown';

export interface MicrophoneFacts {
  readonly deviceId: string;
  readonly label: string;
  readonly sampleRateHz: number;
  readonly echoCancellation: Processing;
  readonly noiseSuppression: Processing;
  readonly autoGainControl: Processing;
}

export interface Microphone {
  readonly facts: MicrophoneFacts;
  close(): Promise<void>;
}

/** What can go wrong while listening. */
export type MicrophoneTrouble = 'unplugged' | 'muted' | 'stalled' | RateFault;
/** Whether nothing more can be heard; otherwise it is heard, and not to be trusted. */
export const endsListening = (trouble: MicrophoneTrouble): boolean =>
  trouble !== 'rate-wrong' && trouble !== 'losing-sound';

/** Why there is no microphone. */
export type MicrophoneRefusal =
  | 'no-microphone'
  | 'permission-refused'
  | 'in-use'
  | 'not-secure'
  | 'rate'
  | 'given-up'
  | 'unknown';

/** What the browser has not answered yet. */
export type MicrophoneWait = 'permission' | 'sound';

export class MicrophoneError extends Error {
  override readonly name = 'MicrophoneError';
  readonly reason: MicrophoneRefusal;
  constructor(reason: MicrophoneRefusal, cause?: unknown) {
    super(`microphone: ${reason}`, { cause });
    this.reason = reason;
  }
}

export interface MicrophoneListeners {
  /** @param missingFrames frames that the audio clock shows were lost before the end of these samples */
  readonly onBlock: (samples: Float32Array, missingFrames: number) => void;
  readonly onTrouble: (trouble: MicrophoneTrouble) => void;
  /** called where opening takes longer than it should: the person may have to answer something */
  readonly onWaiting?: (what: MicrophoneWait) => void;
  /** raised where the person does not want to wait any longer */
  readonly signal?: AbortSignal;
}

/** No block for this long while the page is visible means that the stream has died without saying so. */
const stallMs = 2500;

/** Opening takes a second at most where nobody has to answer anything; after this long it is said what it waits for. */
const waitMs = 3000;

/**
 * Opens the microphone.
 * @param deviceId the remembered device; the browser's own choice where it is gone
 * @throws MicrophoneError where the browser, the person or the machine refuses, or the signal is raised while it opens
 */
export async function openMicrophone(
  deviceId: string | undefined,
  listeners: MicrophoneListeners,
): Promise<Microphone> {
  if (!window.isSecureContext || navigator.mediaDevices === undefined) throw new MicrophoneError('not-secure');
  const stream = await waited('permission', askFor(deviceId), listeners, stop);
  const close: (() => void | Promise<void>)[] = [() => stop(stream)];
  try {
    const track = stream.getAudioTracks()[0];
    if (track === undefined) throw new MicrophoneError('no-microphone');
    // The rate is the context's own: asking for one makes some browsers resample and others refuse.
    const context = new AudioContext();
    close.push(() => context.close());
    await waited('sound', context.resume(), listeners);
    if (!isTapRate(context.sampleRate)) throw new MicrophoneError('rate');
    await waited('sound', context.audioWorklet.addModule(processorUrl), listeners);
    const node = new AudioWorkletNode(context, processorName, { numberOfInputs: 1, numberOfOutputs: 0 });
    const source = new MediaStreamAudioSourceNode(context, { mediaStream: stream });
    close.push(watch(context, track, node, listeners));
    source.connect(node);
    return {
      facts: factsOf(track, context.sampleRate),
      close: async () => {
        source.disconnect();
        for (const undo of close.splice(0).reverse()) await undo();
      },
    };
  } catch (cause) {
    // Not waited for: a sound system that does not start may not stop either.
    for (const undo of close.splice(0).reverse()) void undo();
    throw cause instanceof MicrophoneError ? cause : new MicrophoneError('unknown', cause);
  }
}

function stop(stream: MediaStream): void {
  for (const track of stream.getTracks()) track.stop();
}

/**
 * Waits for the browser, which may never answer: a question nobody saw, a sound system that does not start.
 * @param undo what comes too late is undone
 */
function waited<T>(
  what: MicrophoneWait,
  answer: Promise<T>,
  { onWaiting, signal }: MicrophoneListeners,
  undo: (late: T) => void = () => undefined,
): Promise<T> {
  return new Promise((resolve, reject) => {
    const hint = window.setTimeout(() => onWaiting?.(what), waitMs);
    const done = () => {
      window.clearTimeout(hint);
      signal?.removeEventListener('abort', giveUp);
    };
    const giveUp = () => {
      done();
      // Whether it still comes or is refused, nobody waits for it.
      answer.then(undo, () => undefined);
      reject(new MicrophoneError('given-up'));
    };
    if (signal?.aborted) giveUp();
    else signal?.addEventListener('abort', giveUp);
    answer.then(resolve, reject).finally(done);
  });
}

/** A microphone as the browser lists it; before it was first allowed to listen the names are empty. */
export interface ListedMicrophone {
  readonly deviceId: string;
  readonly label: string;
}

/** The microphones that are plugged in; none where the browser does not tell. */
export async function listMicrophones(): Promise<readonly ListedMicrophone[]> {
  const devices = (await navigator.mediaDevices?.enumerateDevices().catch(() => undefined)) ?? [];
  return devices
    .filter(({ kind, deviceId }) => kind === 'audioinput' && deviceId !== '')
    .map(({ deviceId, label }) => ({ deviceId, label }));
}

/** Calls back when a microphone comes or goes. @returns undoes it */
export function onMicrophonesChanged(changed: () => void): () => void {
  const devices = navigator.mediaDevices;
  devices?.addEventListener('devicechange', changed);
  return () => devices?.removeEventListener('devicechange', changed);
}

async function askFor(deviceId: string | undefined): Promise<MediaStream> {
  const plain = { echoCancellation: false, noiseSuppression: false, autoGainControl: false, voiceIsolation: false };
  try {
    return await navigator.mediaDevices.getUserMedia({
      audio: deviceId === undefined ? plain : { ...plain, deviceId: { ideal: deviceId } },
    });
  } catch (cause) {
    throw new MicrophoneError(reasonOf(cause), cause);
  }
}

function reasonOf(cause: unknown): MicrophoneRefusal {
  const name = cause instanceof DOMException ? cause.name : '';
  if (name === 'NotAllowedError' || name === 'SecurityError') return 'permission-refused';
  if (name === 'NotFoundError' || name === 'OverconstrainedError') return 'no-microphone';
  if (name === 'NotReadableError' || name === 'AbortError') return 'in-use';
  return 'unknown';
}

function factsOf(track: MediaStreamTrack, sampleRateHz: number): MicrophoneFacts {
  const settings = track.getSettings();
  // A browser that does not know a constraint does not report it: that is "unknown", not "off".
  const processing = (value: unknown): Processing => (value === false ? 'off' : value === undefined ? 'unknown' : 'on');
  return {
    deviceId: settings.deviceId ?? '',
    label: track.label,
    sampleRateHz,
    echoCancellation: processing(settings.echoCancellation),
    noiseSuppression: processing(settings.noiseSuppression),
    autoGainControl: processing(settings.autoGainControl),
  };
}

function watch(
  context: AudioContext,
  track: MediaStreamTrack,
  node: AudioWorkletNode,
  listeners: MicrophoneListeners,
): () => void {
  const louder = new LouderChannel();
  const rate = new RateCheck(context.sampleRate);
  let lastBlockMs = performance.now();
  node.port.onmessage = (event: MessageEvent<BlockMessage>) => {
    const { channels } = event.data;
    // Counted before the buffers go back: what was handed over is empty.
    const frames = channels[0]?.length ?? 0;
    lastBlockMs = performance.now();
    listeners.onBlock(louder.choose(channels), event.data.missingFrames);
    const back: ReturnMessage = { kind: 'return', channels };
    node.port.postMessage(
      back,
      channels.map((channel) => channel.buffer),
    );
    const fault = rate.faultAfter(frames, lastBlockMs);
    if (fault !== undefined) listeners.onTrouble(fault);
  };
  const ended = () => listeners.onTrouble('unplugged');
  const muted = () => listeners.onTrouble('muted');
  track.addEventListener('ended', ended);
  track.addEventListener('mute', muted);
  const timer = window.setInterval(() => {
    if (document.visibilityState !== 'visible') {
      // A hidden page may be held back by the browser.
      lastBlockMs = performance.now();
      rate.restart();
    } else if (performance.now() - lastBlockMs > stallMs) {
      listeners.onTrouble('stalled');
    }
  }, 500);
  return () => {
    window.clearInterval(timer);
    node.port.onmessage = null;
    node.disconnect();
    track.removeEventListener('ended', ended);
    track.removeEventListener('mute', muted);
  };
}
