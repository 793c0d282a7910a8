import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { sameValue } from '../../src/record/change.ts';
import { currentFormat, ledForward, readRecord, readRecordText, recordText } from '../../src/record/read.ts';
import { arbitraryRecord } from './arbitrary-record.ts';
import { fuzzRuns, fuzzTimeout } from './runs.ts';

// One frozen file for each version that was ever written. They are never edited; a new version adds one.
const folder = new URL('formats/', import.meta.url);
const versions = Array.from({ length: currentFormat.version }, (_, i) => i + 1);
const frozen = (version: number) => readFileSync(new URL(`platewright-record-${version}.json`, folder), 'utf8');

/** Every key below the value, and below the elements of its lists. */
function keysIn(value: unknown): readonly string[] {
  if (typeof value !== 'object' || value === null) return [];
  const below = Object.values(value).flatMap(keysIn);
  return Array.isArray(value) ? below : [...Object.keys(value), ...below];
}

describe('the formats of a record', () => {
  test('there is a frozen file for every version', () => {
    const whole = readdirSync(folder).filter((name) => /-\d+\.json$/.test(name));
    expect(whole.toSorted()).toEqual(versions.map((version) => `platewright-record-${version}.json`).toSorted());
  });

  test.each(versions)('a record of version %i is read and led to the present one', (version) => {
    expect(readRecordText(frozen(version))).toMatchObject({ kind: 'record' });
  });

  test('the file of the present version is saved again byte for byte, with the fields it does not know at 16 levels', () => {
    const read = readRecordText(frozen(currentFormat.version));
    expect(read.kind === 'record' && recordText(read.record)).toBe(frozen(currentFormat.version));
    const later = keysIn(JSON.parse(frozen(currentFormat.version))).filter((key) => key.startsWith('later '));
    expect(new Set(later).size).toBe(16);
  });

  test('a document of the next version is refused with its number, and nothing in it is touched', () => {
    const next = {
      ...JSON.parse(frozen(currentFormat.version)),
      schema: `platewright-record/${currentFormat.version + 1}`,
    };
    const before = structuredClone(next);
    expect(readRecord(next)).toEqual({ kind: 'refused', because: 'newer-version', version: currentFormat.version + 1 });
    expect(next).toEqual(before);
  });

  test('a document is led through every later version once, in order, and carries the number it has reached', () => {
    const steps = ['b', 'c', 'd'].map((letter) => (document: Readonly<Record<string, unknown>>) => ({
      ...document,
      path: `${document['path']}${letter} of ${String(document['schema']).at(-1)}, `,
    }));
    const start = { schema: 'platewright-record/2', path: '', kept: [1] };
    expect(ledForward(start, 2, steps)).toEqual({
      schema: 'platewright-record/4',
      path: 'c of 2, d of 3, ',
      kept: [1],
    });
    expect(ledForward(start, 4, steps)).toBe(start);
  });

  test('any record survives being written and read', () => {
    fc.assert(
      fc.property(arbitraryRecord, (record) => {
        expect(readRecordText(recordText(record))).toEqual({ kind: 'record', record });
      }),
    );
  });

  test('a number beyond all bounds is nothing in a field unknown to us, and damage in one of ours', () => {
    const text = frozen(currentFormat.version);
    const unknown = readRecordText(text.replace('"two"', '-1e999'));
    expect(unknown.kind === 'record' && readRecordText(recordText(unknown.record))).toEqual(unknown);
    expect(readRecordText(text.replace('182.4', '1e999'))).toMatchObject({ kind: 'refused', because: 'damaged' });
  });

  test('texts at random and mutated records are refused or read, never thrown at', { timeout: fuzzTimeout }, () => {
    const whole = frozen(currentFormat.version);
    const mutated = fc
      .array(fc.tuple(fc.nat(whole.length), fc.nat(40), fc.constantFrom('', '"', '[', '{}', 'null', '-1e999', '0')))
      .map((cuts) =>
        cuts.reduce((text, [at, length, put]) => text.slice(0, at) + put + text.slice(at + length), whole),
      );
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.json(), mutated), (text) => {
        const result = readRecordText(text);
        // What is taken can be saved and taken again.
        if (result.kind === 'refused') return;
        const again = readRecordText(recordText(result.record));
        expect(again.kind === 'record' && sameValue(again.record, result.record)).toBe(true);
      }),
      fuzzRuns,
    );
  });
});
