import { signal } from '@preact/signals';
import { describe, expect, test } from 'vitest';
import { Bench, type BenchPorts } from '../../src/app/bench.ts';
import { Preferences } from '../../src/app/preferences.ts';
import type { KnownRoom } from '../../src/app/room.ts';
import type { Shelf } from '../../src/app/shelf.ts';
import type { Cue } from '../../src/capture/feedback.ts';
import { appendStep, freshStep } from '../../src/record/edit.ts';
import { type InstrumentRecord, newRecord } from '../../src/record/record.ts';
import { type RunOptions, SilentError } from '../../src/solver/solver.ts';
import { defaultSettings, type Settings } from '../../src/storage/settings.ts';
import { records } from '../../src/storage/shelf.ts';
import { removeSounds } from '../../src/storage/sounds.ts';
import { roundOf } from '../record/small-record.ts';
import { storageMachine } from './storage-machine.ts';
import { rateHz, StagedMicrophone, settled } from './taps-heard.ts';

const fit = { method: 'test', modes: [], used: [], setAside: [], scatterKnown: true };
const atIso = '2026-11-25T08:00:00.000Z';

/** A bench over the real storage, with a microphone and a worker that do what the test says. */
async function benchOn(prefix: string, tapsPerHold = 2, more: Partial<Settings> = {}) {
  const machine = storageMachine(prefix);
  const { shelf, notices, ports } = machine;
  const microphone = new StagedMicrophone();
  const awake = { now: 0 };
  const cues: Cue[] = [];
  const voice = { speaking: false, quietS: 0 };
  const worker: { run: (ask: unknown, options?: RunOptions) => Promise<unknown> } = { run: async () => fit };
  const room = signal<KnownRoom | undefined>(undefined);
  const benchPorts: BenchPorts = {
    ...ports,
    openMicrophone: microphone.open,
    keepAwake: () => {
      awake.now++;
      return () => awake.now--;
    },
    cue: (cue) => {
      cues.push(cue);
      return voice.quietS;
    },
    isSpeaking: () => voice.speaking,
    unlockSound: () => undefined,
  };
  const preferences = new Preferences({
    loadSettings: async () => ({ ...defaultSettings, tapsPerHold, holdsPerRound: 1, ...more }),
    saveSettings: async () => undefined,
  });
  await preferences.load();
  const solver = {
    run: (kind: string, ask: unknown, options: RunOptions) => (kind === 'fit-round' ? worker.run(ask, options) : null),
    warmUp: () => undefined,
  };
  const elsewhere = { now: false };
  const bench = new Bench(
    benchPorts,
    shelf,
    solver as never,
    preferences,
    notices,
    { known: room },
    () => elsewhere.now,
  );
  const begin = async (name: string): Promise<string> => {
    const record = newRecord({ id: `${prefix}-${name}`, createdAtIso: atIso, name });
    await shelf.put(appendStep(record, freshStep(`${name}-step`, atIso, undefined)));
    return record.id;
  };
  const hear = (taps: number, seed: number) => microphone.hear(taps, seed);
  return { ...machine, bench, worker, microphone, preferences, awake, cues, voice, room, elsewhere, begin, hear };
}

const until = (isSo: () => boolean) => expect.poll(isSo, { interval: 5, timeout: 20_000 }).toBe(true);
const storedRound = async (id: string) => {
  const read = await records.loadRecord(id);
  return read?.kind === 'record' ? read.record.steps[0]?.rounds[0] : undefined;
};
/** Waits until so many taps of the round are stored, however slow the machine is. */
const untilStored = (shelf: Shelf, id: string, taps: number) =>
  expect
    .poll(
      async () => {
        await shelf.flush();
        return (await storedRound(id))?.taps.length;
      },
      { interval: 5, timeout: 20_000 },
    )
    .toBe(taps);
const steps = (record: InstrumentRecord | undefined) => record?.steps.length;

