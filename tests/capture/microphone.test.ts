import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import {
  endsListening,
  listMicrophones,
  type MicrophoneError,
  type MicrophoneTrouble,
  type MicrophoneWait,
  onMicrophonesChanged,
  openMicrophone,
} from '../../src/capture/microphone.ts';
import { soundMachine } from './sound-machine.ts';

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const never = new Promise<never>(() => undefined);
const block = (amplitude: number, frames = 2048) => new Float32Array(frames).fill(amplitude);

/** Somebody who opens the microphone, and what is said to them. */
function listener() {
  const heard: { readonly first: number | undefined; readonly missingFrames: number }[] = [];
  const troubles: MicrophoneTrouble[] = [];
  const waits: MicrophoneWait[] = [];
  const wish = new AbortController();
  const listeners = {
    onBlock: (samples: Float32Array, missingFrames: number) => heard.push({ first: samples[0], missingFrames }),
    onTrouble: (trouble: MicrophoneTrouble) => troubles.push(trouble),
    onWaiting: (what: MicrophoneWait) => waits.push(what),
    signal: wish.signal,
  };
  return { heard, troubles, waits, wish, listeners };
}

const refusalOf = (opening: Promise<unknown>): Promise<MicrophoneError> =>
  opening.then(
    () => {
      throw new Error('it opened');
    },
    (cause: MicrophoneError) => cause,
  );

describe('opening', () => {
  test('the sound is asked for as it is, from the remembered device if there is one, and goes to no loudspeaker', async () => {
    const { asked, node, wires } = soundMachine();
    const plain = { echoCancellation: false, noiseSuppression: false, autoGainControl: false, voiceIsolation: false };
    await openMicrophone(undefined, listener().listeners);
    await openMicrophone('good', listener().listeners);
    // A wish and no condition: where the device is gone another one is taken.
    expect(asked).toEqual([{ audio: plain }, { audio: { ...plain, deviceId: { ideal: 'good' } } }]);
    expect([...wires]).toEqual(['microphone to worklet']);
    expect(node().numberOfOutputs).toBe(0);
  });

  test('what was really got is said: a processing that the browser does not name is unknown, not off', async () => {
    const { track } = soundMachine(44_100);
    track.settings = { deviceId: 'good', echoCancellation: 'all', noiseSuppression: false };
    const { facts } = await openMicrophone(undefined, listener().listeners);
    expect(facts).toEqual({
      deviceId: 'good',
      label: 'The good one',
      sampleRateHz: 44_100,
      echoCancellation: 'on',
      noiseSuppression: 'off',
      autoGainControl: 'unknown',
    });
    track.settings = { echoCancellation: false, noiseSuppression: true, autoGainControl: true };
    expect((await openMicrophone(undefined, listener().listeners)).facts).toMatchObject({
      deviceId: '',
      echoCancellation: 'off',
      noiseSuppression: 'on',
      autoGainControl: 'on',
    });
  });

  test.each([8000, 192_000])('a rate of %i Hz can be listened to', async (rateHz) => {
    soundMachine(rateHz);
    expect((await openMicrophone(undefined, listener().listeners)).facts.sampleRateHz).toBe(rateHz);
  });

  test.each([7999, 384_000])('one of %i Hz cannot, and nothing is left open', async (rateHz) => {
    const { track, contexts } = soundMachine(rateHz);
    const refusal = await refusalOf(openMicrophone(undefined, listener().listeners));
    expect(refusal).toMatchObject({ name: 'MicrophoneError', reason: 'rate', message: 'microphone: rate' });
    expect([track.stopped, contexts[0]!.closed]).toEqual([true, true]);
  });

  test.each([
    ['NotAllowedError', 'permission-refused'],
    ['SecurityError', 'permission-refused'],
    ['NotFoundError', 'no-microphone'],
    ['OverconstrainedError', 'no-microphone'],
    ['NotReadableError', 'in-use'],
    ['AbortError', 'in-use'],
    ['TimeoutError', 'unknown'],
  ])('the browser’s %s means %s', async (name, reason) => {
    const { answers, contexts } = soundMachine();
    const cause = new DOMException('', name);
    answers.permission = Promise.reject(cause);
    const refusal = await refusalOf(openMicrophone(undefined, listener().listeners));
    expect(refusal).toMatchObject({ reason, cause });
    expect(contexts).toEqual([]);
  });

  test('what is no answer of the browser is unknown, whatever it calls itself', async () => {
    const { answers } = soundMachine();
    answers.permission = Promise.reject(Object.assign(new Error(), { name: 'NotAllowedError' }));
    expect((await refusalOf(openMicrophone(undefined, listener().listeners))).reason).toBe('unknown');
  });

  test('a page that is not secure has no microphone, nor has a browser without the means', async () => {
    const { asked, machine } = soundMachine();
    vi.stubGlobal('isSecureContext', false);
    expect((await refusalOf(openMicrophone(undefined, listener().listeners))).reason).toBe('not-secure');
    vi.stubGlobal('isSecureContext', true);
    machine.mediaDevices = undefined;
    expect((await refusalOf(openMicrophone(undefined, listener().listeners))).reason).toBe('not-secure');
    expect(asked).toEqual([]);
  });

  test('a stream without sound is let go', async () => {
    const { track, tracks, contexts } = soundMachine();
    tracks.pop();
    expect((await refusalOf(openMicrophone(undefined, listener().listeners))).reason).toBe('no-microphone');
    expect(track.stopped).toBe(true);
    expect(contexts).toEqual([]);
  });

  test('an audio thread that cannot be started leaves nothing open', async () => {
    const { answers, track, contexts } = soundMachine();
    const cause = new DOMException('', 'AbortError');
    answers.module = Promise.reject(cause);
    expect(await refusalOf(openMicrophone(undefined, listener().listeners))).toMatchObject({
      reason: 'unknown',
      cause,
    });
    expect([track.stopped, contexts[0]!.closed]).toEqual([true, true]);
    expect(vi.getTimerCount()).toBe(0);
  });
});

