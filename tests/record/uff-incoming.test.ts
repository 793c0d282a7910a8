// What a universal file of another program, and one of our own, becomes as a record: names, steps, rounds and ids.
import { describe, expect, test } from 'vitest';
import { lacksFit } from '../../src/record/incoming.ts';
import type { UffDataset, UffFunction } from '../../src/record/uff-dataset.ts';
import { recordFromUff } from '../../src/record/uff-incoming.ts';
import { recordToUff } from '../../src/record/uff-record.ts';
import { writeUff } from '../../src/record/uff-write.ts';
import type { Tap } from '../../src/signal/tap.ts';
import { recordOf, roundOf } from './small-record.ts';

const atIso = '2026-11-25T08:00:00.000Z';
/** A ring of half the full scale that begins a tenth of the way, louder or softer so that each is another sound. */
const ring = (loud = 0.5): Tap => ({
  samples: Float32Array.from({ length: 1000 }, (_, i) => (i < 100 ? 0 : loud * Math.exp(-(i - 100) / 200))),
  sampleRateHz: 8000,
  onsetIndex: 100,
});
const record = recordOf('i', [roundOf('r', ['a', 'b', 'c'])]);
const sounds = new Map([0.5, 0.4, 0.3].map((loud, i) => ['abc'[i]!, ring(loud)] as const));
const ours = (name = 'One') => recordToUff({ ...record, name }, sounds);
const taken = (datasets: readonly UffDataset[], fileName = 'taps.uff') =>
  recordFromUff(writeUff(datasets), fileName, atIso).bundle!.record;
const isFunction = (dataset: UffDataset): dataset is UffFunction => dataset.kind === 'function';
/** The same sounds as another program writes them: at nodes of its own, without our words. */
const foreign = (nodes: readonly number[]) =>
  ours()
    .filter(isFunction)
    .map(
      (given, i): UffFunction => ({
        ...given,
        lines: ['NONE', 'NONE', 'NONE', 'NONE', 'NONE'],
        reference: { ...given.reference, node: nodes[i]! },
      }),
    );

describe('a round from spot to spot', () => {
  test('comes back as one round with the spot of each tap, and does not wait to be read as an ordinary one', () => {
    const round = roundOf('r', ['a', 'b', 'c']);
    const { fit: _fit, ...unread } = round;
    const roving = {
      ...unread,
      spot: 'roving',
      roving: { spots: [{ xMm: 1, yMm: 2 }, {}, {}] },
      taps: round.taps.map((tap, i) => ({ ...tap, rovingSpot: [0, 2, 0][i]! })),
    };
    const datasets = recordToUff(recordOf('i', [roving]), sounds);
    // Each spot has a node of its own.
    expect(new Set(datasets.filter(isFunction).map(({ reference }) => reference.node)).size).toBe(2);
    const [found] = taken(datasets).steps[0]!.rounds;
    expect(found!.spot).toBe('roving');
    expect(found!.taps.map(({ rovingSpot }) => rovingSpot)).toEqual([0, 2, 0]);
    expect(found!.roving!.spots).toHaveLength(3);
    expect(lacksFit(found!)).toBe(false);
  });
});

describe('of another program', () => {
  test('taps of one node are a round, all in one step, free at its nodes, of the time that is given', () => {
    const found = taken(foreign([7, 9, 7]));
    expect(found.steps).toHaveLength(1);
    const [step] = found.steps;
    expect(step).toMatchObject({ id: `${found.id}-step-1`, atIso, done: '' });
    expect(step!.rounds.map(({ id, spot, taps }) => [id, spot, taps.length])).toEqual([
      [`${found.id}-step-1-round-7-8000`, 'point 7', 2],
      [`${found.id}-step-1-round-9-8000`, 'point 9', 1],
    ]);
    for (const { support, taps, source } of step!.rounds) {
      expect(support).toEqual({ hold: 'at-node', bridge: 'off', strung: false });
      expect(taps.map(({ hold }) => hold)).toEqual(taps.map(() => 0));
      expect(source).toBe('taps.uff');
    }
  });

  test('it is called as its header says, else as its file, whatever stands first in it', () => {
    const header = ours().find(({ kind }) => kind === 'header') as UffDataset & { kind: 'header' };
    const named = (model: string, fileName = 'f.uff') =>
      taken([...foreign([1, 1, 1]), { ...header, program: 'other', model }], fileName).name;
    expect(named('Top 4')).toBe('Top 4');
    const last = writeUff(foreign([1, 1, 1])) + writeUff([{ ...header, program: 'other', model: 'Top 5' }]);
    expect(recordFromUff(last, 'f.uff', atIso).bundle!.record.name).toBe('Top 5');
    expect(named('NONE')).toBe('f.uff');
    expect(named('')).toBe('f.uff');
    expect(taken(foreign([1, 1, 1]), 'f.uff').name).toBe('f.uff');
    expect(named('NONE', 'x'.repeat(300))).toBe('x'.repeat(200));
  });

  test('the same sounds are the same record, others are another', () => {
    const [first, second] = foreign([1, 1, 1]);
    expect(taken([first!]).id).toBe(taken([first!]).id);
    expect(taken([first!]).id).not.toBe(taken([second!]).id);
    expect(taken([first!, second!]).id).not.toBe(taken([first!]).id);
  });

  test('a sound without silence before it begins where it is first a quarter as loud as at its loudest', () => {
    const [given] = foreign([1, 1, 1]);
    const values = Float64Array.from({ length: 1600 }, (_, i) => (i < 400 ? 0.01 : 20 * Math.exp(-(i - 400) / 300)));
    const { taps, record: found } = recordFromUff(
      writeUff([{ ...given!, values, abscissa: { kind: 'even', first: 0, increment: 1 / 8000 } }]),
      'a.uff',
      atIso,
    ).bundle!;
    const [tap] = [...taps.values()];
    // Louder than full scale: the loudest sample is put there. A millisecond is eight samples.
    expect(Math.max(...tap!.samples)).toBe(1);
    expect(Math.abs(tap!.onsetIndex - 400)).toBeLessThanOrEqual(8);
    // 20 over 0.01.
    expect(Math.abs(found.steps[0]!.rounds[0]!.taps[0]!.aboveRoomDb - 20 * Math.log10(2000))).toBeLessThan(1);
  });
});

describe('of our own', () => {
  test('two files of one instrument are one record; another name is another', () => {
    const whole = ours();
    const fewer = [...whole.filter((dataset) => !isFunction(dataset)), ...whole.filter(isFunction).slice(1)];
    expect(taken(fewer).id).toBe(taken(whole).id);
    expect(taken(ours('Two')).id).not.toBe(taken(whole).id);
    expect(taken(whole).name).toBe('One');
  });
});