describe('a round belongs to the record it was begun for', () => {
  test.each([0, 5, 50, 300])(
    'another instrument opened %i ms after the last tap, while the round is read',
    async (waitMs) => {
      const { bench, worker, begin, hear, shelf } = await benchOn(`while-${waitMs}`);
      const other = await begin('other');
      const id = await begin('tapped');
      let answered: (fit: unknown) => void = () => undefined;
      worker.run = () => new Promise((resolve) => (answered = resolve));
      await bench.start({ recordId: id, stepId: 'tapped-step' });
      const heard = hear(2, 11);
      await new Promise((resolve) => setTimeout(resolve, waitMs));
      await shelf.open(other);
      await heard;
      answered(fit);
      await settled();
      answered(fit);
      await settled();
      await shelf.flush();
      expect(await storedRound(id)).toMatchObject({ state: 'closed', fit, taps: [{}, {}] });
      expect(await storedRound(other)).toBeUndefined();
      expect(shelf.record.value?.id).toBe(other);
      expect(bench.state.value).toMatchObject({ kind: 'answer', place: { recordId: id } });
    },
  );

  test('undo takes the round out of its own record, whichever is open', async () => {
    const { bench, begin, hear, shelf } = await benchOn('undo');
    const other = await begin('other');
    const id = await begin('tapped');
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    await hear(2, 12);
    await until(() => bench.state.value.kind === 'answer');
    await shelf.open(other);
    await shelf.undo();
    await shelf.flush();
    expect(await storedRound(id)).toBeUndefined();
    const left = await records.loadRecord(other);
    expect(left?.kind === 'record' && steps(left.record)).toBe(1);
  });

  test('taps go on being stored while another instrument is looked at', async () => {
    const { bench, begin, hear, shelf } = await benchOn('look', 4);
    const other = await begin('other');
    const id = await begin('tapped');
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    await hear(1, 13);
    await shelf.open(other);
    await hear(2, 14);
    await untilStored(shelf, id, 3);
    expect(await storedRound(other)).toBeUndefined();
  });
});

describe('another tab erases the record while taps come in', () => {
  test('record and sounds are stored again, the page says so, and nothing is an orphan', async () => {
    const { bench, begin, hear, shelf, notices, ports } = await benchOn('erased', 6);
    const id = await begin('tapped');
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    await hear(2, 15);
    await untilStored(shelf, id, 2);
    const before = (await storedRound(id))!.taps.map((tap) => tap.id);
    expect(before).toHaveLength(2);
    await records.removeRecord(id);
    await removeSounds(before, []);
    await hear(3, 16);
    await untilStored(shelf, id, 5);
    const ids = (await storedRound(id))!.taps.map((tap) => tap.id);
    expect(ids).toHaveLength(5);
    expect(ids.slice(0, 2)).toEqual(before);
    expect((await ports.getTaps(ids)).map((tap) => tap !== undefined)).toEqual(ids.map(() => true));
    expect(notices.current.value).toEqual({ kind: 'put-back', name: 'tapped' });
    expect(shelf.saving.value).toBe('saved');
  });

  test('only the step was deleted there: it comes back with the round', async () => {
    const { bench, begin, hear, shelf } = await benchOn('step-gone', 6);
    const id = await begin('tapped');
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    await hear(1, 17);
    await untilStored(shelf, id, 1);
    const read = await records.loadRecord(id);
    if (read?.kind !== 'record') throw new Error('not stored');
    await records.putRecord({ ...read.record, steps: [] }, atIso);
    await hear(2, 18);
    await untilStored(shelf, id, 3);
  });
});

