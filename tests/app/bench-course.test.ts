// The course of a round second by second, with a listener that hears what the test says; the taps themselves are in
// bench.test.ts.
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { Bench, type BenchPorts } from '../../src/app/bench.ts';
import { Preferences } from '../../src/app/preferences.ts';
import { MicrophoneError } from '../../src/capture/microphone.ts';
import { appendStep, freshStep } from '../../src/record/edit.ts';
import { newRecord } from '../../src/record/record.ts';
import type { Refusal, Tap, TapVerdict } from '../../src/signal/tap.ts';
import { type RunOptions, SilentError } from '../../src/solver/solver.ts';
import { defaultSettings, type Settings } from '../../src/storage/settings.ts';
import { records } from '../../src/storage/shelf.ts';
import { soundOf, storageMachine } from './storage-machine.ts';
import { rateHz, StagedMicrophone } from './taps-heard.ts';

const staged = vi.hoisted(() => ({
  made: [] as unknown[],
  muted: [] as number[],
  missing: [] as number[],
  verdicts: [] as unknown[],
}));
vi.mock('../../src/signal/hear/listener.ts', () => ({
  TapListener: class {
    constructor(...given: unknown[]) {
      staged.made.push(given);
    }
    mute(untilS: number) {
      staged.muted.push(untilS);
    }
    push(_samples: Float32Array, missingFrames: number) {
      staged.missing.push(missingFrames);
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

/** Sounds are kept in memory here, so that nothing is waited for that takes time. */
const settled = () => new Promise((resolve) => setImmediate(resolve));

const atIso = '2026-11-25T08:00:00.000Z';
const fit = { method: 'test', modes: [], used: [], setAside: [], scatterKnown: true };
const fitAt = (frequencyHz: number) => ({
  ...fit,
  modes: [
    {
      frequencyHz: { value: frequencyHz, sigma: 0.1 },
      q: { value: 40, sigma: 1 },
      levelDb: -20,
      amplitudes: [],
      resolution: 'single',
    },
  ],
});
const tapAt = (timeS: number, mark = 0.5): TapVerdict => ({
  kind: 'accepted',
  timeS,
  tap: soundOf(mark),
  aboveRoomDb: 40,
});
const refusedAt = (timeS: number, refusal: Refusal): TapVerdict => ({
  kind: 'refused',
  timeS,
  refusal,
  tap: soundOf(0.1),
});

async function benchOn(prefix: string, more: Partial<Settings> = {}) {
  const machine = storageMachine(prefix);
  const microphone = new StagedMicrophone();
  const cues: unknown[] = [];
  const told = { speaking: false, quietS: 0, unlocked: 0, warm: 0, device: 'none yet' as string | undefined };
  const asked: { readonly ask: { readonly holds: readonly unknown[] }; readonly options: RunOptions | undefined }[] =
    [];
  const worker = { run: async (_options?: RunOptions): Promise<unknown> => fit };
  const sounds = new Map<string, Tap>();
  const ports: BenchPorts = {
    ...machine.ports,
    putTaps: async (taps) => {
      for (const [id, tap] of taps) sounds.set(id, tap);
    },
    getTaps: async (ids) => ids.map((id) => sounds.get(id)),
    openMicrophone: (device, listeners) => {
      told.device = device;
      return microphone.open(device, listeners);
    },
    keepAwake: () => () => undefined,
    cue: (cue, spoken) => {
      cues.push(spoken === undefined ? cue : [cue, spoken]);
      return told.quietS;
    },
    isSpeaking: () => told.speaking,
    unlockSound: () => told.unlocked++,
  };
  const preferences = new Preferences({
    loadSettings: async () => ({ ...defaultSettings, tapsPerHold: 9, holdsPerRound: 1, holdPauseS: 4, ...more }),
    saveSettings: async () => undefined,
  });
  await preferences.load();
  const solver = {
    run: (_kind: string, ask: never, options?: RunOptions) => {
      asked.push({ ask, options });
      return worker.run(options);
    },
    warmUp: () => told.warm++,
  };
  const bench = new Bench(ports, machine.shelf, solver as never, preferences, machine.notices, {
    known: { value: undefined } as never,
  });
  const record = newRecord({ id: `${prefix}-1`, createdAtIso: atIso, name: 'One' });
  await machine.shelf.put(appendStep(record, freshStep('step', atIso, undefined)));
  const home = { recordId: record.id, stepId: 'step' };
  /** A second of sound in which these are heard. */
  const second = async (...verdicts: TapVerdict[]) => {
    staged.verdicts.push(...verdicts);
    microphone.listeners?.onBlock(new Float32Array(rateHz), 3);
    await settled();
  };
  const rounds = () => machine.shelf.record.value!.steps[0]!.rounds;
  return { ...machine, asked, bench, cues, home, microphone, preferences, rounds, second, sounds, told, worker };
}

describe('beginning', () => {
  test('the sound is unlocked in the press, the remembered microphone opened, the worker warmed, the maker’s limits kept', async () => {
    const more = { deviceId: 'd', loudEnoughDb: 20, loudestDb: -3 };
    const { bench, home, rounds, told } = await benchOn('begin', more);
    bench.support.value = { hold: 'in-mould', bridge: 'glued', strung: false };
    bench.spot.value = 'bridge-centre';
    const starting = bench.start(home);
    expect([told.unlocked, bench.state.value]).toEqual([1, { kind: 'opening' }]);
    expect(bench.listening.value).toBe(true);
    await starting;
    expect([told.device, told.warm]).toEqual(['d', 1]);
    expect(staged.made).toEqual([[rateHz, {}, { loudEnoughDb: 20, loudestDb: -3 }]]);
    expect(rounds()).toMatchObject([
      {
        support: { hold: 'in-mould', bridge: 'glued', strung: false },
        spot: 'bridge-centre',
        source: 'Test · 48000 Hz',
        state: 'open',
        taps: [],
        atIso,
      },
    ]);
    expect(rounds()[0]).not.toHaveProperty('roomPoles');
    expect(bench.microphone.value?.label).toBe('Test');
    // A second press changes nothing.
    await bench.start(home);
    expect(rounds()).toHaveLength(1);
  });

  test('before anything was chosen the bench is idle, has heard nothing, and taps go to the lower bout', async () => {
    const { bench } = await benchOn('fresh');
    expect([bench.state.value, bench.heard.value, bench.spot.value]).toEqual([
      { kind: 'idle' },
      [],
      'lower-bout-centre',
    ]);
  });

  test('is for the open record', async () => {
    const { bench, told } = await benchOn('wrong');
    await expect(bench.start({ recordId: 'another', stepId: 'step' })).rejects.toThrow(/start: record another/);
    expect([bench.state.value, told.unlocked]).toEqual([{ kind: 'idle' }, 0]);
  });

  test('a microphone that is refused is said so; a fault of ours comes out; either way the bench is free again', async () => {
    const { bench, home, microphone, notices, rounds } = await benchOn('refused');
    microphone.opening = Promise.reject(new MicrophoneError('permission-refused'));
    await bench.start(home);
    expect(notices.current.value).toEqual({ kind: 'microphone-refused', reason: 'permission-refused' });
    const fault = new TypeError('ours');
    microphone.opening = Promise.reject(fault);
    await expect(bench.start(home)).rejects.toBe(fault);
    expect([bench.state.value, rounds()]).toEqual([{ kind: 'idle' }, []]);
  });

  test('what is waited for is said only while the microphone opens', async () => {
    const { bench, home, microphone } = await benchOn('waits');
    await bench.start(home);
    microphone.listeners?.onWaiting?.('sound');
    expect(bench.state.value.kind).toBe('listening');
  });

  test('a microphone without an id of its own is not remembered, the remembered one is again', async () => {
    const { bench, home, notices, preferences } = await benchOn('same', { deviceId: 'd', deviceLabel: 'Old name' });
    await bench.start(home);
    expect(preferences.settings.value).toMatchObject({ deviceId: 'd', deviceLabel: 'Test' });
    expect(notices.current.value).toBeUndefined();
  });
});

describe('what is heard', () => {
  test('is numbered and shown; taps are counted, and the maker hears which were kept', async () => {
    const { bench, cues, home, rounds, second } = await benchOn('heard');
    await bench.start(home);
    await second();
    expect([bench.level.value, staged.missing]).toEqual(['a level', [3]]);
    await second(tapAt(1.5), refusedAt(1.8, { because: 'clipped' }));
    await second(tapAt(2.5));
    expect(bench.heard.value.map(({ number, kind }) => [number, kind])).toEqual([
      [0, 'accepted'],
      [1, 'refused'],
      [2, 'accepted'],
    ]);
    expect(bench.state.value).toMatchObject({ kind: 'listening', hold: 0, taken: 2 });
    expect(cues).toEqual(['kept', 'refused', 'kept']);
    expect(rounds()[0]!.taps).toMatchObject([
      { hold: 0, sampleRateHz: 48_000, aboveRoomDb: 40, atIso },
      { hold: 0, sampleRateHz: 48_000, aboveRoomDb: 40, atIso },
    ]);
  });

  test('three sounds of late with a part missing are the machine’s fault', async () => {
    const { bench, home, notices, second } = await benchOn('losing');
    await bench.start(home);
    const gap = (timeS: number) => refusedAt(timeS, { because: 'drop-out' });
    await second(gap(0.2), gap(0.5));
    expect(notices.current.value).toBeUndefined();
    await second(gap(1.5));
    expect(notices.current.value).toEqual({ kind: 'microphone-trouble', trouble: 'losing-sound' });
  });

  test('in the time of a cue is not believed, and the listener learns no room from it', async () => {
    const { bench, home, second, told } = await benchOn('cue');
    await bench.start(home);
    told.quietS = 0.5;
    await second(tapAt(0.9));
    told.quietS = 0;
    // The cue began at the end of the first second.
    await second(tapAt(1.49), tapAt(1.5));
    expect(bench.heard.value.map(({ timeS }) => timeS)).toEqual([0.9, 1.5]);
    expect(staged.muted).toEqual([1.5]);
    await second();
    expect(staged.muted).toEqual([1.5]);
  });

  test('while a voice goes on is not believed, nor for three tenths of a second after it', async () => {
    const { bench, home, second, told } = await benchOn('voice');
    await bench.start(home);
    told.speaking = true;
    await second(tapAt(0.5));
    await second(tapAt(1.5));
    told.speaking = false;
    await second(tapAt(2.29), tapAt(2.31));
    expect(bench.heard.value.map(({ timeS }) => timeS)).toEqual([2.31]);
    expect(staged.muted.map((untilS) => Number(untilS.toFixed(6)))).toEqual([1.3, 2.3]);
  });

  test('while the page is hidden is not believed, nor for half a second after it is shown', async () => {
    const { bench, home, notices, second } = await benchOn('hidden');
    await bench.start(home);
    await second();
    bench.presence(false);
    expect(notices.current.value).toEqual({ kind: 'microphone-trouble', trouble: 'hidden' });
    await second(tapAt(1.5));
    bench.presence(true);
    await second(tapAt(2.4), tapAt(2.6));
    expect(bench.heard.value.map(({ timeS }) => timeS)).toEqual([2.6]);
    expect(staged.muted).toEqual([2.5]);
  });
});

describe('holds', () => {
  test('the pause is counted down in whole seconds of the stream, then the next hold begins with none taken', async () => {
    const { bench, cues, home, rounds, second, told } = await benchOn('pause', { tapsPerHold: 1, holdsPerRound: 2 });
    await bench.start(home);
    // A long cue would not lengthen a longer pause.
    told.quietS = 1;
    await second(tapAt(0.5));
    expect(cues).toEqual([['hold-done', { kind: 'pick-up-again' }]]);
    expect(bench.state.value).toMatchObject({ kind: 'between-holds', hold: 1, secondsLeft: 4 });
    expect(bench.listening.value).toBe(true);
    const left: unknown[] = [];
    for (let s = 1; s <= 4; s++) {
      await second(tapAt(s + 0.5));
      const state = bench.state.value;
      left.push(state.kind === 'between-holds' ? state.secondsLeft : state);
    }
    expect(left.slice(0, 3)).toEqual([3, 2, 1]);
    expect(left[3]).toMatchObject({ kind: 'listening', hold: 1, taken: 0 });
    told.quietS = 0;
    await second(tapAt(5.5));
    await vi.waitFor(() => expect(bench.state.value.kind).toBe('answer'));
    expect(rounds()[0]!.taps.map(({ hold }) => hold)).toEqual([0, 1]);
  });

  test('a sentence longer than the pause lengthens it', async () => {
    const { bench, home, second, told } = await benchOn('long', { tapsPerHold: 1, holdsPerRound: 2, holdPauseS: 2 });
    await bench.start(home);
    told.quietS = 3;
    await second(tapAt(0.5));
    await second();
    await second();
    expect(bench.state.value.kind).toBe('between-holds');
    await second();
    expect(bench.state.value.kind).toBe('listening');
  });

  test('all taps of all holds are read together, and only then is the round over', async () => {
    const { asked, bench, home, second, worker, rounds } = await benchOn('full', {
      tapsPerHold: 2,
      holdsPerRound: 2,
      holdPauseS: 2,
    });
    const done = fitAt(98.2);
    worker.run = async (options) => {
      options?.onProgress?.(0.5);
      return done;
    };
    await bench.start(home);
    await second(tapAt(0.2, 0.1), tapAt(0.6, 0.2));
    await second();
    await second();
    await second(tapAt(3.5, 0.3));
    expect(bench.state.value).toMatchObject({ kind: 'listening', hold: 1, taken: 1 });
    expect(bench.provisional.value).toEqual(done);
    await second(tapAt(4.5, 0.4));
    await vi.waitFor(() => expect(bench.state.value.kind).toBe('answer'));
    expect(asked.at(-1)!.ask).toEqual({
      holds: [
        [soundOf(0.1), soundOf(0.2)],
        [soundOf(0.3), soundOf(0.4)],
      ],
      roomPoles: [],
    });
    expect(rounds()[0]).toMatchObject({ state: 'closed', fit: done });
  });
});

describe('reading', () => {
  test('how far it is is shown; the lowest mode is told; the whole round is one edit', async () => {
    const { bench, cues, home, rounds, second, shelf, worker } = await benchOn('reading');
    await bench.start(home);
    await second(tapAt(0.5));
    cues.length = 0;
    let answer: (value: unknown) => void = () => undefined;
    let progress: ((fraction: number) => void) | undefined;
    worker.run = (options) => {
      progress = options?.onProgress;
      return new Promise((resolve) => {
        answer = resolve;
      });
    };
    const finished = bench.finish();
    await settled();
    expect(bench.state.value).toMatchObject({ kind: 'reading', fraction: 0 });
    progress?.(0.25);
    expect(bench.state.value).toMatchObject({ kind: 'reading', fraction: 0.25 });
    // Neither can it be finished twice, nor does another round come to the bench meanwhile.
    await bench.finish();
    expect(bench.state.value.kind).toBe('reading');
    answer(fitAt(98.2));
    await finished;
    expect(cues).toEqual([['round-done', { kind: 'lowest-mode', frequencyHz: 98.2 }]]);
    expect(shelf.toUndo.value).toBe('round');
    await shelf.undo();
    expect(rounds()).toEqual([]);
    await shelf.redo();
    expect(rounds()).toMatchObject([{ state: 'closed', taps: [{}] }]);
  });

  test('a round read again is an edit of its own, which brings the earlier reading back; without a mode nothing is told', async () => {
    const { bench, cues, home, rounds, second, shelf, worker } = await benchOn('second');
    worker.run = async () => fitAt(98.2);
    await bench.start(home);
    await second(tapAt(0.5));
    await bench.finish();
    cues.length = 0;
    worker.run = async () => fit;
    await bench.readAgain({ ...home, roundId: rounds()[0]!.id });
    expect(rounds()[0]!.fit).toEqual(fit);
    expect([cues, shelf.toUndo.value]).toEqual([[], 'reading']);
    await shelf.undo();
    expect(rounds()[0]!.fit).toEqual(fitAt(98.2));
  });

  test('a round that is not in the open record is not read', async () => {
    const { asked, bench, home } = await benchOn('nowhere');
    await bench.readAgain({ ...home, roundId: 'nowhere' });
    await bench.readAgain({ recordId: 'other', stepId: 'step', roundId: 'r' });
    await bench.resume({ ...home, roundId: 'nowhere' });
    expect([asked, bench.state.value]).toEqual([[], { kind: 'idle' }]);
  });

  test('between taps only one reading runs, of what there was when it began, and a failure is told', async () => {
    const { asked, bench, home, notices, second, worker } = await benchOn('provisional');
    const waiting: { readonly answer: (value: unknown) => void; fail(cause: unknown): void }[] = [];
    worker.run = () => new Promise((answer, fail) => waiting.push({ answer, fail }));
    await bench.start(home);
    await second(tapAt(0.5));
    await second(tapAt(1.5));
    expect(asked.map(({ ask }) => ask.holds)).toEqual([[[soundOf(0.5)]]]);
    waiting[0]!.answer(fitAt(98));
    await settled();
    expect(bench.provisional.value).toEqual(fitAt(98));
    await second(tapAt(2.5));
    expect(asked[1]!.ask.holds).toEqual([[soundOf(0.5), soundOf(0.5), soundOf(0.5)]]);
    waiting[1]!.fail(new SilentError('no answer'));
    await settled();
    expect(notices.current.value).toEqual({ kind: 'reading-silent' });
    await second(tapAt(3.5));
    waiting[2]!.fail('no poles');
    await settled();
    expect(notices.current.value).toEqual({ kind: 'fit-failed', message: 'no poles' });
    // What comes when nobody listens any more is not shown.
    await second(tapAt(4.5));
    const finished = bench.finish();
    await settled();
    waiting[3]!.answer(fitAt(200));
    waiting[4]!.answer(fit);
    await finished;
    expect(bench.provisional.value).toEqual(fitAt(98));
    await bench.start(home);
    expect([bench.provisional.value, bench.heard.value]).toEqual([undefined, []]);
  });
});

describe('while a round is at the bench', () => {
  test('no other is taken up, and the maker is told', async () => {
    const { bench, home, notices, rounds, second } = await benchOn('busy');
    await bench.start(home);
    await second(tapAt(0.5));
    const place = { ...home, roundId: rounds()[0]!.id };
    for (const other of [() => bench.readAgain(place), () => bench.resume(place), () => bench.start(home)]) {
      notices.dismiss();
      await other();
      expect(notices.current.value).toEqual({ kind: 'bench-busy' });
    }
    expect(bench.state.value).toMatchObject({ kind: 'listening', taken: 1 });
  });

  test('only what was refused can be kept anyway; it counts in the hold at hand, at the level of nothing', async () => {
    const { bench, home, rounds, second } = await benchOn('anyway');
    await bench.keepAnyway(0);
    await bench.start(home);
    await second(tapAt(0.2), refusedAt(0.6, { because: 'clipped' }));
    await bench.keepAnyway(0);
    await bench.keepAnyway(7);
    expect(rounds()[0]!.taps).toHaveLength(1);
    await bench.keepAnyway(1);
    expect(rounds()[0]!.taps).toMatchObject([{ aboveRoomDb: 40 }, { aboveRoomDb: 0, hold: 0 }]);
    expect(bench.state.value).toMatchObject({ kind: 'listening', taken: 2 });
    expect(bench.heard.value.map((line) => line.keptAnyway)).toEqual([undefined, true]);
  });

  test('trouble that ends listening leaves it to be gone on with, in the hold it was in', async () => {
    const { bench, home, microphone, notices, rounds, second } = await benchOn('resume', {
      tapsPerHold: 2,
      holdsPerRound: 2,
      holdPauseS: 2,
    });
    await bench.start(home);
    await second(tapAt(0.2), tapAt(0.6));
    await second();
    await second();
    await second(tapAt(3.5));
    microphone.listeners?.onTrouble('stalled');
    await settled();
    expect(notices.current.value).toEqual({ kind: 'microphone-trouble', trouble: 'stalled' });
    expect(bench.state.value).toMatchObject({ kind: 'interrupted' });
    expect([bench.listening.value, bench.level.value, microphone.closed]).toEqual([false, undefined, 1]);
    // What comes late is not heard.
    await second(tapAt(4.5));
    staged.verdicts.length = 0;
    expect(rounds()[0]!.taps).toHaveLength(3);
    await bench.resume({ ...home, roundId: rounds()[0]!.id });
    expect(bench.state.value).toMatchObject({ kind: 'listening', hold: 1, taken: 1 });
    // The stream's own clock began anew.
    await second(tapAt(0.5));
    await vi.waitFor(() => expect(bench.state.value.kind).toBe('answer'));
    expect(rounds()[0]!.taps.map(({ hold }) => hold)).toEqual([0, 0, 1, 1]);
  });

  test('another tab erases the record while it is gone on with: the sounds from before are stored again too', async () => {
    const { bench, home, microphone, rounds, second, shelf, sounds } = await benchOn('erased');
    await bench.start(home);
    await second(tapAt(0.2, 0.1), tapAt(0.6, 0.2));
    microphone.listeners?.onTrouble('stalled');
    await settled();
    await bench.resume({ ...home, roundId: rounds()[0]!.id });
    await shelf.flush();
    await records.removeRecord(home.recordId);
    sounds.clear();
    await second(tapAt(0.5, 0.3));
    await shelf.flush();
    await settled();
    const ids = rounds()[0]!.taps.map(({ id }) => id);
    expect(ids.map((id) => sounds.get(id))).toEqual([soundOf(0.1), soundOf(0.2), soundOf(0.3)]);
  });

  test('sounds that are lost are left out when it is gone on with or read again', async () => {
    const { asked, bench, home, microphone, rounds, second, sounds } = await benchOn('lost', {
      tapsPerHold: 1,
      holdsPerRound: 3,
      holdPauseS: 2,
    });
    await bench.start(home);
    await second(tapAt(0.5, 0.1));
    await second();
    await second();
    await second(tapAt(3.5, 0.2));
    microphone.listeners?.onTrouble('stalled');
    await settled();
    const place = { ...home, roundId: rounds()[0]!.id };
    sounds.delete(rounds()[0]!.taps[0]!.id);
    await bench.resume(place);
    expect(bench.state.value).toMatchObject({ kind: 'listening', hold: 1, taken: 1 });
    await bench.finish();
    expect(asked.at(-1)!.ask.holds).toEqual([[], [soundOf(0.2)]]);
    await bench.readAgain(place);
    expect(asked.at(-1)!.ask.holds).toEqual([[], [soundOf(0.2)]]);
  });

  test('a page that is hidden in the pause between holds is told of as well; an idle bench does not mind', async () => {
    const { bench, home, notices, second } = await benchOn('pause-hidden', { tapsPerHold: 1, holdsPerRound: 2 });
    bench.presence(false);
    expect(notices.current.value).toBeUndefined();
    await bench.start(home);
    await second(tapAt(0.5));
    expect(bench.state.value.kind).toBe('between-holds');
    bench.presence(false);
    expect(notices.current.value).toEqual({ kind: 'microphone-trouble', trouble: 'hidden' });
    for (let s = 0; s < 6; s++) await second(tapAt(s + 1.5));
    expect(bench.heard.value).toHaveLength(1);
    bench.presence(true);
    await second();
    expect(bench.state.value).toMatchObject({ kind: 'listening', hold: 1, taken: 0 });
  });

  test('a look elsewhere does not cut the pause short', async () => {
    const { bench, home, second } = await benchOn('look', { tapsPerHold: 1, holdsPerRound: 2, holdPauseS: 6 });
    await bench.start(home);
    await second(tapAt(0.5));
    bench.presence(false);
    await second();
    bench.presence(true);
    await second(tapAt(2.8));
    expect(bench.state.value).toMatchObject({ kind: 'between-holds', secondsLeft: 4 });
    expect(bench.heard.value).toHaveLength(1);
  });

  test('a microphone that hangs can be given up, and another press opens it anew', async () => {
    const { bench, home, microphone, notices } = await benchOn('hangs');
    microphone.opening = new Promise(() => undefined);
    const starting = bench.start(home);
    bench.giveUpOpening();
    await starting;
    expect([bench.state.value, notices.current.value]).toEqual([{ kind: 'idle' }, undefined]);
    microphone.opening = undefined;
    await bench.start(home);
    expect(bench.state.value.kind).toBe('listening');
  });

  test('an idle bench has nothing to finish, and trouble of a microphone that is closed ends nothing', async () => {
    const { asked, bench, home, microphone, second } = await benchOn('idle');
    await bench.finish();
    bench.presence(false);
    await bench.start(home);
    await second(tapAt(0.5));
    await bench.finish();
    const before = asked.length;
    await bench.finish();
    expect([bench.state.value.kind, asked.length, microphone.closed]).toEqual(['answer', before, 1]);
  });
});

describe('taps from recordings', () => {
  test('are read as one round of as many holds, in silence, under the setting given or the one on the bench', async () => {
    const { asked, bench, cues, home, rounds } = await benchOn('files');
    bench.spot.value = 'bridge-centre';
    const tap = (mark: number) => ({ tap: soundOf(mark), aboveRoomDb: 33 });
    await bench.takeRecordings(home, 'a file', [[tap(0.1), tap(0.2)], [tap(0.3)]]);
    expect(asked.map(({ ask }) => ask.holds)).toEqual([[[soundOf(0.1), soundOf(0.2)], [soundOf(0.3)]]]);
    expect(rounds()).toMatchObject([{ source: 'a file', spot: 'bridge-centre', state: 'closed', fit }]);
    expect(rounds()[0]!.taps.map(({ hold, aboveRoomDb }) => [hold, aboveRoomDb])).toEqual([
      [0, 33],
      [0, 33],
      [1, 33],
    ]);
    expect([cues, bench.state.value.kind]).toEqual([[], 'answer']);
    const support = { hold: 'in-mould', bridge: 'glued', strung: false } as const;
    await bench.takeRecordings(home, 'another', [[tap(0.4)]], { support, spot: 'elsewhere' });
    expect(rounds()[1]).toMatchObject({ source: 'another', support, spot: 'elsewhere' });
    await bench.takeRecordings({ ...home, recordId: 'other' }, 'a third', [[tap(0.5)]]);
    expect(rounds()).toHaveLength(2);
  });
});

test('where nothing is known of a record the piece is held at its nodes and tapped on the lower bout', async () => {
  const { bench, shelf } = await benchOn('usual');
  bench.spot.value = 'elsewhere';
  bench.takeUp(shelf.record.value!, 'braced');
  expect([bench.spot.value, bench.support.value.hold]).toEqual(['lower-bout-centre', 'at-node']);
});
