import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readRecord } from '../../src/record/read.ts';
import { recordJsonSchema } from '../../src/terminal/record-json-schema.ts';
import { arbitraryRecord } from './arbitrary-record.ts';

type Node = Readonly<Record<string, unknown>>;
const published = readFileSync(new URL('../../src/static/record.schema.json', import.meta.url), 'utf8');
const schema = JSON.parse(published) as Node;

/** RFC 3339 section 5.6, as JSON Schema's format date-time asks for. */
const dateTime = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)$/;
const typeOf = (value: unknown): string => (value === null ? 'null' : Array.isArray(value) ? 'array' : typeof value);
const isObject = (value: unknown): value is Node => typeOf(value) === 'object';

/** The keywords that the published schema uses. Source: JSON Schema 2020-12, validation vocabulary. */
const keywords: Readonly<Record<string, (rule: never, value: unknown) => boolean>> = {
  type: (rule: string, value) =>
    rule === 'integer' ? Number.isInteger(value) : rule === 'number' ? Number.isFinite(value) : typeOf(value) === rule,
  const: (rule: unknown, value) => value === rule,
  enum: (rule: readonly unknown[], value) => rule.includes(value),
  pattern: (rule: string, value) => typeof value !== 'string' || new RegExp(rule, 'u').test(value),
  maxLength: (rule: number, value) => typeof value !== 'string' || value.length <= rule,
  format: (_rule: 'date-time', value) => typeof value !== 'string' || dateTime.test(value),
  minimum: (rule: number, value) => typeof value !== 'number' || value >= rule,
  exclusiveMinimum: (rule: number, value) => typeof value !== 'number' || value > rule,
  maximum: (rule: number, value) => typeof value !== 'number' || value <= rule,
  required: (rule: readonly string[], value) => !isObject(value) || rule.every((key) => Object.hasOwn(value, key)),
  properties: (rule: Readonly<Record<string, Node>>, value) =>
    !isObject(value) ||
    Object.entries(rule).every(([key, below]) => !Object.hasOwn(value, key) || isValid(below, value[key])),
  items: (rule: Node, value) => !Array.isArray(value) || value.every((element) => isValid(rule, element)),
};
const annotations = ['$schema', '$id', 'title', 'description'];

function isValid(node: Node, value: unknown): boolean {
  return Object.entries(node).every(([key, rule]) => {
    if (annotations.includes(key)) return true;
    const check = keywords[key];
    if (check === undefined) throw new Error(`keyword ${key} is not checked`);
    return check(rule as never, value);
  });
}

/** Paths to everything in a document. */
function places(value: unknown, path: readonly string[] = []): readonly (readonly string[])[] {
  if (typeof value !== 'object' || value === null) return [path];
  return [path, ...Object.entries(value).flatMap(([key, below]) => places(below, [...path, key]))];
}

/** The document with one place replaced, or removed where `put` is undefined. */
function spoilt(document: unknown, path: readonly string[], put: unknown): unknown {
  const [key, ...rest] = path;
  if (key === undefined) return put;
  const copy = (Array.isArray(document) ? [...document] : { ...(document as object) }) as Record<string, unknown>;
  if (rest.length === 0 && put === undefined && !Array.isArray(document)) delete copy[key];
  else copy[key] = spoilt(copy[key], rest, put ?? null);
  return copy;
}

describe('the published JSON Schema', () => {
  test('is what the program itself checks by: run src/terminal/make-schema.ts after a change of the record', () => {
    expect(published).toBe(recordJsonSchema());
  });

  test('names its dialect and, without a host, its version', () => {
    expect(schema['$schema']).toBe('https://json-schema.org/draft/2020-12/schema');
    expect(schema['$id']).toBe('urn:platewright-record:2');
  });

  test('accepts every record of this version', () => {
    fc.assert(fc.property(arbitraryRecord, (record) => isValid(schema, record)));
    const frozen = readFileSync(new URL('formats/platewright-record-2.json', import.meta.url), 'utf8');
    expect(isValid(schema, JSON.parse(frozen))).toBe(true);
  });

  test('refuses what the program refuses and accepts what it accepts, wherever a record is spoilt', () => {
    // No empty list: the program takes one for an object where no field is required (climate), the schema does not.
    const put = fc.constantFrom<unknown>(undefined, null, 'x', -1, 0.5, 0, 1e7, true, {});
    const counts = { accepted: 0, refused: 0 };
    fc.assert(
      fc.property(arbitraryRecord, fc.nat(), put, (record, at, value) => {
        const all = places(record);
        const document = spoilt(record, all[at % all.length]!, value);
        const taken = readRecord(document).kind === 'record';
        counts[taken ? 'accepted' : 'refused']++;
        expect(isValid(schema, document)).toBe(taken);
      }),
      { numRuns: 500, endOnFailure: true },
    );
    expect(Math.min(counts.accepted, counts.refused)).toBeGreaterThan(50);
  });
});
