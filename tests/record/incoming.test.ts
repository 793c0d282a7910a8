import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { amounts, incoming } from '../../src/record/incoming.ts';
import type { InstrumentRecord, Round } from '../../src/record/record.ts';
import { arbitraryRecord } from './arbitrary-record.ts';
import { recordOf, roundOf } from './small-record.ts';

const here = (record: InstrumentRecord) => ({ kind: 'record', record }) as const;
const fit: NonNullable<Round['fit']> = { method: 'm', modes: [], used: [], setAside: [], scatterKnown: false };

describe('what taking a record in would do', () => {
  test('one that nobody knows is new and brings all it has', () => {
    const record = recordOf('i', [roundOf('r', ['a', 'b'])]);
    expect(incoming(record, undefined, 'copy')).toMatchObject({
      fate: 'new',
      record,
      brings: { steps: 1, rounds: 1, taps: 2, pieces: 0 },
    });
  });

  test('any record taken in twice brings nothing the second time', () => {
    fc.assert(
      fc.property(arbitraryRecord, arbitraryRecord, (a, b) => {
        const { deletedAtIso: _bin, ...mine } = a;
        const once = incoming({ ...b, id: a.id }, here(mine), 'copy').record;
        const twice = incoming({ ...b, id: a.id }, here(once), 'copy');
        expect(twice.fate).toBe('nothing-new');
        expect(twice.brings).toEqual({ steps: 0, rounds: 0, taps: 0, pieces: 0 });
      }),
    );
  });

  test('taps that come together from both sides are named to be read again', () => {
    const mine = recordOf('i', [roundOf('r', ['a', 'b'], { fit }), roundOf('q', ['x'], { fit })]);
    const theirs = recordOf('i', [roundOf('r', ['b', 'c'], { fit }), roundOf('q', ['x'], { fit })]);
    const plan = incoming(theirs, here(mine), 'copy');
    expect(plan).toMatchObject({ fate: 'adds', brings: { taps: 1 }, toRead: [{ stepId: 's', roundId: 'r' }] });
    expect(plan.toRead).toHaveLength(1);
    expect(amounts(plan.record).taps).toBe(4);
  });

  test('one in the bin comes back, unless it comes from a bin', () => {
    const record = recordOf('i', []);
    const binned = { ...record, deletedAtIso: '2026-01-01T00:00:00.000Z' };
    expect(incoming(record, here(binned), 'copy')).toMatchObject({ fate: 'adds', fromBin: true, record });
    expect(incoming(binned, here(binned), 'copy')).toMatchObject({ fate: 'nothing-new', fromBin: false });
  });

  test('where the one here cannot be read, nothing of it is touched: the other gets an id of its own', () => {
    const record = recordOf('i', []);
    for (const refused of [
      { kind: 'refused', because: 'newer-version', version: 9 },
      { kind: 'refused', because: 'damaged', where: 'steps', problem: 'x' },
    ] as const)
      expect(incoming(record, refused, 'copy')).toMatchObject({
        fate: 'beside',
        record: { id: 'copy', name: 'One (imported)' },
      });
  });
});
