import { describe, expect, test } from 'vitest';
import { Bench, type BenchPorts } from '../../src/app/bench.ts';
import { createPreferences } from '../../src/app/preferences.ts';
import { MicrophoneError, type MicrophoneListeners } from '../../src/capture/microphone.ts';
import { randomFrom } from '../../src/demo/random.ts';
import { roomNoise } from '../../src/demo/room.ts';
import { addTap } from '../../src/demo/tap-synth.ts';
import { appendStep, freshStep } from '../../src/record/edit.ts';
import { type InstrumentRecord, newRecord } from '../../src/record/record.ts';
import { SilentError } from '../../src/solver/solver.ts';
import { defaultSettings } from '../../src/storage/settings.ts';
import { records } from '../../src/storage/shelf.ts';
import { removeSounds } from '../../src/storage/sounds.ts';
import { storageMachine } from './storage-machine.ts';

const rateHz = 48_000;
const fit = { method: 'test', modes: [], used: [], setAside: [], scatterKnown: true };
const atIso = '2026-11-25T08:00:00.000Z';

/** Some taps of one hold, two seconds apart, in blocks as the microphone hands them over. */
function blocks(taps: number, seed: number): readonly Float32Array[] {
  const chance = randomFrom(seed);
  const sound = roomNoise((1.5 + 2 * taps) * rateHz, rateHz, 0.0008, chance);
  const modes = [
    { frequencyHz: 98, q: 35, level: 0.12 },
    { frequencyHz: 172, q: 45, level: 0.085 },
    { frequencyHz: 236, q: 50, level: 0.06 },
  ];
  for (let tap = 0; tap < taps; tap++)
    addTap(
      sound,
      rateHz,
      modes,
      { onsetS: 1.2 + 2 * tap, contactS: 0.003, strength: 1, spot: [0.5, 0.5], rustle: 0.3 },
      chance,
    );
  return Array.from({ length: Math.floor(sound.length / 2048) }, (_, i) =>
    Float32Array.from(sound.subarray(2048 * i, 2048 * (i + 1))),
  );
}

/** A bench over the real storage, with a microphone and a worker that do what the test says. */
async function benchOn(prefix: string, tapsPerHold = 2) {
  const machine = storageMachine(prefix);
  const { shelf, notices, ports } = machine;
  const microphone = {
    listeners: undefined as MicrophoneListeners | undefined,
    /** left undefined it opens at once */
    opening: undefined as Promise<void> | undefined,
    closed: 0,
  };
  const worker = { run: async (): Promise<unknown> => fit };
  const benchPorts: BenchPorts = {
    ...ports,
    openMicrophone: async (_device, listeners) => {
      microphone.listeners = listeners;
      await Promise.race([
        microphone.opening,
        ...(listeners.signal === undefined
          ? []
          : [
              new Promise((_, reject) =>
                listeners.signal?.addEventListener('abort', () => reject(new MicrophoneError('given-up'))),
              ),
            ]),
        ...(microphone.opening === undefined ? [Promise.resolve()] : []),
      ]);
      return {
        facts: {
          deviceId: 'd',
          label: 'Test',
          sampleRateHz: rateHz,
          echoCancellation: 'off',
          noiseSuppression: 'off',
          autoGainControl: 'off',
        },
        close: async () => {
          microphone.closed++;
        },
      };
    },
    keepAwake: () => () => undefined,
    cue: () => 0,
    isSpeaking: () => false,
    unlockSound: () => undefined,
  };
  const preferences = createPreferences({
    loadSettings: async () => ({ ...defaultSettings, tapsPerHold, holdsPerRound: 1 }),
    saveSettings: async () => undefined,
  });
  await preferences.load();
  const solver = { run: (kind: string) => (kind === 'fit-round' ? worker.run() : null), warmUp: () => undefined };
  const bench = new Bench(benchPorts, shelf, solver as never, preferences, notices, {
    known: { value: undefined } as never,
  });
  const begin = async (name: string): Promise<string> => {
    const record = newRecord({ id: `${prefix}-${name}`, createdAtIso: atIso, name });
    await shelf.put(appendStep(record, freshStep(`${name}-step`, atIso, undefined)));
    return record.id;
  };
  const hear = async (taps: number, seed: number) => {
    for (const block of blocks(taps, seed)) microphone.listeners?.onBlock(block, 0);
    await settled();
  };
  return { ...machine, bench, worker, microphone, begin, hear };
}

const settled = () => new Promise((resolve) => setTimeout(resolve, 30));
const until = (isSo: () => boolean) => expect.poll(isSo, { interval: 5, timeout: 20_000 }).toBe(true);
const storedRound = async (id: string) => {
  const read = await records.loadRecord(id);
  return read?.kind === 'record' ? read.record.steps[0]?.rounds[0] : undefined;
};
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
    await shelf.flush();
    expect((await storedRound(id))?.taps).toHaveLength(3);
    expect(await storedRound(other)).toBeUndefined();
  });
});

describe('another tab erases the record while taps come in', () => {
  test('record and sounds are stored again, the page says so, and nothing is an orphan', async () => {
    const { bench, begin, hear, shelf, notices, ports } = await benchOn('erased', 6);
    const id = await begin('tapped');
    await bench.start({ recordId: id, stepId: 'tapped-step' });
    await hear(2, 15);
    await shelf.flush();
    const before = (await storedRound(id))!.taps.map((tap) => tap.id);
    expect(before).toHaveLength(2);
    await records.removeRecord(id);
    await removeSounds(before, []);
    await hear(3, 16);
    await settled();
    await shelf.flush();
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
    await shelf.flush();
    const read = await records.loadRecord(id);
    if (read?.kind !== 'record') throw new Error('not stored');
    await records.putRecord({ ...read.record, steps: [] }, atIso);
    await hear(2, 18);
    await shelf.flush();
    expect((await storedRound(id))?.taps).toHaveLength(3);
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
