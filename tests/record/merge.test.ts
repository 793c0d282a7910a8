import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { mergeRecords } from '../../src/record/merge.ts';
import { type InstrumentRecord, newRecord, type Round } from '../../src/record/record.ts';
import { arbitraryRecord } from './arbitrary-record.ts';
import { atIso, recordOf, roundOf, stepOf } from './small-record.ts';

const empty = newRecord({ id: 'i', createdAtIso: atIso, name: 'One' });
const fitBy = (method: string): NonNullable<Round['fit']> => ({
  method,
  modes: [],
  used: [],
  setAside: [],
  scatterKnown: false,
});
const ids = (list: readonly { readonly id: string }[]) => list.map((element) => element.id);

/** Two states of one record: some ids and fields the same, others not. */
const twoStates = fc.tuple(arbitraryRecord, arbitraryRecord, fc.nat(7)).map(([a, b, pick]) => {
  const part = <T>(bit: number, mine: T, theirs: T): T => ((pick & bit) === 0 ? theirs : mine);
  const other: InstrumentRecord = {
    ...b,
    id: a.id,
    steps: part(1, [...a.steps.slice(1), ...b.steps.filter((one) => !ids(a.steps).includes(one.id))], b.steps),
    pins: part(2, a.pins, b.pins),
    name: part(4, a.name, b.name),
  };
  return [a, other] as const;
});

