import { describe, expect, test } from 'vitest';
import {
  currentFormat,
  inPresentFormat,
  ledForward,
  readRecord,
  readRecordText,
  recordText,
} from '../../src/record/read.ts';
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

  test.each([
    undefined,
    null,
    3,
    'x',
    [],
    {},
    { schema: 'something-else/1' },
    { schema: 'platewright-record/one' },
    { schema: 'platewright-record/2x' },
    { schema: 'xplatewright-record/2' },
    { schema: 'platewright-record/0' },
    { schema: 'platewright-record/02' },
    { schema: ['platewright-record/2'] },
  ])('%j is foreign', (document) => {
    expect(readRecord(document)).toEqual({ kind: 'refused', because: 'foreign' });
  });

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

describe('reading the text of a record', () => {
  test('with and without a byte-order mark it is the record that was written', () => {
    expect(readRecordText(recordText(record))).toEqual({ kind: 'record', record });
    expect(readRecordText(`\uFEFF${recordText(record)}`)).toEqual({ kind: 'record', record });
    expect(recordText(record).endsWith('}\n')).toBe(true);
  });

  test.each(['', '{', 'NaN', '{"a":1}}', '\uFEFF\uFEFF{}'])('%j is no JSON', (text) => {
    expect(readRecordText(text)).toEqual({ kind: 'refused', because: 'not-json' });
  });

  test('a hundred levels within it are walked, and no more', () => {
    const deep = (levels: number) =>
      JSON.stringify(record).replace('{', `{"later":${'['.repeat(levels)}${']'.repeat(levels)},`);
    // The record itself is the first level.
    expect(readRecordText(deep(100)).kind).toBe('record');
    expect(readRecordText(deep(101))).toEqual({ kind: 'refused', because: 'too-deep' });
    expect(readRecordText('7')).toEqual({ kind: 'refused', because: 'foreign' });
  });

  test('a text of more than 64 megabytes is not looked into', () => {
    const longest = 64 * 1024 * 1024;
    expect(readRecordText(' '.repeat(longest + 1))).toEqual({ kind: 'refused', because: 'too-long' });
    expect(readRecordText(' '.repeat(longest))).toEqual({ kind: 'refused', because: 'not-json' });
  });

  test('numbers beyond all bounds are taken for none', () => {
    const read = readRecordText(JSON.stringify(record).replace('{', '{"later":[1e999,-1e999,1e99],'));
    expect(read.kind === 'record' && (read.record as unknown as { later: unknown }).later).toEqual([null, null, 1e99]);
  });
});

describe('leading a document forward', () => {
  const mark = (name: string) => (document: Readonly<Record<string, unknown>>) => ({
    ...document,
    [name]: document['schema'],
  });
  const steps = [mark('first'), mark('second'), mark('third')];

  test('takes the steps from its version on, each with the number of its own', () => {
    expect(ledForward({ schema: 'platewright-record/1' }, 1, steps)).toEqual({
      schema: 'platewright-record/4',
      first: 'platewright-record/1',
      second: 'platewright-record/2',
      third: 'platewright-record/3',
    });
    expect(ledForward({ schema: 'platewright-record/3' }, 3, steps)).toEqual({
      schema: 'platewright-record/4',
      third: 'platewright-record/3',
    });
    const present = { schema: 'platewright-record/4' };
    expect(ledForward(present, 4, steps)).toBe(present);
  });

  test('what is of no version, or of a later one, stays as it is', () => {
    for (const document of [3, { schema: 'other/1' }, { schema: 'platewright-record/99' }])
      expect(inPresentFormat(document)).toBe(document);
    expect(currentFormat.versionOf({ schema: 'platewright-record/1' })).toBe(1);
    expect(currentFormat.versionOf(record)).toBe(currentFormat.version);
  });
});
