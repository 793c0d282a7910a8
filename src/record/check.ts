// What may be written into a record: whatever the reader would not give back is refused before it is stored. Only what a
// change touches is looked at, so that a tap is not slower to store the longer a record has grown.
import * as v from 'valibot';
import { type Change, childAt, keyOfSegment } from './change.ts';
import { readRecord } from './read.ts';
import { type InstrumentRecord, recordSchema } from './record.ts';

/** Where the first fault of a whole record lies, as keys joined by points; undefined where it can be read again. */
export function faultIn(record: InstrumentRecord): string | undefined {
  const read = readRecord(record);
  if (read.kind === 'record') return undefined;
  return read.because === 'damaged' ? read.where : 'schema';
}

/**
 * Where the first of the changes leaves something that cannot be read again; undefined where all can.
 * @param record as it stands after the changes
 */
export function faultOf(record: InstrumentRecord, changes: readonly Change[]): string | undefined {
  for (const { path } of changes) {
    const part = changedPart(record, path);
    if (part === undefined) continue;
    const parsed = v.safeParse(part.schema, part.value, { abortEarly: true });
    if (parsed.success) continue;
    return [...part.path, v.getDotPath(parsed.issues[0]) ?? ''].filter((key) => key !== '').join('.');
  }
  return undefined;
}

/** The part of a record that a change is judged by. */
interface Part {
  readonly path: readonly string[];
  readonly schema: v.GenericSchema;
  readonly value: unknown;
}

/**
 * The changed part with its schema, or the choice of shapes around it: what a field may be there depends on the others.
 * @returns undefined below a field that this version does not know, and for an element that is gone from its list
 */
function changedPart(record: InstrumentRecord, path: readonly string[]): Part | undefined {
  let schema: v.GenericSchema = recordSchema;
  let value: unknown = record;
  for (const [depth, segment] of path.entries()) {
    const inner = bare(schema);
    if ('options' in inner && 'key' in inner) return { path: path.slice(0, depth), schema, value };
    const isElement = segment.startsWith('#');
    const next = isElement ? itemOf(inner) : entryOf(inner, keyOfSegment(segment));
    if (next === undefined) return undefined;
    value = childAt(value, segment);
    if (isElement && value === undefined) return undefined;
    schema = next;
  }
  return { path, schema, value };
}

/** The schema without "may be absent". */
function bare(schema: v.GenericSchema): v.GenericSchema {
  return 'wrapped' in schema ? bare(schema.wrapped as v.GenericSchema) : schema;
}

const itemOf = (schema: v.GenericSchema): v.GenericSchema | undefined =>
  'item' in schema ? (schema.item as v.GenericSchema) : undefined;

/** A key of a record may be named like what every object inherits. */
const entryOf = (schema: v.GenericSchema, key: string): v.GenericSchema | undefined =>
  'entries' in schema && Object.hasOwn(schema.entries as object, key)
    ? (schema.entries as Record<string, v.GenericSchema>)[key]
    : undefined;