describe('what never answers', () => {
  test('a microphone nobody allows can be given up, says what it waits for, and can be asked for again', async () => {
    const { bench, begin, microphone, notices } = await benchOn('never');
    const id = await begin('tapped');
    microphone.opening = new Promise(() => undefined);
    const started = bench.start({ recordId: id, stepId: 'tapped-step' });
    expect(bench.state.value).toEqual({ kind: 'opening' });
    microphone.listeners?.onWaiting?.('permission');
    expect(bench.state.value).toEqual({ kind: 'opening', waitsFor: 'permission' });
    bench.giveUpOpening();
    await started;
    expect(bench.state.value).toEqual({ kind: 'idle' });
    expect(notices.current.value).toBeUndefined();
    microphone.opening = undefined;
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    expect(bench.state.value.kind).toBe('listening');
  });

  test('a worker that stops silently is said so; the taps are stored and can be read', async () => {
    const { bench, begin, hear, worker, notices, shelf } = await benchOn('silent');
    const id = await begin('tapped');
    worker.run = async () => {
      throw new SilentError('fit-round: no answer');
    };
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    await hear(2, 19);
    await until(() => bench.state.value.kind === 'answer');
    await shelf.flush();
    expect(notices.current.value).toEqual({ kind: 'reading-silent' });
    const round = (await storedRound(id))!;
    expect(round).toMatchObject({ state: 'closed', taps: [{}, {}] });
    expect(round.fit).toBeUndefined();
    worker.run = async () => fit;
    await bench.readAgain({ recordId: id, stepId: 'tapped-step', roundId: round.id });
    await shelf.flush();
    expect(await storedRound(id)).toMatchObject({ fit });
  });

  test('while another round has the microphone none is begun, and it is said', async () => {
    const { bench, begin, notices, elsewhere } = await benchOn('elsewhere');
    const id = await begin('tapped');
    elsewhere.now = true;
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    expect(bench.state.value.kind).toBe('idle');
    expect(notices.current.value).toEqual({ kind: 'bench-busy' });
    elsewhere.now = false;
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    expect(bench.state.value.kind).toBe('listening');
  });

  test('a recording dropped in the middle of a round does not take its place', async () => {
    const { bench, begin, notices } = await benchOn('busy');
    const id = await begin('tapped');
    const home = { recordId: id, stepId: 'tapped-step' };
    await bench.start(home);
    const { state } = bench;
    const before = state.value;
    await bench.takeRecordings(home, 'a file', [[]]);
    expect(state.value).toEqual(before);
    expect(notices.current.value).toEqual({ kind: 'bench-busy' });
  });
});

describe('what the browser does not store', () => {
  test('a tap it refused can still be carried out, and is stored with the next one', async () => {
    const { bench, begin, hear, disk, notices, ports, shelf } = await benchOn('unstored', 3);
    const id = await begin('tapped');
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    await shelf.flush();
    disk.putsLeft = 0;
    await hear(1, 21);
    await until(() => notices.current.value?.kind === 'storage');
    await until(() => shelf.record.value?.steps[0]?.rounds[0]?.taps.length === 1);
    expect(notices.current.value).toEqual({ kind: 'storage', reason: 'full' });
    const [refused] = shelf.record.value!.steps[0]!.rounds[0]!.taps;
    const sound = bench.unstored(refused!.id);
    expect(sound?.samples.length).toBeGreaterThan(0.5 * rateHz);
    expect(await ports.getTaps([refused!.id])).toEqual([undefined]);
    disk.putsLeft = Number.POSITIVE_INFINITY;
    await hear(1, 22);
    await untilStored(shelf, id, 2);
    expect(await ports.getTaps([refused!.id])).toEqual([sound]);
    expect(bench.unstored(refused!.id)).toBeUndefined();
    expect((await storedRound(id))?.taps).toHaveLength(2);
  });
});

describe('what is not listened to', () => {
  test('a hidden page takes nothing for a tap and says so; shown again it listens after half a second', async () => {
    const { bench, begin, hear, notices } = await benchOn('hidden', 9);
    const id = await begin('tapped');
    bench.presence(false);
    expect(notices.current.value).toBeUndefined();
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    bench.presence(false);
    expect(notices.current.value).toEqual({ kind: 'microphone-trouble', trouble: 'hidden' });
    await hear(2, 23);
    expect(bench.heard.value).toEqual([]);
    bench.presence(true);
    await hear(2, 24);
    expect(bench.heard.value.map(({ kind }) => kind)).toEqual(['accepted', 'accepted']);
  });

  test('nothing is believed while the page speaks, and for as long as its cue lasts', async () => {
    const { bench, begin, hear, voice } = await benchOn('voice', 9);
    const id = await begin('tapped');
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    voice.speaking = true;
    await hear(2, 25);
    expect(bench.heard.value).toEqual([]);
    voice.speaking = false;
    await hear(1, 26);
    expect(bench.heard.value).toHaveLength(1);
    // The cue of a tap that was kept lasts over the next one, two seconds later, and not over the third.
    voice.quietS = 2;
    await hear(3, 27);
    expect(bench.heard.value.slice(1).map(({ kind }) => kind)).toEqual(['accepted', 'accepted']);
  });
});

