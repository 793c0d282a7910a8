// The course of a clap, with a listener that says what the test says; the sound itself is in room.test.ts.
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { Notices } from '../../src/app/notices.ts';
import { Preferences } from '../../src/app/preferences.ts';
import { Room } from '../../src/app/room.ts';
import { MicrophoneError, type MicrophoneListeners } from '../../src/capture/microphone.ts';
import type { Refusal, TapVerdict } from '../../src/signal/tap.ts';
import { defaultSettings } from '../../src/storage/settings.ts';
import { soundOf } from './storage-machine.ts';
import { settled } from './taps-heard.ts';

const staged = vi.hoisted(() => ({ rates: [] as number[], pushed: [] as unknown[], verdicts: [] as unknown[] }));
vi.mock('../../src/signal/hear/listener.ts', () => ({
  TapListener: class {
    constructor(sampleRateHz: number) {
      staged.rates.push(sampleRateHz);
    }
    push(samples: Float32Array, missingFrames: number) {
      staged.pushed.push([samples.length, missingFrames]);
      return staged.verdicts.splice(0);
    }
    level() {
      return 'a level';
    }
  },
}));
beforeEach(() => {
  for (const list of Object.values(staged)) list.length = 0;
});

const tap = soundOf(0.5);
const accepted: TapVerdict = { kind: 'accepted', timeS: 0, tap, aboveRoomDb: 40 };
const refused = (refusal: Refusal): TapVerdict => ({ kind: 'refused', timeS: 0, refusal, tap });
const poles = [{ frequencyHz: { value: 61, sigma: 1 }, q: { value: 15, sigma: 1 } }];

function roomOn() {
  const asked: unknown[] = [];
  const microphone: { listeners?: MicrophoneListeners; device?: string | undefined; opened: number; closed: number } = {
    opened: 0,
    closed: 0,
  };
  const machine = {
    open: async (): Promise<void> => undefined,
    read: async (): Promise<unknown> => poles,
  };
  const notices = new Notices();
  const preferences = new Preferences({
    loadSettings: async () => ({ ...defaultSettings, deviceId: 'the good one' }),
    saveSettings: async () => undefined,
  });
  const ports = {
    openMicrophone: async (device: string | undefined, listeners: MicrophoneListeners) => {
      Object.assign(microphone, { device, listeners });
      microphone.opened++;
      await machine.open();
      const facts = {
        deviceId: 'the good one',
        label: '',
        sampleRateHz: 44_100,
        echoCancellation: 'off',
        noiseSuppression: 'off',
        autoGainControl: 'off',
      } as const;
      return { facts, close: async () => void microphone.closed++ };
    },
    nowIso: () => '2026-11-25T08:00:00.000Z',
  };
  const solver = {
    run: async (kind: string, ask: unknown) => {
      asked.push([kind, ask]);
      return machine.read();
    },
  };
  const room = new Room(ports, solver as never, preferences, notices);
  const hear = async (...verdicts: TapVerdict[]) => {
    staged.verdicts.push(...verdicts);
    microphone.listeners?.onBlock(new Float32Array(512), 7);
    await settled();
  };
  return { asked, hear, machine, microphone, notices, preferences, room };
}

