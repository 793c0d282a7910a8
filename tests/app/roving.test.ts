import { describe, expect, test } from 'vitest';
import type { BenchPorts } from '../../src/app/bench.ts';
import type { Spoken } from '../../src/app/ear.ts';
import { Preferences } from '../../src/app/preferences.ts';
import { Roving, type RovingSetting, tapsPerSpot } from '../../src/app/roving.ts';
import { appendStep, freshStep } from '../../src/record/edit.ts';
import { newRecord } from '../../src/record/record.ts';
import { isRoving, rovingRounds, tapsAt } from '../../src/record/roving-edit.ts';
import { defaultSettings } from '../../src/storage/settings.ts';
import { storageMachine } from './storage-machine.ts';
import { StagedMicrophone } from './taps-heard.ts';

const atIso = '2026-11-25T08:00:00.000Z';

/** A roving round of three spots over the real storage, with a microphone that hears what the test says. */
async function rovingOn(prefix: string) {
  const machine = storageMachine(prefix);
  const { shelf, notices, ports } = machine;
  const microphone = new StagedMicrophone();
  const spoken: Spoken[] = [];
  const benchPorts: BenchPorts = {
    ...ports,
    openMicrophone: microphone.open,
    keepAwake: () => () => undefined,
    cue: (_cue, said) => {
      if (said !== undefined) spoken.push(said);
      return 0;
    },
    isSpeaking: () => false,
    unlockSound: () => undefined,
  };
  const preferences = new Preferences({
    loadSettings: async () => defaultSettings,
    saveSettings: async () => undefined,
  });
  await preferences.load();
  const roving = new Roving(benchPorts, shelf, { run: async () => null as never }, preferences, notices);
  const record = appendStep(
    newRecord({ id: `${prefix}-top`, createdAtIso: atIso, name: 'Top' }),
    freshStep(`${prefix}-step`, atIso, undefined),
  );
  await shelf.put(record);
  await shelf.open(record.id);
  const setting: RovingSetting = {
    record,
    step: record.steps[0]!,
    support: { hold: 'in-mould', bridge: 'off', strung: false },
    spots: [
      { xMm: 0, yMm: 0 },
      { xMm: 50, yMm: 0 },
      { xMm: 100, yMm: 0 },
    ],
    modes: [],
  };
  const tappedAt = () => {
    const { value } = roving.state;
    return value.kind === 'tapping' ? value.spot : undefined;
  };
  const stored = () => shelf.record.value!.steps[0]!.rounds.find(isRoving);
  return { roving, setting, microphone, shelf, spoken, tappedAt, stored };
}

const until = (isSo: () => boolean) => expect.poll(isSo, { interval: 5, timeout: 20_000 }).toBe(true);

describe('a round from spot to spot', () => {
  test('goes on by itself after the taps of each spot, and is kept with the spot of each', async () => {
    const { roving, setting, microphone, shelf, spoken, tappedAt, stored } = await rovingOn('roving-on');
    await roving.start(setting);
    expect(tappedAt()).toBe(0);
    await microphone.hear(tapsPerSpot, 1);
    await until(() => tappedAt() === 1);
    await microphone.hear(2 * tapsPerSpot, 2);
    await until(() => roving.state.value.kind === 'idle');
    await until(() => stored()?.state === 'closed');
    const round = stored()!;
    expect([0, 1, 2].map((spot) => tapsAt(round, spot).length)).toEqual([2, 2, 2]);
    expect(spoken).toEqual([1, 2, 3].map((number) => ({ kind: 'spot', number })));
    expect(microphone.closed).toBe(1);
    // One undo takes the whole round back.
    expect(shelf.toUndo.value).toBe('roving-round');
    await shelf.undo();
    expect(stored()).toBeUndefined();
  });

  test('is tapped again, back and over a spot that is left out', async () => {
    const { roving, setting, microphone, tappedAt, stored } = await rovingOn('roving-back');
    await roving.start(setting);
    await microphone.hear(1, 3);
    await until(() => roving.round.value!.taps.length === 1);
    // Half of a spot is tapped anew.
    roving.again();
    expect(tappedAt()).toBe(0);
    expect(tapsAt(roving.round.value!, 0)).toEqual([]);
    await microphone.hear(tapsPerSpot, 4);
    await until(() => tappedAt() === 1);
    await roving.leaveOut();
    expect(tappedAt()).toBe(2);
    roving.back();
    expect(tappedAt()).toBe(1);
    await roving.leaveOut();
    await microphone.hear(tapsPerSpot, 5);
    // Nobody is asked again for the spot that was left out.
    await until(() => roving.state.value.kind === 'idle');
    await until(() => stored()?.state === 'closed');
    expect([0, 1, 2].map((spot) => tapsAt(stored()!, spot).length)).toEqual([2, 0, 2]);
    expect(stored()!.taps).toHaveLength(5);
  });

  test('that was broken off is gone on with where it stood', async () => {
    const { roving, setting, microphone, shelf, tappedAt, stored } = await rovingOn('roving-resume');
    await roving.start(setting);
    await microphone.hear(tapsPerSpot, 6);
    await until(() => tappedAt() === 1);
    await roving.finish();
    await until(() => stored()?.state === 'closed');
    const now = shelf.record.value!;
    await roving.resume({ ...setting, record: now, step: now.steps[0]! }, rovingRounds(now.steps[0]!)[0]!);
    expect(tappedAt()).toBe(1);
    await microphone.hear(2 * tapsPerSpot, 7);
    await until(() => roving.state.value.kind === 'idle');
    await until(() => stored()?.taps.length === 6);
    expect(shelf.record.value!.steps[0]!.rounds).toHaveLength(1);
  });

  test('comes from a recording too, two taps a spot, and what is over is left out', async () => {
    const { roving, setting, microphone, stored } = await rovingOn('roving-file');
    const tap = { samples: new Float32Array(100), sampleRateHz: 48_000, onsetIndex: 10 };
    await roving.takeRecordings(
      setting,
      'round.wav',
      Array.from({ length: 7 }, () => ({ tap, aboveRoomDb: 30 })),
    );
    await until(() => stored()?.state === 'closed');
    expect(stored()!.taps.map(({ rovingSpot }) => rovingSpot)).toEqual([0, 0, 1, 1, 2, 2, 2]);
    expect(
      stored()!
        .taps.map(({ leftOut }) => leftOut === true)
        .lastIndexOf(true),
    ).toBe(6);
    expect(tapsAt(stored()!, 2)).toHaveLength(2);
    expect(stored()!.source).toBe('round.wav');
    expect(microphone.closed).toBe(0);
  });

  test('without a tap leaves no trace', async () => {
    const { roving, setting, stored } = await rovingOn('roving-none');
    await roving.start(setting);
    await roving.finish();
    expect(stored()).toBeUndefined();
    expect(roving.state.value.kind).toBe('idle');
  });
});