describe('holds', () => {
  test('after the taps of a hold the piece is picked up anew: a pause that is counted down, then the next hold', async () => {
    const { bench, begin, hear, cues, shelf } = await benchOn('holds', 1, { holdsPerRound: 2, holdPauseS: 4 });
    const id = await begin('tapped');
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    expect(bench.state.value).toMatchObject({ kind: 'listening', hold: 0, taken: 0 });
    // Two taps: the second falls into the pause.
    await hear(2, 28);
    expect(cues).toEqual(['hold-done']);
    const state = bench.state.value;
    if (state.kind !== 'between-holds') throw new Error(state.kind);
    expect(state.hold).toBe(1);
    // About 2.3 s after the first tap's answer.
    expect(state.secondsLeft).toBeGreaterThan(0);
    expect(state.secondsLeft).toBeLessThan(3);
    await hear(1, 29);
    await until(() => bench.state.value.kind === 'answer');
    await shelf.flush();
    expect((await storedRound(id))?.taps.map(({ hold }) => hold)).toEqual([0, 1]);
  });

  test('holds that are still to come can be left out', async () => {
    const { bench, begin, hear, shelf } = await benchOn('skip', 1, { holdsPerRound: 3, holdPauseS: 4 });
    const id = await begin('tapped');
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    await hear(1, 30);
    await bench.skipHolds();
    await shelf.flush();
    expect(await storedRound(id)).toMatchObject({ state: 'closed', taps: [{ hold: 0 }], fit });
    expect(bench.state.value.kind).toBe('answer');
  });
});