describe('a browser that does not answer', () => {
  test('after three seconds it is said what is waited for; where the answer comes in time nothing is said', async () => {
    const { answers } = soundMachine();
    let allow: () => void = () => undefined;
    answers.permission = new Promise<void>((resolve) => (allow = resolve));
    const { waits, listeners } = listener();
    const opening = openMicrophone(undefined, listeners);
    await vi.advanceTimersByTimeAsync(2900);
    expect(waits).toEqual([]);
    await vi.advanceTimersByTimeAsync(200);
    expect(waits).toEqual(['permission']);
    answers.resume = never;
    allow();
    await vi.advanceTimersByTimeAsync(2900);
    expect(waits).toEqual(['permission']);
    await vi.advanceTimersByTimeAsync(200);
    expect(waits).toEqual(['permission', 'sound']);
    expect(await Promise.race([opening, 'still waiting'])).toBe('still waiting');
  });

  test('a module that is not fetched is sound that is waited for', async () => {
    const { answers } = soundMachine();
    answers.module = never;
    const { waits, listeners } = listener();
    void openMicrophone(undefined, listeners);
    await vi.advanceTimersByTimeAsync(3100);
    expect(waits).toEqual(['sound']);
  });

  test('once it is open nothing is waited for any more', async () => {
    soundMachine();
    const { waits, listeners } = listener();
    await openMicrophone(undefined, listeners);
    await vi.advanceTimersByTimeAsync(10_000);
    expect(waits).toEqual([]);
  });

  test('somebody who is not to be told may wait as well', async () => {
    const { answers } = soundMachine();
    answers.resume = never;
    const { listeners } = listener();
    void openMicrophone(undefined, { onBlock: listeners.onBlock, onTrouble: listeners.onTrouble });
    await vi.advanceTimersByTimeAsync(3100);
    expect(vi.getTimerCount()).toBe(0);
  });

  test('given up: a permission that comes too late is not used, and nothing is said any more', async () => {
    const { answers, track, contexts } = soundMachine();
    let allow: () => void = () => undefined;
    answers.permission = new Promise<void>((resolve) => (allow = resolve));
    const { waits, wish, listeners } = listener();
    const opening = refusalOf(openMicrophone(undefined, listeners));
    wish.abort();
    expect((await opening).reason).toBe('given-up');
    await vi.advanceTimersByTimeAsync(10_000);
    expect(waits).toEqual([]);
    expect(track.stopped).toBe(false);
    allow();
    await vi.advanceTimersByTimeAsync(0);
    expect(track.stopped).toBe(true);
    expect(contexts).toEqual([]);
  });

  test('given up: a refusal that comes too late is nobody’s any more', async () => {
    const { answers } = soundMachine();
    let refuse: (cause: unknown) => void = () => undefined;
    answers.permission = new Promise<void>((_, reject) => (refuse = reject));
    const { wish, listeners } = listener();
    const opening = refusalOf(openMicrophone(undefined, listeners));
    wish.abort();
    refuse(new DOMException('', 'NotAllowedError'));
    await vi.advanceTimersByTimeAsync(0);
    expect((await opening).reason).toBe('given-up');
  });

  test('given up before it began', async () => {
    const { track } = soundMachine();
    const { wish, listeners } = listener();
    wish.abort();
    expect((await refusalOf(openMicrophone(undefined, listeners))).reason).toBe('given-up');
    await vi.advanceTimersByTimeAsync(0);
    expect(track.stopped).toBe(true);
  });

  test('given up while the sound system hangs: the microphone is let go, though the system never closes', async () => {
    const { answers, track, contexts } = soundMachine();
    answers.resume = never;
    answers.close = never;
    const { wish, listeners } = listener();
    const opening = refusalOf(openMicrophone(undefined, listeners));
    await vi.advanceTimersByTimeAsync(1);
    wish.abort();
    expect((await opening).reason).toBe('given-up');
    expect([track.stopped, contexts[0]!.closed]).toEqual([true, true]);
  });

  test('who gives up when it is open gives up nothing', async () => {
    const { track } = soundMachine();
    const { wish, listeners } = listener();
    await openMicrophone(undefined, listeners);
    wish.abort();
    await vi.advanceTimersByTimeAsync(0);
    expect(track.stopped).toBe(false);
  });
});

