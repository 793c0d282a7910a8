import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { OtherFormats } from '../../src/app/other-formats.ts';
import { readWav } from '../../src/files/wav.ts';
import { topShapes } from '../../src/forecast/top-shapes.ts';
import { tapIds, writeTexts } from '../../src/record/archive.ts';
import { readCsv } from '../../src/record/csv.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { readUff } from '../../src/record/uff-read.ts';
import { averagePowerSpectrum } from '../../src/signal/average-spectrum.ts';
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

  test('the note beside the tables says what was used: methods, rates, sources and taps, each once', async () => {
    const { formats, record, saved } = await formatsOn('about');
    const fitOf = (method: string, used: number, setAside: number) => ({
      method,
      modes: [],
      used: Array.from({ length: used }, (_, tap) => ({ hold: 0, tap })),
      setAside: Array.from({ length: setAside }, (_, tap) => ({ hold: 0, tap })),
      scatterKnown: false,
    });
    const [first, second] = record.steps[0]!.rounds;
    const rounds = [
      { ...first!, fit: fitOf('method 1', 5, 1), source: 'One' },
      { ...second!, fit: fitOf('method 1', 7, 2), source: 'Two' },
      roundOf('r3', [], { source: 'Two' }),
    ];
    await formats.tables({ ...record, model: 'OM', steps: [{ ...record.steps[0]!, rounds }] });
    const about = JSON.parse(strFromU8(unzipSync(saved[0]!.bytes)['about.json']!));
    expect(about).toEqual({
      program: 'Platewright',
      recordFormat: 'platewright-record/2',
      writtenAtIso: '2026-11-25T08:00:00.000Z',
      record: { id: 'about-1', name: 'One', model: 'OM' },
      methods: ['method 1'],
      sampleRatesHz: [48_000],
      sources: ['One', 'Two'],
      tapsUsed: 12,
      tapsSetAside: 3,
      uncertainty: expect.stringMatching(/1\.96 sigma/),
    });
  });

  test('a record as a universal file: the spectra of all steps, no tap, and the shapes of its plan in metres', async () => {
    const { formats, record, saved, notices } = await formatsOn('whole');
    const twoSteps = { ...record, steps: [...record.steps, { ...record.steps[0]!, id: 't', rounds: [] }] };
    await formats.universalRecord({ ...twoSteps, plan: startPlan('right') });
    expect(saved[0]!.name).toBe('one.uff');
    expect(notices.current.value).toEqual({ kind: 'file-written', what: 'universal' });
    const { datasets, skipped } = readUff(new TextDecoder().decode(saved[0]!.bytes));
    expect(skipped).toEqual([]);
    const functions = datasets.filter(({ kind }) => kind === 'function');
    expect(functions.map((one) => one.kind === 'function' && one.functionType)).toEqual([2, 2]);
    const nodes = datasets.flatMap((one) => (one.kind === 'nodes' ? one.nodes : []));
    // A concert top is half a metre long and a third wide.
    const extent = (pick: (node: (typeof nodes)[number]) => number) =>
      Math.max(...nodes.map(pick)) - Math.min(...nodes.map(pick));
    const sides = [extent(({ x }) => x), extent(({ y }) => y)].toSorted((a, b) => a - b);
    expect(sides[0]).toBeGreaterThan(0.3);
    expect(sides[0]).toBeLessThan(0.42);
    expect(sides[1]).toBeGreaterThan(0.42);
    expect(sides[1]).toBeLessThan(0.55);
    expect(extent(({ z }) => z)).toBe(0);
    expect(datasets.filter(({ kind }) => kind === 'shape')).toHaveLength(2);
  });

  test('spectra alone, without a plan, are something in a file', async () => {
    const { formats, record, notices } = await formatsOn('spectra');
    await formats.universalRecord(record);
    expect(notices.current.value).toEqual({ kind: 'file-written', what: 'universal' });
  });

  test('a plan alone, before anything was tapped, is something in a file', async () => {
    const { formats, record, notices } = await formatsOn('plan');
    await formats.universalRecord({ ...record, steps: [], plan: startPlan('right') });
    expect(notices.current.value).toEqual({ kind: 'file-written', what: 'universal' });
  });

  test('rounds of two rates or without sound have no spectrum; with nothing at all the page says so', async () => {
    const { formats, record, saved, notices, ports } = await formatsOn('none');
    await ports.putTaps([['none-slow', { ...soundOf(0.5), sampleRateHz: 44_100 }]]);
    const rounds = [roundOf('mixed', ['none-a', 'none-slow']), roundOf('lost', ['none-nowhere'])];
    await formats.universalRecord({ ...record, steps: [{ ...record.steps[0]!, rounds }] });
    expect(notices.current.value).toEqual({ kind: 'file-written', what: 'empty' });
    expect(saved).toHaveLength(1);
  });

  test('a sound that is lost leaves the others of its round where they are: each history is its own tap’s', async () => {
    const { formats, record, saved, notices } = await formatsOn('gap');
    const rounds = [roundOf('r', ['gap-lost', 'gap-a', 'gap-nowhere', 'gap-c']), roundOf('q', ['gap-b'])];
    const step = { ...record.steps[0]!, rounds };
    await formats.universalStep({ ...record, steps: [step] }, step);
    expect(notices.current.value).toEqual({ kind: 'file-written', what: 'universal' });
    const { datasets } = readUff(new TextDecoder().decode(saved[0]!.bytes));
    const functions = datasets.flatMap((one) => (one.kind === 'function' ? [one] : []));
    expect(functions.map(({ functionType }) => functionType)).toEqual([1, 1, 2, 1, 2]);
    // Stored with 1, a half and a third of one strength: the second sample tells them apart.
    const marks = functions.filter(({ functionType }) => functionType === 1).map(({ values }) => values[1]);
    expect(marks).toEqual([0.5, expect.closeTo(0.5 / 3, 6), 0.25]);
    const power = averagePowerSpectrum([soundOf(0.5), soundOf(0.5 / 3)]).power;
    for (const [k, value] of functions[2]!.values.entries())
      expect(Math.abs(value - power[k]!)).toBeLessThanOrEqual(5e-6 * power[k]!);
  });

  test('a step all of whose sounds are lost makes a file with nothing in it, and says so', async () => {
    const { formats, record, saved, notices } = await formatsOn('mute');
    const step = { ...record.steps[0]!, rounds: [roundOf('r', ['mute-lost', 'mute-nowhere'])] };
    await formats.universalStep({ ...record, steps: [step] }, step);
    expect(notices.current.value).toEqual({ kind: 'file-written', what: 'empty' });
    const { datasets } = readUff(new TextDecoder().decode(saved[0]!.bytes));
    expect(datasets.filter(({ kind }) => kind === 'function')).toEqual([]);
  });

  test('the second step is named as such', async () => {
    const { formats, record, saved, notices } = await formatsOn('later');
    const second = { ...record.steps[0]!, id: 't' };
    await formats.universalStep({ ...record, steps: [...record.steps, second] }, second);
    expect(saved[0]!.name).toBe('one-step-2.uff');
    expect(notices.current.value).toEqual({ kind: 'file-written', what: 'universal' });
  });

  test('a tap whose sound is gone is said to be, one of another record is none of this', async () => {
    const { formats, record, notices, saved } = await formatsOn('silent');
    const lost = { ...record, steps: [{ ...record.steps[0]!, rounds: [roundOf('r', ['silent-lost'])] }] };
    for (const [of, id] of [
      [lost, 'silent-lost'],
      [lost, 'silent-a'],
    ] as const) {
      notices.dismiss();
      await formats.wav(of, id);
      expect(notices.current.value).toEqual({ kind: 'sound-gone' });
    }
    expect(saved).toEqual([]);
    await formats.wav(record, 'silent-c');
    expect(saved.map(({ name }) => name)).toEqual(['one-tap-silent-c.wav']);
    expect(notices.current.value).toEqual({ kind: 'file-written', what: 'sound' });
    const audio = readWav(saved[0]!.bytes);
    expect(audio.kind === 'audio' && audio.info['INAM']).toBe('One, tap 1');
    expect(JSON.parse((audio.kind === 'audio' && audio.info['ICMT']) || '{}')).toEqual({
      record: 'One',
      stepId: 's',
      roundId: 'r2',
      tapId: 'silent-c',
      spot: 'centre',
      support: { hold: 'at-node', bridge: 'off', strung: false },
      hold: 1,
      aboveRoomDb: 40,
      source: '',
      format: 'platewright-record/2',
    });
  });
});