describe('a round begins and ends', () => {
  test('the page stays awake and the microphone open for as long as it listens', async () => {
    const { bench, begin, hear, awake, microphone, preferences } = await benchOn('awake', 1);
    const id = await begin('tapped');
    expect(awake.now).toBe(0);
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    expect(awake.now).toBe(1);
    expect(microphone.closed).toBe(0);
    expect(bench.listening.value).toBe(true);
    // The first microphone used is remembered.
    expect(preferences.settings.value).toMatchObject({ deviceId: 'd', deviceLabel: 'Test' });
    await hear(1, 31);
    await until(() => bench.state.value.kind === 'answer');
    expect([awake.now, microphone.closed]).toEqual([0, 1]);
    expect(bench.listening.value).toBe(false);
    expect(bench.level.value).toBeUndefined();
  });

  test('a step that is not in the record is refused before the microphone is asked for', async () => {
    const { bench, begin, microphone } = await benchOn('no-step', 1);
    const id = await begin('tapped');
    await expect(bench.start({ recordId: id, stepId: 'nowhere' })).rejects.toThrow('start: no such step');
    expect(microphone.listeners).toBeUndefined();
    expect(bench.state.value).toEqual({ kind: 'idle' });
  });

  test('another microphone than the one remembered is named and not remembered', async () => {
    const more = { deviceId: 'other', deviceLabel: 'The good one' };
    const { bench, begin, notices, preferences } = await benchOn('stand-in', 1, more);
    await bench.start({ recordId: await begin('tapped'), stepId: 'tapped-step' });
    expect(notices.current.value).toEqual({ kind: 'other-microphone', wanted: 'The good one', used: 'Test' });
    expect(preferences.settings.value).toMatchObject(more);
  });

  test('a round without a tap leaves no trace', async () => {
    const { bench, begin, microphone, shelf } = await benchOn('none');
    const id = await begin('tapped');
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    await bench.finish();
    await shelf.flush();
    expect(bench.state.value).toEqual({ kind: 'idle' });
    expect(await storedRound(id)).toBeUndefined();
    expect(microphone.closed).toBe(1);
  });

  test('an unplugged microphone breaks the round off; it goes on where it was, with the taps it had', async () => {
    const { bench, begin, hear, microphone, notices, shelf, worker } = await benchOn('unplugged', 3);
    const id = await begin('tapped');
    const asked: { holds: readonly (readonly unknown[])[] }[] = [];
    worker.run = async (ask: unknown) => {
      asked.push(ask as (typeof asked)[number]);
      return fit;
    };
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    await hear(2, 32);
    // Not to be trusted, and heard all the same.
    microphone.listeners?.onTrouble('rate-wrong');
    await settled();
    expect(notices.current.value).toEqual({ kind: 'microphone-trouble', trouble: 'rate-wrong' });
    expect(bench.state.value.kind).toBe('listening');
    microphone.listeners?.onTrouble('unplugged');
    await settled();
    await until(() => bench.state.value.kind === 'interrupted');
    await untilStored(shelf, id, 2);
    const { id: roundId } = (await storedRound(id))!;
    await bench.resume({ recordId: id, stepId: 'tapped-step', roundId });
    expect(bench.state.value).toMatchObject({ kind: 'listening', hold: 0, taken: 2 });
    await hear(1, 33);
    await until(() => bench.state.value.kind === 'answer');
    expect(asked.at(-1)!.holds.map((taps) => taps.length)).toEqual([3]);
    await shelf.flush();
    expect((await storedRound(id))?.taps).toHaveLength(3);
  });

  test('a sound that was refused is taken after all, and a round that is over is read again with it', async () => {
    const { bench, begin, microphone, shelf, worker, hear } = await benchOn('after-all', 2);
    const id = await begin('tapped');
    const asked: { holds: readonly (readonly unknown[])[] }[] = [];
    worker.run = async (ask: unknown) => {
      asked.push(ask as (typeof asked)[number]);
      return fit;
    };
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    await microphone.hear(1, 38, 20);
    expect(bench.heard.value).toMatchObject([{ kind: 'refused', number: 0, refusal: { because: 'clipped' } }]);
    await hear(2, 34);
    await until(() => bench.state.value.kind === 'answer');
    await bench.keepAnyway(0);
    await until(() => bench.state.value.kind === 'answer');
    expect(bench.heard.value[0]).toMatchObject({ kind: 'refused', keptAnyway: true });
    expect(asked.at(-1)!.holds.map((taps) => taps.length)).toEqual([3]);
    // Twice asked for it is taken once.
    await bench.keepAnyway(0);
    await shelf.flush();
    expect((await storedRound(id))?.taps).toHaveLength(3);
  });

  test('a reading that is broken off leaves the taps, and one that fails says why', async () => {
    const { bench, begin, hear, worker, notices, shelf } = await benchOn('broken-off', 1);
    const id = await begin('tapped');
    worker.run = (_, options) =>
      new Promise((_, reject) => options?.signal?.addEventListener('abort', () => reject(new Error('cancelled'))));
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    await hear(1, 35);
    await until(() => bench.state.value.kind === 'reading');
    bench.cancel();
    await until(() => bench.state.value.kind === 'answer');
    await shelf.flush();
    expect(notices.current.value).toBeUndefined();
    const round = (await storedRound(id))!;
    expect(round).toMatchObject({ state: 'closed', taps: [{}] });
    expect(round.fit).toBeUndefined();
    worker.run = async () => {
      throw new Error('no poles');
    };
    await bench.readAgain({ recordId: id, stepId: 'tapped-step', roundId: round.id });
    expect(notices.current.value).toEqual({ kind: 'fit-failed', message: 'no poles' });
  });

  test('a closed round is set aside and taken back in', async () => {
    const { bench, begin, hear, shelf } = await benchOn('aside', 1);
    const id = await begin('tapped');
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    await hear(1, 36);
    await until(() => bench.state.value.kind === 'answer');
    await untilStored(shelf, id, 1);
    const place = { recordId: id, stepId: 'tapped-step', roundId: (await storedRound(id))!.id };
    bench.setAside(place, true);
    await shelf.flush();
    expect((await storedRound(id))?.state).toBe('set-aside');
    bench.setAside(place, false);
    await shelf.flush();
    expect((await storedRound(id))?.state).toBe('closed');
  });

  test('a round notes the room that was clapped for, and is read as if nobody had when the maker says so', async () => {
    const poles = [{ frequencyHz: { value: 60, sigma: 1 }, q: { value: 10, sigma: 1 } }];
    const { bench, begin, hear, shelf, worker, room } = await benchOn('clapped', 1);
    const asked: { roomPoles: readonly unknown[] }[] = [];
    worker.run = async (ask: unknown) => {
      asked.push(ask as (typeof asked)[number]);
      return fit;
    };
    room.value = { atIso, poles } as never;
    const id = await begin('tapped');
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    await hear(1, 37);
    await until(() => bench.state.value.kind === 'answer');
    expect(asked.at(-1)!.roomPoles).toEqual(poles);
    await shelf.flush();
    const place = { recordId: id, stepId: 'tapped-step', roundId: shelf.record.value!.steps[0]!.rounds[0]!.id };
    await bench.readWithoutRoom(place);
    expect(asked.at(-1)!.roomPoles).toEqual([]);
    expect(shelf.record.value!.steps[0]!.rounds[0]!.roomPoles).toBeUndefined();
  });
});

