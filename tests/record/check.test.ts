import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { demoInstrument } from '../../src/demo/demo-record.ts';
import { applyChanges, changesBetween, childAt, inverse } from '../../src/record/change.ts';
import { faultIn, faultOf } from '../../src/record/check.ts';
import { mergeRecords } from '../../src/record/merge.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { readRecord } from '../../src/record/read.ts';
import type { InstrumentRecord } from '../../src/record/record.ts';
import { arbitraryRecord } from './arbitrary-record.ts';

const demo = { ...demoInstrument(new Map()), plan: startPlan('right') };
const faultAfter = (edit: (record: InstrumentRecord) => InstrumentRecord, from: InstrumentRecord = demo) => {
  const after = edit(from);
  return faultOf(after, changesBetween(from, after));
};
/** The record with a value put at keys joined by points, as a stuck key or a foreign file would put it. */
const putAt = (path: string, value: unknown) => (record: InstrumentRecord) => {
  const copy = structuredClone(record) as unknown as Record<string, unknown>;
  const keys = path.split('.');
  let node = copy;
  for (const key of keys.slice(0, -1)) node = node[key] as Record<string, unknown>;
  node[keys.at(-1)!] = value;
  return copy as unknown as InstrumentRecord;
};

describe('what may be written', () => {
  test.each([
    ['a brace height', 'plan.braces.0.profile', [{ atMm: 0, heightMm: Number.POSITIVE_INFINITY }]],
    ['the soundhole', 'plan.soundhole', { xMm: 0, yMm: Number.NaN, radiusMm: 50 }],
    ['a floor', 'plan.braces.0.floors', [{ fromMm: 0, toMm: Number.POSITIVE_INFINITY, heightMm: 3 }]],
    ['where a cut began', 'steps.1.cuts', [{ id: 'k', brace: 'X', braceIds: [], fromMm: Number.POSITIVE_INFINITY }]],
    ['a species', 'pieces', [{ id: 'p', species: 'x'.repeat(501) }]],
    ['an outline', 'plan.outline', { kind: 'points', source: '', points: [{ xMm: Number.POSITIVE_INFINITY, yMm: 0 }] }],
    ['half an outline', 'plan.outline.kind', 'points'],
    ['a name', 'name', 'x'.repeat(501)],
    ['a step without its stage', 'steps.0.stage', undefined],
    ['a humidity', 'steps.0.climate', { humidityPercent: 140 }],
  ])('%s that the reader would refuse is found, as it is in the whole record', (_what, path, value) => {
    const edit = putAt(path, value);
    expect(faultAfter(edit)).toBeDefined();
    expect(faultIn(edit(demo))).toBeDefined();
  });

  test.each([
    ['a note', 'notes', 'good'],
    ['a field that this version does not know', 'later', { anything: [1, 'two'] }],
    ['a field below one that it does not know', 'steps.0.later', 7],
    ['what may be absent', 'plan.soundhole', undefined],
    ['the other kind of outline', 'plan.outline', { kind: 'points', source: 'a file', points: [] }],
  ])('%s is let through', (_what, path, value) => {
    expect(faultAfter(putAt(path, value))).toBeUndefined();
  });

  test('an element that goes is let through, and so is the last one', () => {
    expect(faultAfter((record) => ({ ...record, steps: record.steps.slice(1) }))).toBeUndefined();
    expect(faultAfter((record) => ({ ...record, steps: [] }))).toBeUndefined();
  });

  test('the changed part is judged as the whole record is: any two records, one made from the other', () => {
    fc.assert(
      fc.property(arbitraryRecord, arbitraryRecord, (before, other) => {
        const after = { ...other, id: before.id };
        expect(faultOf(after, changesBetween(before, after)) === undefined).toBe(readRecord(after).kind === 'record');
      }),
    );
  });
});

describe('keys that look like the names of elements', () => {
  const odd = { ...demo, '#x': { '~y': 1, '#id': [{ id: 'a' }] }, '~': 'tilde' } as InstrumentRecord;

  test('are changed, undone and merged like any other', () => {
    const changed = { ...odd, '#x': { '~y': 2, '#id': [{ id: 'b' }] } } as InstrumentRecord;
    const changes = changesBetween(odd, changed);
    const there = applyChanges(odd, changes);
    expect(there).toEqual({ kind: 'changed', document: changed });
    expect(applyChanges(changed, inverse(changes))).toEqual({ kind: 'changed', document: odd });
    expect(faultOf(changed, changes)).toBeUndefined();
    const merged = mergeRecords(demo, odd).record;
    expect(applyChanges(demo, changesBetween(demo, merged))).toEqual({ kind: 'changed', document: merged });
  });

  test('lead to their own value', () => {
    expect(childAt(odd, '~#x')).toEqual({ '~y': 1, '#id': [{ id: 'a' }] });
    expect(childAt(odd, '#x')).toBeUndefined();
  });
});