describe('a clap', () => {
  test('is waited for with the remembered microphone at its own rate, and the level is shown as long', async () => {
    const { hear, microphone, preferences, room } = roomOn();
    await preferences.load();
    expect(room.state.value).toEqual({ kind: 'idle' });
    const listening = room.listen();
    expect(room.state.value).toEqual({ kind: 'opening' });
    await listening;
    await room.listen();
    expect([microphone.opened, microphone.device, staged.rates]).toEqual([1, 'the good one', [44_100]]);
    expect(room.state.value).toEqual({ kind: 'listening', trouble: undefined });
    await hear();
    expect([room.level.value, staged.pushed]).toEqual(['a level', [[512, 7]]]);
    await room.cancel();
    expect([room.level.value, room.state.value, microphone.closed]).toEqual([undefined, { kind: 'idle' }, 1]);
    // What comes late is not heard.
    await hear(accepted);
    expect(staged.pushed).toHaveLength(1);
    expect(room.known.value).toBeUndefined();
    await room.cancel();
    expect(microphone.closed).toBe(1);
  });

  test.each<readonly [Refusal, unknown]>([
    [{ because: 'clipped' }, 'clipped'],
    [{ because: 'too-quiet', aboveRoomDb: 3 }, 'too-quiet'],
    [{ because: 'decay-cut-short' }, 'cut-short'],
    [{ because: 'drop-out' }, 'cut-short'],
    [{ because: 'spliced', afterS: 0.1 }, 'cut-short'],
    [{ because: 'not-a-tap', soundsLike: 'speech' }, 'no-clap'],
    [{ because: 'not-a-tap', soundsLike: 'noise' }, 'no-clap'],
  ])('of which is said %j is asked for again', async (refusal, trouble) => {
    const { asked, hear, microphone, room } = roomOn();
    await room.listen();
    await hear(refused(refusal));
    expect(room.state.value).toEqual({ kind: 'listening', trouble });
    expect([asked, microphone.closed]).toEqual([[], 0]);
    await hear(accepted);
    expect(room.known.value?.poles).toEqual(poles);
  });

  test.each<Refusal>([
    { because: 'not-a-tap', soundsLike: 'clap' },
    { because: 'not-a-tap', soundsLike: 'scrape' },
    { because: 'struck-twice', afterS: 0.1 },
  ])('that is no tap is one all the same: %j', async (refusal) => {
    const { asked, hear, microphone, room } = roomOn();
    await room.listen();
    // Only the first of two that are heard at once is read.
    await hear(refused(refusal), accepted);
    expect(asked).toEqual([['room-poles', { clap: tap }]]);
    expect(room.known.value).toEqual({ atIso: '2026-11-25T08:00:00.000Z', poles });
    expect([room.state.value, microphone.closed]).toEqual([{ kind: 'idle' }, 1]);
  });

  test('while it is read nothing else is listened to; one that cannot be read is said, and what was known stays', async () => {
    const { hear, machine, notices, room } = roomOn();
    await room.listen();
    await hear(accepted);
    const before = room.known.value;
    for (const [thrown, message] of [
      [new RangeError('too short'), 'too short'],
      ['no worker', 'no worker'],
    ] as const) {
      let fail: () => void = () => undefined;
      machine.read = () => new Promise((_, reject) => (fail = () => reject(thrown)));
      await room.listen();
      await hear(accepted);
      expect(room.state.value).toEqual({ kind: 'reading' });
      fail();
      await settled();
      expect(room.state.value).toEqual({ kind: 'idle' });
      expect(notices.current.value).toEqual({ kind: 'fit-failed', message });
      expect(room.known.value).toBe(before);
    }
  });
});

describe('the microphone for it', () => {
  test('where it is refused this is said; where waiting was given up it is not; a fault of ours comes out', async () => {
    const { machine, notices, room } = roomOn();
    machine.open = async () => {
      throw new MicrophoneError('in-use');
    };
    await room.listen();
    expect(notices.current.value).toEqual({ kind: 'microphone-refused', reason: 'in-use' });
    expect(room.state.value).toEqual({ kind: 'idle' });
    notices.dismiss();
    machine.open = async () => {
      throw new MicrophoneError('given-up');
    };
    await room.listen();
    expect(notices.current.value).toBeUndefined();
    const fault = new TypeError('ours');
    machine.open = async () => {
      throw fault;
    };
    await expect(room.listen()).rejects.toBe(fault);
    expect(room.state.value).toEqual({ kind: 'idle' });
  });

  test('can be given up while it opens', async () => {
    const { machine, microphone, room } = roomOn();
    machine.open = () =>
      new Promise((_, reject) =>
        microphone.listeners?.signal?.addEventListener('abort', () => reject(new MicrophoneError('given-up'))),
      );
    const listening = room.listen();
    await room.cancel();
    await listening;
    expect(room.state.value).toEqual({ kind: 'idle' });
    machine.open = async () => undefined;
    await room.listen();
    expect(room.state.value.kind).toBe('listening');
  });

  test('that loses sound is told of and heard on; one that is pulled out ends it', async () => {
    const { microphone, notices, room } = roomOn();
    await room.listen();
    microphone.listeners?.onTrouble('losing-sound');
    expect(notices.current.value).toEqual({ kind: 'microphone-trouble', trouble: 'losing-sound' });
    expect(room.state.value.kind).toBe('listening');
    microphone.listeners?.onTrouble('unplugged');
    await settled();
    expect(notices.current.value).toEqual({ kind: 'microphone-trouble', trouble: 'unplugged' });
    expect([room.state.value, microphone.closed]).toEqual([{ kind: 'idle' }, 1]);
  });
});