describe('merging two states of a record', () => {
  test('a record merged with itself is itself, without conflict', () => {
    fc.assert(
      fc.property(arbitraryRecord, (a) => {
        expect(mergeRecords(a, structuredClone(a))).toEqual({ record: a, conflicts: [] });
      }),
    );
  });

  test('a floor whose brace was filled in there leaves its place to one that is said of none', () => {
    const here = { ...recordOf('a', []), floors: [{ id: 'x', brace: '', heightMm: 9 }] };
    const there = {
      ...recordOf('a', []),
      floors: [
        { id: 'x', brace: 'Long', heightMm: 9 },
        { id: 'y', brace: '', heightMm: 7 },
      ],
    };
    const once = mergeRecords(here, there).record;
    expect(once.floors).toEqual(there.floors);
    expect(mergeRecords(once, there).record).toEqual(once);
  });

  test('merging the same again changes nothing', () => {
    fc.assert(
      fc.property(twoStates, ([a, b]) => {
        const once = mergeRecords(a, b).record;
        expect(mergeRecords(once, b).record).toEqual(once);
      }),
      { numRuns: 300, endOnFailure: true },
    );
  });

  test('nothing that is here is lost or said otherwise, but for the fit of a round that gained taps', () => {
    fc.assert(
      fc.property(twoStates, ([a, b]) => {
        const { record } = mergeRecords(a, b);
        for (const one of a.steps) {
          const kept = record.steps.find((other) => other.id === one.id)!;
          expect(kept).toMatchObject({ atIso: one.atIso, stage: one.stage });
          expect(ids(kept.cuts)).toEqual(expect.arrayContaining([...ids(one.cuts)]));
          if (one.heard !== '') expect(kept.heard).toBe(one.heard);
          for (const known of one.rounds) {
            const round = kept.rounds.find((other) => other.id === known.id)!;
            expect(ids(round.taps)).toEqual(expect.arrayContaining([...ids(known.taps)]));
            if (known.fit !== undefined && round.taps.length === known.taps.length)
              expect(round.fit).toEqual(known.fit);
          }
        }
        expect(ids(record.steps)).toEqual([...new Set([...ids(record.steps), ...ids(a.steps), ...ids(b.steps)])]);
      }),
      { numRuns: 200, endOnFailure: true },
    );
  });

  test('new steps come where they stood, after the step they followed', () => {
    const here = { ...empty, steps: [stepOf('a'), stepOf('c'), stepOf('mine')] };
    const incoming = { ...empty, steps: [stepOf('first'), stepOf('a'), stepOf('b'), stepOf('c'), stepOf('d')] };
    expect(ids(mergeRecords(here, incoming).record.steps)).toEqual(['first', 'a', 'b', 'c', 'd', 'mine']);
  });

  test('what both say differently stays as it is here and is listed with its place and both values', () => {
    const here = { ...empty, notes: '', steps: [stepOf('s', { heard: 'knocky', massG: 210 })] };
    const incoming = {
      ...empty,
      notes: 'dry winter',
      steps: [stepOf('s', { heard: 'open', massG: 210, photoId: 'p' })],
    };
    const { record, conflicts } = mergeRecords(here, incoming);
    expect(record.notes).toBe('dry winter');
    expect(record.steps[0]).toMatchObject({ heard: 'knocky', photoId: 'p' });
    expect(conflicts).toEqual([{ path: ['steps', '#s', 'heard'], here: 'knocky', incoming: 'open' }]);
  });

  test('a round that went on elsewhere is taken over with its fit; one that went on here is not set back', () => {
    const early = { ...empty, steps: [stepOf('s', { rounds: [roundOf('r', ['t1'])] })] };
    const late = {
      ...empty,
      steps: [stepOf('s', { rounds: [roundOf('r', ['t1', 't2'], { state: 'closed', fit: fitBy('new') })] })],
    };
    expect(mergeRecords(early, late)).toEqual({ record: late, conflicts: [] });
    expect(mergeRecords(late, early)).toEqual({ record: late, conflicts: [] });
  });

  test('taps from both sides leave no fit, for none is of all of them', () => {
    const here = { ...empty, steps: [stepOf('s', { rounds: [roundOf('r', ['t1', 't2'], { fit: fitBy('a') })] })] };
    const incoming = { ...empty, steps: [stepOf('s', { rounds: [roundOf('r', ['t1', 't3'], { fit: fitBy('b') })] })] };
    const merged = mergeRecords(here, incoming).record.steps[0]!.rounds[0]!;
    expect(ids(merged.taps)).toEqual(['t1', 't3', 't2']);
    expect(merged.fit).toBeUndefined();
  });

  test('another fit of the same taps is one conflict as a whole', () => {
    const states = ['a', 'b'].map((method) => ({
      ...empty,
      steps: [stepOf('s', { rounds: [roundOf('r', ['t1'], { fit: fitBy(method) })] })],
    }));
    const { record, conflicts } = mergeRecords(states[0]!, states[1]!);
    expect(record).toEqual(states[0]);
    expect(conflicts.map((conflict) => conflict.path)).toEqual([['steps', '#s', 'rounds', '#r', 'fit']]);
  });

  test('the name given here to a mode wins over one that comes in for the same step', () => {
    const pin = (id: string, frequencyHz: number) => ({ id, stepId: 's', mode: 'monopole', frequencyHz });
    const { record, conflicts } = mergeRecords(
      { ...empty, pins: [pin('p', 180)] },
      { ...empty, pins: [pin('q', 190)] },
    );
    expect(record.pins).toEqual([pin('p', 180)]);
    expect(conflicts).toEqual([{ path: ['pins', '#p'], here: pin('p', 180), incoming: pin('q', 190) }]);
  });

  test.each([
    [
      'targets',
      'the same mode in the same stage',
      { stage: 'braced', mode: 'monopole', frequencyHz: 180 },
      { frequencyHz: 190 },
    ],
    ['floors', 'the same brace', { brace: 'X legs', heightMm: 9 }, { heightMm: 8 }],
  ])('of two %s for %s the one that is here stays, and the other is told', (list, _what, mine, change) => {
    const one = { id: 'p', toleranceHz: 3, origin: '', ...mine };
    const other = { ...one, id: 'q', ...change };
    const { record, conflicts } = mergeRecords(
      { ...empty, [list]: [one] } as InstrumentRecord,
      { ...empty, [list]: [other] } as InstrumentRecord,
    );
    expect(record).toMatchObject({ [list]: [one] });
    expect((record as unknown as Record<string, unknown[]>)[list]).toHaveLength(1);
    expect(conflicts).toEqual([{ path: [list, '#p'], here: one, incoming: other }]);
  });

  test.each([
    ['targets', { stage: 'braced', mode: 'monopole' }, { stage: 'closed' }],
    ['targets', { stage: 'braced', mode: 'monopole' }, { mode: 'cross dipole' }],
    ['floors', { brace: 'X legs' }, { brace: 'tone bar' }],
    ['pins', { stepId: 's', mode: 'monopole' }, { stepId: 't' }],
    ['pins', { stepId: 's', mode: 'monopole' }, { mode: 'cross dipole' }],
  ])('%s of %j and %j stand beside each other', (list, mine, change) => {
    const one = { id: 'p', ...mine };
    const other = { id: 'q', ...mine, ...change };
    const merged = mergeRecords(
      { ...empty, [list]: [one] } as unknown as InstrumentRecord,
      { ...empty, [list]: [other] } as unknown as InstrumentRecord,
    );
    expect(merged.conflicts).toEqual([]);
    expect((merged.record as unknown as Record<string, unknown>)[list]).toEqual([other, one]);
  });

  test('lists without ids and values of other kinds are said differently as a whole', () => {
    const state = (later: unknown) => ({ ...empty, later }) as InstrumentRecord;
    const told = (here: unknown, incoming: unknown) => mergeRecords(state(here), state(incoming)).conflicts;
    expect(told([1, 2], [1, 3])).toEqual([{ path: ['later'], here: [1, 2], incoming: [1, 3] }]);
    expect(told({ a: 1 }, [1])).toEqual([{ path: ['later'], here: { a: 1 }, incoming: [1] }]);
    expect(told([{ id: 'a' }], [{ name: 'a' }])).toHaveLength(1);
    expect(told(null, { a: 1 })).toHaveLength(1);
    expect(told({ a: null }, { a: null, b: 0 })).toEqual([]);
    expect(told(0, 1)).toEqual([{ path: ['later'], here: 0, incoming: 1 }]);
  });

  test('a round of which one side has all taps keeps what else either says of it', () => {
    const states = [
      roundOf('r', ['t1'], { source: '', spot: 'edge' }),
      roundOf('r', ['t1', 't2'], { source: 'a.wav', spot: 'waist', state: 'closed' }),
    ].map((round) => ({ ...empty, steps: [stepOf('s', { rounds: [round] })] }));
    const { record, conflicts } = mergeRecords(states[0]!, states[1]!);
    expect(record.steps[0]!.rounds[0]).toMatchObject({ source: 'a.wav', spot: 'edge', state: 'closed' });
    expect(conflicts.map(({ path }) => path.join('.'))).toEqual(['steps.#s.rounds.#r.spot']);
    expect('fit' in record.steps[0]!.rounds[0]!).toBe(false);
  });

  test('a record that lies in the bin elsewhere stays on the shelf here', () => {
    const elsewhere = { ...empty, deletedAtIso: atIso, archived: true };
    expect(mergeRecords(empty, elsewhere)).toEqual({ record: empty, conflicts: [] });
  });

  test('states of two records are refused', () => {
    expect(() => mergeRecords(empty, { ...empty, id: 'j' })).toThrow('mergeRecords: ids i and j, need one id');
  });
});