describe('how a piece was last held', () => {
  test('is taken over once for each stage that comes up, and what the maker chose since then stays', async () => {
    const { bench, begin, shelf } = await benchOn('held');
    await begin('tapped');
    const support = { hold: 'in-mould', bridge: 'glued', strung: false } as const;
    const record = shelf.record.value!;
    const step = record.steps[0]!;
    const told = {
      ...record,
      steps: [{ ...step, rounds: [roundOf('r', [], { support, spot: 'bridge-centre', state: 'closed', fit })] }],
    };
    bench.takeUp(told, step.stage);
    expect(bench.support.value).toEqual(support);
    expect(bench.supportKnown.value).toBe(true);
    expect(bench.spot.value).toBe('bridge-centre');
    bench.spot.value = 'elsewhere';
    bench.takeUp(told, step.stage);
    expect(bench.spot.value).toBe('elsewhere');
    bench.takeUp(told, 'closed');
    expect(bench.spot.value).toBe('bridge-centre');
  });
});

describe('a hold that disagreed', () => {
  const disagreeing = { ...fit, disagreement: { apart: 0.02, hold: 0 } };
  type Asked = { readonly holds: readonly (readonly unknown[])[]; readonly countsEveryHold?: boolean };

  async function disagreed(name: string) {
    const all = await benchOn(name);
    const id = await all.begin('tapped');
    const asked: Asked[] = [];
    all.worker.run = async (ask) => {
      asked.push(ask as Asked);
      return disagreeing;
    };
    await all.bench.start({ recordId: id, stepId: 'tapped-step' });
    await all.hear(2, 21);
    await until(() => all.bench.state.value.kind === 'answer');
    const { state } = all.bench;
    const place = state.value.kind === 'answer' ? state.value.place : undefined;
    return { ...all, id, asked, place: place! };
  }

  test('is followed by one hold more of the same round, and the taps of before stay', async () => {
    const { bench, hear, id, asked, place } = await disagreed('one-more');
    const before = (await storedRound(id))!.taps;
    await bench.tapAnotherHold(place);
    expect(bench.state.value).toMatchObject({ kind: 'listening', hold: 1, taken: 0 });
    await hear(2, 22);
    await until(() => bench.state.value.kind === 'answer');
    expect(asked.at(-1)!.holds.map((hold) => hold.length)).toEqual([2, 2]);
    const round = (await storedRound(id))!;
    expect(round.taps.slice(0, 2)).toEqual(before);
    expect(round.taps.map(({ hold }) => hold)).toEqual([0, 0, 1, 1]);
    expect(round.fit?.disagreement).toEqual({ apart: 0.02, hold: 0 });
  });

  test('counts after all where the maker says so, and undo takes that back', async () => {
    const { bench, shelf, id, asked, place } = await disagreed('after-all');
    expect(asked.at(-1)!.countsEveryHold).toBeUndefined();
    await bench.countEveryHold(place);
    expect(asked.at(-1)!.countsEveryHold).toBe(true);
    await shelf.flush();
    expect((await storedRound(id))!.countsEveryHold).toBe(true);
    await shelf.undo();
    await shelf.undo();
    await shelf.flush();
    expect((await storedRound(id))!.countsEveryHold).toBeUndefined();
  });
});
