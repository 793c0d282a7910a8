// Small edits and readings of a record that nothing else asks: how things begin, how a piece is held, and files by their first lines.
import { describe, expect, test } from 'vitest';
import { tapFromWav, tapToWav, writeTexts } from '../../src/record/archive.ts';
import { openZip } from '../../src/record/archive-unzip.ts';
import { appendStep, changeStep, freshStep, pinMode, withField } from '../../src/record/edit.ts';
import { healthOf, mended, textsWithin } from '../../src/record/health.ts';
import { incoming } from '../../src/record/incoming.ts';
import { readIncomingFile } from '../../src/record/incoming-file.ts';
import { newRecord, stages, summarise } from '../../src/record/record.ts';
import { closeRound, removeRound, roundsOf } from '../../src/record/round-edit.ts';
import { holdsAt } from '../../src/record/support.ts';
import { textField } from '../../src/record/uff-field.ts';
import { looksUniversal, recordFromUff } from '../../src/record/uff-incoming.ts';
import { readUff } from '../../src/record/uff-read.ts';
import { recordToUff } from '../../src/record/uff-record.ts';
import { writeUff } from '../../src/record/uff-write.ts';
import { changePiece, freshPiece, nameModeOfPiece, putPiece } from '../../src/record/wood-edit.ts';
import { atIso, recordOf, roundOf, stepOf } from './small-record.ts';
import { zipOf } from './zip-builder.ts';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

describe('how things begin', () => {
  test('a step in the stage of the one before it, with nothing done', () => {
    const plain = { id: 's', atIso, done: '', cuts: [], climate: {}, heard: '', rounds: [] };
    expect(freshStep('s', atIso, undefined)).toEqual({ ...plain, stage: 'thicknessed' });
    const before = { ...stepOf('b', { stage: 'on-rims', done: 'x', massG: 200, climate: { tempC: 20 } }) };
    expect(freshStep('s', atIso, before)).toEqual({ ...plain, stage: 'on-rims' });
    const record = appendStep(recordOf('i', []), freshStep('t', atIso, undefined));
    expect(record.steps.map(({ id }) => id)).toEqual(['s', 't']);
    const told = changeStep(record, 't', (step) => ({ ...step, heard: 'knocky' }));
    expect(told.steps.map(({ heard }) => heard)).toEqual(['', 'knocky']);
  });

  test('a piece with nothing measured, a record with nothing in it, and its line in the list', () => {
    expect(freshPiece('p', 'top', 'A', 'sitka-spruce')).toEqual({
      ...{ id: 'p', kind: 'top', name: 'A', species: 'sitka-spruce', climate: {}, notes: '' },
      ...{ rounds: [], modes: [], caliper: [], deflections: [] },
    });
    const record = newRecord({ id: 'i', createdAtIso: atIso, name: 'One' });
    expect(record).toMatchObject({ kind: 'instrument', model: '', hand: 'right', archived: false, notes: '' });
    expect(summarise({ ...record, steps: [stepOf('a'), stepOf('b', { stage: 'closed' })] }, atIso)).toEqual({
      ...{ id: 'i', kind: 'instrument', name: 'One', model: '', hand: 'right', stage: 'closed', steps: 2 },
      ...{ changedAtIso: atIso, archived: false, deleted: false },
    });
    expect(summarise({ ...record, deletedAtIso: atIso }, atIso)).toMatchObject({
      deleted: true,
      stage: undefined,
      steps: 0,
    });
  });

  test('a name of a mode gives way to a later one of the same mode or frequency of its step, and an empty one takes it back', () => {
    const pin = (id: string, mode: string, frequencyHz: number, stepId = 's') => ({ id, stepId, mode, frequencyHz });
    const record = [pin('a', 'monopole', 180), pin('b', 'long dipole', 240), pin('c', 'monopole', 180, 't')].reduce(
      pinMode,
      recordOf('i', []),
    );
    const ids = (pinned: typeof record) => pinned.pins.map(({ id }) => id);
    expect(ids(record)).toEqual(['a', 'b', 'c']);
    expect(ids(pinMode(record, pin('d', 'monopole', 190)))).toEqual(['b', 'c', 'd']);
    expect(ids(pinMode(record, pin('d', 'twist', 240)))).toEqual(['a', 'c', 'd']);
    expect(ids(pinMode(record, pin('d', '', 180)))).toEqual(['b', 'c']);
  });

  test('a field is set, changed, and gone where it is undefined', () => {
    const given: { a: number; b?: number } = { a: 1 };
    expect(withField(given, 'b', 2)).toEqual({ a: 1, b: 2 });
    expect('b' in withField({ a: 1, b: 2 } as typeof given, 'b', undefined)).toBe(false);
  });

  test('a mode of a piece is named once, and the word can be taken back', () => {
    const hz = (value: number) => ({ frequencyHz: { value, sigma: 1 } });
    const once = nameModeOfPiece(freshPiece('p', 'top', 'A', ''), 'twist', hz(60));
    const twice = nameModeOfPiece(nameModeOfPiece(once, 'long-grain-bending', hz(90)), 'twist', hz(61));
    expect(twice.modes).toEqual([
      { ...hz(90), id: 'long-grain-bending' },
      { ...hz(61), id: 'twist' },
    ]);
    expect(nameModeOfPiece(twice, 'twist', undefined).modes.map(({ id }) => id)).toEqual(['long-grain-bending']);
    const record = putPiece(putPiece(recordOf('i', []), once), freshPiece('q', 'back', 'B', ''));
    expect(changePiece(record, 'q', (piece) => ({ ...piece, name: 'C' })).pieces!.map(({ name }) => name)).toEqual([
      'A',
      'C',
    ]);
    expect(changePiece(recordOf('i', []), 'q', (piece) => piece).pieces).toEqual([]);
  });

  test('a round of a place that is not there is none; closing keeps its fit or has none', () => {
    const record = recordOf('i', [roundOf('r', ['a']), roundOf('q', [])]);
    expect(roundsOf(record, { stepId: 'gone' })).toEqual([]);
    expect(roundsOf(record, { pieceId: 'gone' })).toEqual([]);
    const fit = { method: 'm', modes: [], used: [], setAside: [], scatterKnown: false };
    const place = { stepId: 's', roundId: 'r' };
    expect(closeRound(record, place, fit).steps[0]!.rounds[0]).toMatchObject({ state: 'closed', fit });
    expect('fit' in closeRound(record, place, undefined).steps[0]!.rounds[0]!).toBe(false);
    expect(removeRound(record, place).steps[0]!.rounds.map(({ id }) => id)).toEqual(['q']);
  });
});

