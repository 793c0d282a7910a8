import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { OtherFormats } from '../../src/app/other-formats.ts';
import { topShapes } from '../../src/forecast/top-shapes.ts';
import { tapIds, writeTexts } from '../../src/record/archive.ts';
import { readCsv } from '../../src/record/csv.ts';
import { readUff } from '../../src/record/uff-read.ts';
import { averagePowerSpectrum } from '../../src/signal/average-spectrum.ts';
import { readWav } from '../../src/signal/wav.ts';
import { recordOf, roundOf } from '../record/small-record.ts';
import { soundOf, storageMachine } from './storage-machine.ts';

/** Answers as the worker does. */
const solver = {
  run: async (kind: string, ask: never) =>
    kind === 'write-texts'
      ? writeTexts((ask as { texts: ReadonlyMap<string, string> }).texts)
      : kind === 'average-power-spectrum'
        ? averagePowerSpectrum((ask as { taps: never }).taps)
        : topShapes((ask as { plate: never }).plate, 2),
};

async function formatsOn(prefix: string) {
  const machine = storageMachine(prefix);
  const record = recordOf(`${prefix}-1`, [
    roundOf('r1', [`${prefix}-a`, `${prefix}-b`]),
    roundOf('r2', [`${prefix}-c`]),
  ]);
  await machine.ports.putTaps(tapIds(record).map((id, i) => [id, soundOf(0.5 / (i + 1))]));
  return { ...machine, record, formats: new OtherFormats(machine.ports, solver as never, machine.notices) };
}

describe('files for other programs', () => {
  test('tables: five CSV files that read back, and a note of how they were made', async () => {
    const { formats, record, saved } = await formatsOn('csv');
    await formats.tables(record);
    const files = unzipSync(saved[0]!.bytes);
    expect(saved[0]!.name).toBe('one-tables.zip');
    expect(Object.keys(files).toSorted()).toEqual([
      'about.json',
      'cuts.csv',
      'modes.csv',
      'moves.csv',
      'steps.csv',
      'wood.csv',
    ]);
    const steps = readCsv(strFromU8(files['steps.csv']!));
    expect(steps.kind === 'table' && steps.rows.map((row) => row.slice(0, 5))).toEqual([
      ['csv-1', 'One', '', '1', 's'],
    ]);
    for (const [name, bytes] of Object.entries(files))
      if (name.endsWith('.csv')) expect(readCsv(strFromU8(bytes)).kind).toBe('table');
    expect(JSON.parse(strFromU8(files['about.json']!))).toMatchObject({
      sampleRatesHz: [48_000],
      recordFormat: 'platewright-record/2',
    });
  });

  test('tables for a spreadsheet have its mark and its separators', async () => {
    const { formats, record, saved } = await formatsOn('sheet');
    await formats.tables(record, ',');
    const bytes = unzipSync(saved[0]!.bytes)['steps.csv']!;
    expect([...bytes.subarray(0, 3)]).toEqual([0xef, 0xbb, 0xbf]);
    expect(strFromU8(bytes).startsWith('record_id;record;model;step;')).toBe(true);
  });

  test('a step as a universal file: each tap as a time history of type 1, each round as an auto spectrum of type 2 in FS^2', async () => {
    const { formats, record, saved } = await formatsOn('step');
    await formats.universalStep(record, record.steps[0]!);
    const { datasets, skipped } = readUff(new TextDecoder().decode(saved[0]!.bytes));
    expect(saved[0]!.name).toBe('one-step-1.uff');
    expect(skipped).toEqual([]);
    const functions = datasets.filter(({ kind }) => kind === 'function');
    expect(functions.map((one) => one.kind === 'function' && one.functionType)).toEqual([1, 1, 2, 1, 2]);
    const spectrum = functions[2];
    if (spectrum?.kind !== 'function') throw new Error('no spectrum');
    expect(spectrum.axes[1]).toMatchObject({ label: 'Microphone', unit: 'FS^2' });
    const power = averagePowerSpectrum([soundOf(0.5), soundOf(0.25)]).power;
    // Six digits a field.
    for (const [k, value] of spectrum.values.entries())
      expect(Math.abs(value - power[k]!)).toBeLessThanOrEqual(5e-6 * power[k]!);
  });

  test('one tap as WAV: samples and rate as heard, and inside it what, when and where', async () => {
    const { formats, record, saved, notices } = await formatsOn('wav');
    await formats.wav(record, 'wav-b');
    const audio = readWav(saved[0]!.bytes);
    if (audio.kind !== 'audio') throw new Error(audio.kind);
    expect(audio.sampleRateHz).toBe(48_000);
    expect(audio.channels).toEqual([soundOf(0.25).samples]);
    expect(audio.cues).toEqual([{ sample: 1, label: 'first contact' }]);
    expect(audio.info).toMatchObject({ INAM: 'One, tap 2', ICRD: '2026-11-25', ISFT: 'Platewright' });
    expect(JSON.parse(audio.info['ICMT']!)).toMatchObject({ tapId: 'wav-b', roundId: 'r1', hold: 1 });
    await formats.wav({ ...record, steps: [] }, 'wav-b');
    expect(notices.current.value).toEqual({ kind: 'sound-gone' });
  });
});
