import { describe, expect, test } from 'vitest';
import { readRecord } from '../../src/record/read.ts';
import { newRecord } from '../../src/record/record.ts';

const record = newRecord({ id: 'a', createdAtIso: '2026-11-25T08:00:00.000Z', name: 'One' });

describe('reading a record from outside', () => {
  test('a record written by this version comes back the same', () => {
    expect(readRecord(JSON.parse(JSON.stringify(record)))).toEqual({ kind: 'record', record });
  });

  test('fields this version does not know are carried along', () => {
    const later = {
      ...record,
      colour: 'amber',
      steps: [
        {
          id: 's',
          atIso: '2026-11-25T08:00:00.000Z',
          stage: 'braced',
          done: '',
          cuts: [],
          climate: {},
          heard: '',
          rounds: [],
          smell: 'resin',
        },
      ],
    };
    const read = readRecord(later);
    expect(read.kind === 'record' && read.record).toEqual(later);
  });

  test('a newer version is refused by its number', () => {
    expect(readRecord({ ...record, schema: 'platewright-record/7' })).toEqual({
      kind: 'refused',
      because: 'newer-version',
      version: 7,
    });
  });

  test.each([undefined, null, 3, 'x', [], {}, { schema: 'something-else/1' }, { schema: 'platewright-record/one' }])(
    '%j is foreign',
    (document) => {
      expect(readRecord(document)).toEqual({ kind: 'refused', because: 'foreign' });
    },
  );

  test.each([
    ['a step without rounds', { ...record, steps: [{ id: 's' }] }, /^steps\.0/],
    [
      'a number that is not finite',
      {
        ...record,
        targets: [{ id: 't', mode: 'm', stage: 'braced', frequencyHz: Number.NaN, toleranceHz: 1, origin: '' }],
      },
      /^targets\.0\.frequencyHz$/,
    ],
    [
      'an unknown stage',
      { ...record, targets: [{ id: 't', mode: 'm', stage: 'painted', frequencyHz: 1, toleranceHz: 1, origin: '' }] },
      /^targets\.0\.stage$/,
    ],
    ['an id that could leave its folder', { ...record, id: '../x' }, /^id$/],
  ])('%s is damaged, and the place is named', (_what, document, where) => {
    const read = readRecord(document);
    expect(read).toMatchObject({ kind: 'refused', because: 'damaged' });
    if (read.kind === 'refused' && read.because === 'damaged') expect(read.where).toMatch(where);
  });
});