describe('listening', () => {
  test('the louder channel is handed on with what was lost before it, and the buffers go back to be filled again', async () => {
    const { node } = soundMachine();
    const { heard, listeners } = listener();
    await openMicrophone(undefined, listeners);
    node().send([block(0.01), block(0.5)], 128);
    node().send([block(0.01), block(0.25)]);
    expect(heard).toEqual([
      { first: 0.5, missingFrames: 128 },
      { first: 0.25, missingFrames: 0 },
    ]);
    expect(node().returned.map(({ kind, channels }) => [kind, channels.map(({ length }) => length)])).toEqual([
      ['return', [2048, 2048]],
      ['return', [2048, 2048]],
    ]);
  });

  test('a message without a channel is silence, and no fault', async () => {
    const { node } = soundMachine();
    const { heard, listeners } = listener();
    await openMicrophone(undefined, listeners);
    node().send([], 2048);
    expect(heard).toEqual([{ first: undefined, missingFrames: 2048 }]);
  });

  /** Hears for some seconds what a device sends that gives so many frames a second. */
  async function hear(node: { send(channels: readonly Float32Array[]): void }, seconds: number, trueHz: number) {
    for (let n = 0; n < (seconds * trueHz) / 9600; n++) {
      await vi.advanceTimersByTimeAsync((1000 * 9600) / trueHz);
      node.send([block(0.1, 9600)]);
    }
  }

  test('a device that keeps its rate is in no trouble; one that does not is told, and heard on', async () => {
    const { node } = soundMachine();
    const { heard, troubles, listeners } = listener();
    await openMicrophone(undefined, listeners);
    await hear(node(), 100, 48_000);
    expect(troubles).toEqual([]);
    await hear(node(), 60, 44_100);
    expect(troubles).toEqual(['rate-wrong']);
    const before = heard.length;
    await hear(node(), 1, 44_100);
    expect(heard.length).toBeGreaterThan(before);
  });

  test('the device that is pulled out and the one that is muted are told apart', async () => {
    const { track } = soundMachine();
    const { troubles, listeners } = listener();
    await openMicrophone(undefined, listeners);
    track.dispatchEvent(new Event('mute'));
    track.dispatchEvent(new Event('ended'));
    expect(troubles).toEqual(['muted', 'unplugged']);
  });

  test('two and a half seconds without sound are a stream that has died, unless the page is hidden', async () => {
    const { node, page } = soundMachine();
    const { troubles, listeners } = listener();
    await openMicrophone(undefined, listeners);
    await vi.advanceTimersByTimeAsync(2000);
    node().send([block(0.1)]);
    // A look every half second: at 2.5 s of silence it is not yet more than that.
    await vi.advanceTimersByTimeAsync(2500);
    expect(troubles).toEqual([]);
    await vi.advanceTimersByTimeAsync(500);
    expect(troubles).toEqual(['stalled']);
    page.visibilityState = 'hidden';
    await vi.advanceTimersByTimeAsync(20_000);
    expect(troubles).toEqual(['stalled']);
    page.visibilityState = 'visible';
    await vi.advanceTimersByTimeAsync(2000);
    expect(troubles).toEqual(['stalled']);
    await vi.advanceTimersByTimeAsync(1500);
    expect(troubles).toContain('stalled');
    expect(troubles.length).toBeGreaterThan(1);
  });

  test('sound that the browser held back while the page was hidden is not taken for a wrong rate', async () => {
    const { node, page } = soundMachine();
    const { troubles, listeners } = listener();
    await openMicrophone(undefined, listeners);
    await hear(node(), 20, 48_000);
    page.visibilityState = 'hidden';
    await vi.advanceTimersByTimeAsync(20_000);
    page.visibilityState = 'visible';
    await hear(node(), 60, 48_000);
    expect(troubles).toEqual([]);
  });

  test('troubles that end listening and those that only cast doubt', () => {
    const ending = (['unplugged', 'muted', 'stalled', 'rate-wrong', 'losing-sound'] as const).filter(endsListening);
    expect(ending).toEqual(['unplugged', 'muted', 'stalled']);
  });
});