test('a plate is held at its nodes, in the mould once it has rims, and a box by its states', () => {
  const plate = ['at-node', 'on-foam', 'in-mould'];
  const box = ['box-open', 'box-hole-blocked', 'box-back-damped'];
  expect(Object.fromEntries(stages.map((stage) => [stage, holdsAt(stage)]))).toEqual({
    ...{ board: plate, joined: plate, thicknessed: plate, braced: plate },
    ...{ 'on-rims': ['in-mould', 'at-node', 'on-foam'], closed: box, strung: box },
  });
});

describe('the health of a record', () => {
  const wanted = { tapsPerHold: 2, holdsPerRound: 2, nowIso: '2026-11-25T21:00:00.000Z' };
  const unread = (round: ReturnType<typeof roundOf>, nowIso = '2026-11-25T09:00:00.000Z') =>
    healthOf(recordOf('i', [round]), { taps: new Set(['a']), photos: new Set() }, { ...wanted, nowIso }).unread
      .length === 1;
  const held = (id: string, hold: number) => ({ ...roundOf('r', [id]).taps[0]!, hold });

  test('an open round is over with all taps of its last hold, or twelve hours after its last tap', () => {
    expect(unread(roundOf('r', [], { taps: [held('a', 0), held('b', 1)] }))).toBe(false);
    expect(unread(roundOf('r', [], { taps: [held('a', 1), held('b', 1)] }))).toBe(true);
    expect(unread(roundOf('r', ['a']), '2026-11-25T20:00:00.000Z')).toBe(false);
    expect(unread(roundOf('r', ['a']), '2026-11-25T20:00:00.001Z')).toBe(true);
    expect(unread(roundOf('r', ['a'], { state: 'closed' }))).toBe(true);
    expect(unread(roundOf('r', ['a'], { state: 'set-aside' }), '2026-11-30T20:00:00.000Z')).toBe(false);
    expect(unread(roundOf('r', ['b'], { state: 'closed' }))).toBe(false);
  });

  test('texts are found wherever they lie', () => {
    expect([...textsWithin({ a: ['x', { b: 'y', c: null, d: 3 }], e: 'x' })].toSorted()).toEqual(['x', 'y']);
    expect([...textsWithin('alone')]).toEqual(['alone']);
    expect([...textsWithin(null)]).toEqual([]);
  });

  test('what may not be missing takes its element with it, a faulty value goes alone, the record stays', () => {
    const sound = recordOf('i', [roundOf('r', ['a', 'b'])]);
    const broken = structuredClone(sound) as unknown as {
      steps: { rounds: { taps: Record<string, unknown>[] }[] }[];
      [key: string]: unknown;
    };
    delete broken.steps[0]!.rounds[0]!.taps[0]!['sampleRateHz'];
    broken['hand'] = 'third';
    broken['loved'] = 'much';
    const found = mended(broken, 'Name')!;
    expect(found.record.steps[0]!.rounds[0]!.taps.map(({ id }) => id)).toEqual(['b']);
    expect(found.record.hand).toBe('right');
    expect('loved' in found.record).toBe(false);
    expect(found.leftOut.toSorted()).toEqual(['hand', 'loved', 'steps.0.rounds.0.taps.0.sampleRateHz']);
    expect(mended({ ...sound, id: '../x' }, 'Name')).toBeUndefined();
    expect(mended({ ...sound, name: 7 }, 'Name')!.record.name).toBe('Name');
  });
});

