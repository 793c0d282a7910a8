// Reading a record that comes from outside: storage, a file, another machine. Older formats are led forward one
// version at a time; a newer one is refused with the bytes left alone.
import * as v from 'valibot';
import { type InstrumentRecord, recordFormat, recordSchema } from './record.ts';

/** The record, or why it cannot be read. */
export type ReadResult =
  | { readonly kind: 'record'; readonly record: InstrumentRecord }
  | { readonly kind: 'refused'; readonly because: 'newer-version'; readonly version: number }
  | { readonly kind: 'refused'; readonly because: 'foreign' }
  | { readonly kind: 'refused'; readonly because: 'damaged'; readonly where: string; readonly problem: string };

/** Step n leads a document of version n + 1 to version n + 2. There is no older version than 1 yet. */
const migrations: readonly ((document: Readonly<Record<string, unknown>>) => Readonly<Record<string, unknown>>)[] = [];

const familyName = recordFormat.slice(0, recordFormat.indexOf('/'));
export const currentVersion = migrations.length + 1;

/**
 * Reads a parsed JSON document as an instrument record.
 * @param document anything
 */
export function readRecord(document: unknown): ReadResult {
  if (typeof document !== 'object' || document === null || Array.isArray(document))
    return { kind: 'refused', because: 'foreign' };
  const schema = (document as Readonly<Record<string, unknown>>)['schema'];
  const match = typeof schema === 'string' ? /^([a-z-]+)\/([0-9]{1,6})$/.exec(schema) : null;
  if (match === null || match[1] !== familyName) return { kind: 'refused', because: 'foreign' };
  const version = Number(match[2]);
  if (version > currentVersion) return { kind: 'refused', because: 'newer-version', version };
  let current = document as Readonly<Record<string, unknown>>;
  for (const migrate of migrations.slice(Math.max(0, version - 1))) current = migrate(current);
  const parsed = v.safeParse(recordSchema, current);
  if (parsed.success) return { kind: 'record', record: parsed.output };
  const issue = parsed.issues[0];
  return { kind: 'refused', because: 'damaged', where: v.getDotPath(issue) ?? '', problem: issue.message };
}
