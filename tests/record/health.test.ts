import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { tapIds } from '../../src/record/archive.ts';
import { sameValue } from '../../src/record/change.ts';
import { healthOf, mended } from '../../src/record/health.ts';
import { currentFormat, readRecord } from '../../src/record/read.ts';
import { arbitraryRecord } from './arbitrary-record.ts';
import { fuzzRuns, fuzzTimeout } from './runs.ts';
import { recordOf, roundOf } from './small-record.ts';

const frozenOf = (version: number) =>
  readFileSync(new URL(`formats/platewright-record-${version}.json`, import.meta.url), 'utf8');
const frozen = frozenOf(currentFormat.version);
const none = new Set<string>();
const wanted = { tapsPerHold: 2, holdsPerRound: 1, nowIso: '2026-11-25T09:00:00.000Z' };

describe('what a record lacks', () => {
  test('sounds that are not here are named; a closed round without modes can be read again if it has any sound', () => {
    const record = recordOf('i', [
      roundOf('r1', ['a', 'b'], { state: 'closed' }),
      roundOf('r2', ['c'], { state: 'closed' }),
      roundOf('r3', ['a'], { state: 'open' }),
    ]);
    expect(healthOf(record, { taps: new Set(['a']), photos: none }, wanted)).toEqual({
      missingSounds: ['b', 'c'],
      missingPhotos: [],
      unread: [{ stepId: 's', roundId: 'r1' }],
    });
  });

  test('a record whose sounds are all here lacks none', () => {
    fc.assert(
      fc.property(arbitraryRecord, (record) => {
        expect(healthOf(record, { taps: new Set(tapIds(record)), photos: none }, wanted).missingSounds).toEqual([]);
      }),
    );
  });
});

describe('mending a record', () => {
  test('a sound one is left as it is', () => {
    const document = JSON.parse(frozen) as unknown;
    expect(mended(document, 'Named in the list')).toMatchObject({ leftOut: [] });
    expect(sameValue(mended(document, 'Named in the list')?.record, document)).toBe(true);
  });

  test('a fit that makes no sense goes as a whole, so that it is read again; its taps and everything else stay', () => {
    const text = frozen.replace(/"frequencyHz": \{\s*"value": [\d.]+/, '"frequencyHz": { "value": -1');
    const document = JSON.parse(text) as { steps: { rounds: { taps: unknown }[] }[] };
    expect(readRecord(document)).toMatchObject({ because: 'damaged' });
    const { record, leftOut } = mended(document, 'Named in the list')!;
    expect(leftOut).toHaveLength(1);
    expect(leftOut[0]).toMatch(/\.fit\.modes\.\d+\.frequencyHz\.value$/);
    const lost = document.steps.flatMap(({ rounds }) => rounds).length;
    expect(record.steps.flatMap(({ rounds }) => rounds)).toHaveLength(lost);
    expect(tapIds(record)).toEqual(tapIds(document as never));
  });

  test('one of an older version is led forward first, so that nothing of it is left out for its age', () => {
    const document = { ...(JSON.parse(frozenOf(1)) as object), name: 5 };
    expect(mended(document, 'Named in the list')?.leftOut).toEqual(['name']);
  });

  test('a record whose name is spoilt gets the one it goes by in the list', () => {
    const document = { ...(JSON.parse(frozen) as object), name: 5 };
    const { record, leftOut } = mended(document, 'Named in the list')!;
    expect(record.name).toBe('Named in the list');
    expect(leftOut).toEqual(['name']);
  });

  test.each([
    ['nothing', undefined],
    ['another document', { schema: 'something/1' }],
    ['a newer version', { schema: 'platewright-record/99' }],
    ['one without an id', { schema: 'platewright-record/1', name: 'x' }],
  ])('%s cannot be mended', (_what, document) => {
    expect(mended(document, 'Named in the list')).toBeUndefined();
  });

  test('whatever place of a record is spoilt, mending gives a record of the same id that can be read, or nothing', {
    timeout: fuzzTimeout,
  }, () => {
    const put = fc.constantFrom<unknown>(undefined, null, 'x', -1, 0.5, 1e7, true, {}, []);
    const counts = { mended: 0 };
    fc.assert(
      fc.property(
        arbitraryRecord,
        fc.array(fc.tuple(fc.nat(), put), { minLength: 1, maxLength: 4 }),
        (record, spoils) => {
          const document = spoils.reduce<unknown>((now, [at, value]) => spoilt(now, at, value), record);
          if (readRecord(document).kind === 'record') return;
          const result = mended(document, 'Named in the list');
          if (result === undefined) return;
          counts.mended++;
          expect(readRecord(result.record)).toMatchObject({ kind: 'record' });
          expect(result.record.id).toBe(record.id);
          expect(result.leftOut.length).toBeGreaterThan(0);
        },
      ),
      fuzzRuns,
    );
    expect(counts.mended).toBeGreaterThan(100);
  });
});

/** The document with one place replaced, or removed where `put` is undefined. */
function spoilt(document: unknown, at: number, put: unknown): unknown {
  const copy = structuredClone(document);
  const places: [Record<string, unknown>, string][] = [];
  const walk = (node: unknown): void => {
    if (typeof node !== 'object' || node === null) return;
    for (const key of Object.keys(node)) {
      if (node === copy && (key === 'schema' || key === 'id')) continue;
      places.push([node as Record<string, unknown>, key]);
      walk((node as Record<string, unknown>)[key]);
    }
  };
  walk(copy);
  const place = places[at % Math.max(1, places.length)];
  if (place === undefined) return copy;
  const [node, key] = place;
  if (put === undefined && !Array.isArray(node)) delete node[key];
  else node[key] = put ?? null;
  return copy;
}
