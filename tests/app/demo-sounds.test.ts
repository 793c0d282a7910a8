// The demo's sounds travel with nobody: they are made when they are wanted, and are then what its files hold.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { Checkup } from '../../src/app/checkup.ts';
import { demoTapsOf, openDemo } from '../../src/app/demo.ts';
import { withDemoSounds } from '../../src/app/demo-sounds.ts';
import { Preferences } from '../../src/app/preferences.ts';
import { Rereading } from '../../src/app/rereading.ts';
import { demoTaps } from '../../src/demo/demo-sound.ts';
import type { DemoRound } from '../../src/demo/demo-steps.ts';
import { cutTap, type HeardRound, type TapCut } from '../../src/demo/demo-taps.ts';
import { readWav } from '../../src/files/wav.ts';
import { tapIds } from '../../src/record/archive.ts';
import { defaultSettings } from '../../src/storage/settings.ts';
import { records } from '../../src/storage/shelf.ts';
import { removeSounds } from '../../src/storage/sounds.ts';
import { soundOf, storageMachine } from './storage-machine.ts';

const { keptAside, listSummaries, removeRecord, replaceDamaged } = records;
const folder = path.resolve(import.meta.dirname, '../../reference-audio/demo');
const heard = JSON.parse(readFileSync(path.join(folder, 'heard.json'), 'utf8')) as Record<string, HeardRound>;

/** The worker's part of it, counted. */
function generator() {
  const asked: string[] = [];
  const run = async (_kind: string, ask: { readonly round: DemoRound; readonly cuts: readonly TapCut[] }) => {
    asked.push(ask.round.file);
    return demoTaps(ask.round, ask.cuts);
  };
  return { asked, solver: { run: run as never } };
}

const firstOf = (file: string) => `demo-${file}-1-1`;

describe('the sounds of the demo', () => {
  test('a tap that is wanted is the one in its file, sample for sample; all of its round are stored by then', async () => {
    const { ports } = storageMachine('made');
    const { asked, solver } = generator();
    const getTaps = withDemoSounds(ports, solver);
    await ports.putTaps([['own', soundOf(0.25)]]);
    const [tap, own, unknown] = await getTaps([firstOf('stick-2'), 'own', 'demo-none-1-1']);
    const audio = readWav(readFileSync(path.join(folder, 'stick-2.wav')));
    if (audio.kind !== 'audio') throw new Error(audio.kind);
    const cuts = heard['stick-2']!.taps;
    // A file knows no negative zero.
    expect({ ...tap, samples: tap?.samples.map((x) => x + 0) }).toEqual(
      cutTap(audio.channels[0]!, audio.sampleRateHz, cuts[0]!),
    );
    expect(own).toEqual(soundOf(0.25));
    expect(unknown).toBeUndefined();
    expect((await ports.soundIds()).taps.size).toBe(1 + cuts.length);
    await getTaps([firstOf('stick-2')]);
    expect(asked).toEqual(['stick-2']);
  });

  test('two who want a round at once wait for one making', async () => {
    const { ports } = storageMachine('two');
    const { asked, solver } = generator();
    const getTaps = withDemoSounds({ ...ports, getTaps: async (ids) => ids.map(() => undefined) }, solver);
    const [one, other] = await Promise.all([getTaps([firstOf('stick-4')]), getTaps([firstOf('stick-4')])]);
    expect(one[0]?.samples.length).toBeGreaterThan(0);
    expect(other[0]).toBe(one[0]);
    expect(asked).toEqual(['stick-4']);
  });

  test('where nothing is stored a round is made anew when it is wanted later; own sounds are never made', async () => {
    const asked: string[] = [];
    const solver = {
      run: async (_kind: string, ask: { readonly round: DemoRound; readonly cuts: readonly TapCut[] }) => {
        asked.push(ask.round.file);
        return ask.cuts.map(() => soundOf(0.5));
      },
    };
    const ports = {
      getTaps: async (ids: readonly string[]) => ids.map(() => undefined),
      putTaps: async () => undefined,
    };
    const getTaps = withDemoSounds(ports, solver as never);
    expect(await getTaps(['own', firstOf('stick-2')])).toEqual([undefined, soundOf(0.5)]);
    await getTaps([firstOf('stick-2'), firstOf('stick-4'), firstOf('stick-4')]);
    expect(await getTaps(['own'])).toEqual([undefined]);
    expect(asked).toEqual(['stick-2', 'stick-2', 'stick-4']);
  });

  test('a storage that fails otherwise than for want of room is no reason to be silent', async () => {
    const fault = new TypeError('ours');
    const ports = {
      getTaps: async (ids: readonly string[]) => ids.map(() => undefined),
      putTaps: async () => {
        throw fault;
      },
    };
    const solver = {
      run: async (_kind: string, { cuts }: { readonly cuts: readonly TapCut[] }) => cuts.map(() => soundOf(0.5)),
    };
    await expect(withDemoSounds(ports, solver as never)([firstOf('stick-2')])).rejects.toBe(fault);
  });

  test('with no room left a tap is made all the same', async () => {
    const { ports, disk } = storageMachine('crowded');
    const getTaps = withDemoSounds(ports, generator().solver);
    disk.putsLeft = 0;
    const [tap] = await getTaps([firstOf('stick-5')]);
    expect(tap?.samples.length).toBeGreaterThan(0);
    expect((await ports.soundIds()).taps.has(firstOf('stick-5'))).toBe(false);
  });

  test('the demo is on the shelf with no sound stored, and the check of everything misses none', async () => {
    const { ports, shelf, notices } = storageMachine('shelf');
    await openDemo({ ...ports, removeRecord }, shelf);
    const record = shelf.record.value!;
    expect(tapIds(record).length).toBeGreaterThan(50);
    const all = { ...ports, keptAside, replaceDamaged, removeSounds };
    const rereading = new Rereading(ports.getTaps, { run: async () => null as never }, shelf);
    const preferences = new Preferences({
      loadSettings: async () => defaultSettings,
      saveSettings: async () => undefined,
    });
    const checkup = new Checkup(all, shelf, rereading, preferences, notices);
    await checkup.check();
    const state = checkup.state.value;
    expect(state.kind === 'checked' && state.findings).toEqual([]);
  });

  test('where there is no room for all of the demo there is none of it', async () => {
    const { ports, shelf, disk } = storageMachine('full');
    for (const { id } of await listSummaries()) await removeRecord(id);
    disk.putsLeft = 2;
    await expect(openDemo({ ...ports, removeRecord }, shelf)).rejects.toThrow('storage: full');
    expect(await listSummaries()).toEqual([]);
    expect(shelf.record.value).toBeUndefined();
  });
});

test('of a file that the demo has not nothing is made, and nobody is asked to', async () => {
  const run = async () => {
    throw new Error('asked');
  };
  expect(await demoTapsOf('none.wav', { run } as never)).toEqual([]);
});