describe('closing', () => {
  test('undoes everything that was opened, and nothing is said afterwards', async () => {
    const { contexts, node, track, wires } = soundMachine();
    const { heard, troubles, listeners } = listener();
    const { close } = await openMicrophone(undefined, listeners);
    await close();
    expect([track.stopped, contexts[0]!.closed, node().connected, wires.size]).toEqual([true, true, false, 0]);
    expect(vi.getTimerCount()).toBe(0);
    node().send([block(0.1)]);
    track.dispatchEvent(new Event('mute'));
    track.dispatchEvent(new Event('ended'));
    expect(heard).toEqual([]);
    expect(troubles).toEqual([]);
  });

  test('while the sound system takes its time to close, its silence is no trouble, and the microphone is still waited for', async () => {
    const { answers, track } = soundMachine();
    let closed: () => void = () => undefined;
    answers.close = new Promise<void>((resolve) => (closed = resolve));
    const { troubles, listeners } = listener();
    const { close } = await openMicrophone(undefined, listeners);
    const closing = close();
    await vi.advanceTimersByTimeAsync(10_000);
    expect(troubles).toEqual([]);
    expect(await Promise.race([closing, 'still closing'])).toBe('still closing');
    closed();
    await closing;
    expect(track.stopped).toBe(true);
  });
});

describe('the microphones there are', () => {
  test('only microphones with a name of their own are listed, with what the browser calls them', async () => {
    const { devices } = soundMachine();
    devices.enumerateDevices = async () => [
      { kind: 'audioinput', deviceId: 'a', label: 'One', groupId: 'g' },
      { kind: 'audiooutput', deviceId: 'b', label: 'Loudspeaker', groupId: 'g' },
      { kind: 'audioinput', deviceId: '', label: '', groupId: '' },
      { kind: 'audioinput', deviceId: 'c', label: '', groupId: 'h' },
    ];
    expect(await listMicrophones()).toEqual([
      { deviceId: 'a', label: 'One' },
      { deviceId: 'c', label: '' },
    ]);
  });

  test('there are none where the browser does not tell', async () => {
    const { devices, machine } = soundMachine();
    devices.enumerateDevices = async () => {
      throw new DOMException('', 'NotAllowedError');
    };
    expect(await listMicrophones()).toEqual([]);
    machine.mediaDevices = undefined;
    expect(await listMicrophones()).toEqual([]);
    expect(() => onMicrophonesChanged(() => undefined)()).not.toThrow();
  });

  test('one that comes or goes is told until nobody wants to know', () => {
    const { devices } = soundMachine();
    let changes = 0;
    const stop = onMicrophonesChanged(() => changes++);
    devices.dispatchEvent(new Event('devicechange'));
    expect(changes).toBe(1);
    stop();
    devices.dispatchEvent(new Event('devicechange'));
    expect(changes).toBe(1);
  });
});
