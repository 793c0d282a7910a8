import { expect, test } from 'vitest';
import { Notices } from '../../src/app/notices.ts';
import { Preferences } from '../../src/app/preferences.ts';
import { Room } from '../../src/app/room.ts';
import type { MicrophoneListeners } from '../../src/capture/microphone.ts';
import { type Random, randomFrom } from '../../src/demo/random.ts';
import { reverberated, roomNoise } from '../../src/demo/room.ts';
import { quantised } from '../../src/demo/tap-synth.ts';
import { roomPoles } from '../../src/signal/tell/room-poles.ts';
import type { Work } from '../../src/solver/messages.ts';
import type { Solver } from '../../src/solver/solver.ts';
import { defaultSettings } from '../../src/storage/settings.ts';

const RATE = 16_000;
const ringing = [
  { frequencyHz: 61, q: 15, level: 0.5 },
  { frequencyHz: 134, q: 24, level: 0.5 },
  { frequencyHz: 271, q: 40, level: 0.5 },
];

/** Three seconds of a room with three resonances in which hands were clapped once after a second. */
function clapped(chance: Random, loudness: number): Float32Array {
  const dry = new Float64Array(3 * RATE);
  for (let n = 0; n < 0.004 * RATE; n++) dry[RATE + n] = chance.normal() * Math.exp(-n / (0.001 * RATE));
  const wet = reverberated(dry, RATE, { modes: ringing, t60S: 0.35, tail: 0.01 }, chance);
  const noise = roomNoise(wet.length, RATE, 0.0001, chance);
  return quantised(wet.map((x, n) => loudness * x + noise[n]!));
}

/** A room with a microphone that hears what the test gives it, and the computation done at once. */
function listening() {
  let listeners: MicrophoneListeners | undefined;
  let open = 0;
  const solver: Pick<Solver, 'run'> = {
    run: async (_kind, ask) => roomPoles((ask as Work['room-poles']['ask']).clap) as never,
  };
  const ports = {
    openMicrophone: async (_device: string | undefined, given: MicrophoneListeners) => {
      listeners = given;
      open++;
      const facts = {
        deviceId: '',
        label: '',
        sampleRateHz: RATE,
        echoCancellation: 'off',
        noiseSuppression: 'off',
        autoGainControl: 'off',
      } as const;
      return { facts, close: async () => void open-- };
    },
    nowIso: () => '2026-11-25T08:00:00.000Z',
  };
  const preferences = new Preferences({
    loadSettings: async () => defaultSettings,
    saveSettings: async () => undefined,
  });
  const room = new Room(ports, solver, preferences, new Notices());
  const hear = async (sound: Float32Array) => {
    for (let at = 0; at < sound.length; at += 512) listeners?.onBlock(sound.subarray(at, at + 512), 0);
    await new Promise((done) => setTimeout(done, 0));
  };
  return { room, hear, isOpen: () => open > 0 };
}

test('one clap tells what the room rings at, and the microphone is closed', async () => {
  const { room, hear, isOpen } = listening();
  await room.listen();
  expect(room.state.value).toEqual({ kind: 'listening', trouble: undefined });
  await hear(clapped(randomFrom(3), 0.6));
  expect([room.state.value.kind, isOpen()]).toEqual(['idle', false]);
  const known = room.known.value!.poles;
  for (const truth of ringing) {
    const near = known.find(
      (pole) => Math.abs(pole.frequencyHz.value - truth.frequencyHz) < 3 * pole.frequencyHz.sigma,
    );
    expect([truth.frequencyHz, near === undefined]).toEqual([truth.frequencyHz, false]);
  }
  room.forget();
  expect(room.known.value).toBeUndefined();
});

test('a clap too quiet to tell anything is asked for again, and waiting can be given up', async () => {
  const { room, hear, isOpen } = listening();
  await room.listen();
  await hear(clapped(randomFrom(4), 0.008));
  expect(room.state.value).toEqual({ kind: 'listening', trouble: 'too-quiet' });
  await room.cancel();
  expect([room.state.value.kind, isOpen(), room.known.value]).toEqual(['idle', false, undefined]);
});