describe('archives and files', () => {
  test('texts go into an archive and come out of it', () => {
    const zip = openZip(
      writeTexts(
        new Map([
          ['a.txt', 'one'],
          ['b/c.txt', 'zwölf'],
        ]),
      ),
    );
    if (zip.kind !== 'zip') throw new Error(zip.because);
    expect(zip.names).toEqual(['a.txt', 'b/c.txt']);
    const text = (name: string) => {
      const file = zip.read(name);
      return file.kind === 'file' ? new TextDecoder().decode(file.bytes) : file.because;
    };
    expect([text('a.txt'), text('b/c.txt'), text('gone')]).toEqual(['one', 'zwölf', 'missing']);
  });

  test('folders are no files', () => {
    const zip = openZip(
      zipOf([
        { name: 'a/', content: new Uint8Array(0), stored: true },
        { name: 'a/b', content: bytesOf('x') },
      ]),
    );
    expect(zip.kind === 'zip' && [zip.names, zip.passedOver]).toEqual([['a/b'], []]);
  });

  test('a comment at the end of an archive, as long as may be, hides nothing', () => {
    for (const length of [1, 0xffff]) {
      const zip = zipOf([{ name: 'a', content: bytesOf('x') }]);
      const commented = new Uint8Array(zip.length + length);
      commented.set(zip);
      commented[zip.length - 2] = length & 0xff;
      commented[zip.length - 1] = length >> 8;
      const read = openZip(commented);
      expect(read.kind === 'zip' && read.names).toEqual(['a']);
    }
  });

  test('a tap keeps where it was struck, up to its last sample', () => {
    const samples = Float32Array.from({ length: 120 }, (_, i) => 0.5 * (-0.9) ** i);
    for (const onsetIndex of [0, 1, 119])
      expect(tapFromWav(tapToWav({ samples, sampleRateHz: 48_000, onsetIndex }, 'a'))!.onsetIndex).toBe(onsetIndex);
  });

  test('a universal file is known by its first lines', () => {
    for (const text of ['    -1\n   151\n', '    -1\r\n   151\r\n', '\n    -1  \n', '    -1'])
      expect(looksUniversal(text)).toBe(true);
    for (const text of ['', 'PK\u0003\u0004', '-1x\n', '{"a":-1}', `${'x'.repeat(401)}\n    -1\n`])
      expect(looksUniversal(text)).toBe(false);
    expect(readIncomingFile(bytesOf('    -1\n   151\n    -1\n'), 'a.uff', atIso)).toMatchObject({
      kind: 'refused',
      because: 'no-tap',
    });
    expect(readIncomingFile(bytesOf('nothing'), 'a', atIso)).toEqual({ kind: 'refused', because: 'not-an-archive' });
  });

  test('datasets stand between lines of -1 alone', () => {
    const skipped = (text: string) => readUff(text).skipped.map(({ dataset }) => dataset);
    expect(skipped('    -1\n  9999\nx    -1\n    -1x\n    -1  \n')).toEqual(['9999']);
    expect(skipped('    -1\n  9999\n    -1\n    -1\n  8888\n    -1\n')).toEqual(['9999', '8888']);
    expect(skipped('    -1\n  9999')).toEqual(['9999']);
  });

  test.each([
    ['Łódź', 'Lodz'],
    ['łóżko', 'lozko'],
    ['21 °C ± 1', '21 degC +- 1'],
    ['Øre œuvre Œ đ', 'Ore oeuvre OE d'],
    ['‘a’ “b” — −', '\'a\' "b" - -'],
    ['- a', '_ a'],
  ])('%s is written %s', (text, plain) => {
    expect(textField(text, 30).trimEnd()).toBe(plain);
  });

  const ring = Float32Array.from({ length: 900 }, (_, i) =>
    i < 80 ? 0.001 * (-1) ** i : 0.5 * Math.cos(i / 5) * Math.exp(-(i - 80) / 200),
  );
  const tap = { samples: ring, sampleRateHz: 8000, onsetIndex: 80 };
  const support = { hold: 'on-foam', bridge: 'taped', strung: true } as const;
  const written = {
    ...recordOf('i', []),
    steps: [stepOf('s'), stepOf('t', { rounds: [roundOf('q', []), roundOf('r', ['a'], { support })] })],
  };

  test('our own tap comes back with how the top was held and how loud it was above its room', () => {
    const { bundle } = recordFromUff(writeUff(recordToUff(written, new Map([['a', tap]]))), 'a.uff', atIso);
    const [round] = bundle!.record.steps[0]!.rounds;
    expect(round).toMatchObject({ support, source: 'a.uff', state: 'closed' });
    expect(bundle!.record.steps[0]!.id).toMatch(/-step-2$/);
    expect(round!.id).toMatch(/-step-2-round-2-8000$/);
    // 0.001 before the contact and about a half after it: 54 dB.
    expect(Math.abs(round!.taps[0]!.aboveRoomDb - 20 * Math.log10(500))).toBeLessThan(0.5);
    expect([...bundle!.taps.values()][0]!.onsetIndex).toBe(80);
    // Taken in as a record that was never read, its round is named to be read.
    expect(incoming(bundle!.record, undefined, 'c').toRead).toHaveLength(1);
    expect(
      readIncomingFile(bytesOf(writeUff(recordToUff(written, new Map([['a', tap]])))), 'a.uff', atIso),
    ).toMatchObject({
      ...{ kind: 'read', unreadable: [], lost: [], lostTaps: 0, passedOver: [] },
      universal: { taps: 1, repeated: 0 },
    });
  });

  test('of another program only what is the same sound is the same: named after its file, held as usual', () => {
    const foreign = (second: boolean) =>
      writeUff(
        recordToUff(written, new Map([['a', { ...tap, samples: ring.map((x) => x * (second ? 0.5 : 1)) }]])).map(
          (dataset) => (dataset.kind === 'header' ? { ...dataset, program: 'Other', model: 'NONE' } : dataset),
        ),
      );
    const read = (text: string) => recordFromUff(text, 'bench.unv', atIso).bundle!.record;
    expect(read(foreign(false)).name).toBe('bench.unv');
    expect(read(foreign(false)).id).toBe(read(foreign(false)).id);
    expect(read(foreign(true)).id).not.toBe(read(foreign(false)).id);
    expect(read(foreign(false))).toMatchObject({
      model: '',
      steps: [{ rounds: [{ spot: 'point 2', support: { hold: 'at-node', bridge: 'off', strung: false } }] }],
    });
  });

  test('axes, places and free lines say what they are', () => {
    const [, , history, spectrum] = recordToUff(
      written,
      new Map([['a', tap]]),
      new Map([['r', { firstHz: 0, stepHz: 1, power: Float64Array.of(1, 2) }]]),
    );
    expect(history).toMatchObject({
      functionType: 1,
      response: { entity: 'NONE', node: 1 },
      reference: { entity: 'NONE', node: 2 },
    });
    expect(history?.kind === 'function' && history.axes[0]).toMatchObject({ quantity: 17, unit: 's' });
    expect(spectrum?.kind === 'function' && spectrum.axes[0]).toMatchObject({ quantity: 18, unit: 'Hz' });
  });
});
