// Reading a record that comes from outside: storage, a file, another machine. Older formats are led forward one
// version at a time; a newer one is refused with the bytes left alone.
import * as v from 'valibot';
import { from1to2 } from './migrate-1-2.ts';
import { type InstrumentRecord, recordFormat, recordSchema } from './record.ts';

/** The record, or why it cannot be read. */
export type ReadResult =
  | { readonly kind: 'record'; readonly record: InstrumentRecord }
  | { readonly kind: 'refused'; readonly because: 'newer-version'; readonly version: number }
  | { readonly kind: 'refused'; readonly because: 'foreign' }
  | { readonly kind: 'refused'; readonly because: 'damaged'; readonly where: string; readonly problem: string };

/** The record of a text, or why there is none. */
export type TextReadResult =
  | ReadResult
  | { readonly kind: 'refused'; readonly because: 'not-json' | 'too-long' | 'too-deep' };

type Document = Readonly<Record<string, unknown>>;

/** Leads a document of one version to the next; the schema's number is set for it. */
export type Migration = (document: Document) => Document;

/** Step n leads a document of version n + 1 to version n + 2. */
const migrations: readonly Migration[] = [from1to2];

const familyName = recordFormat.slice(0, recordFormat.indexOf('/'));
const currentVersion = migrations.length + 1;

/** A format of records: which version it is, and how a stored document is read in it. */
export interface RecordFormat {
  readonly version: number;
  /** version of a document; undefined where it is none of ours */
  versionOf(document: unknown): number | undefined;
  /** reads a document, an older one led forward */
  read(document: unknown): ReadResult;
}

/** The format that this program writes. */
export const currentFormat: RecordFormat = { version: currentVersion, versionOf, read: readRecord };

function versionOf(document: unknown): number | undefined {
  if (typeof document !== 'object' || document === null || Array.isArray(document)) return undefined;
  const schema = (document as Document)['schema'];
  const match = typeof schema === 'string' ? /^([a-z-]+)\/([1-9][0-9]{0,5})$/.exec(schema) : null;
  return match?.[1] === familyName ? Number(match[2]) : undefined;
}

/**
 * Reads a parsed JSON document as an instrument record.
 * @param document anything
 */
export function readRecord(document: unknown): ReadResult {
  const version = versionOf(document);
  if (version === undefined) return { kind: 'refused', because: 'foreign' };
  if (version > currentVersion) return { kind: 'refused', because: 'newer-version', version };
  const parsed = v.safeParse(recordSchema, inPresentFormat(document), { abortEarly: true });
  if (parsed.success) return { kind: 'record', record: parsed.output };
  const issue = parsed.issues[0];
  return { kind: 'refused', because: 'damaged', where: v.getDotPath(issue) ?? '', problem: issue.message };
}

/** A document of a version up to the present one in the present form, whether it is sound or not; any other as it is. */
export function inPresentFormat(document: unknown): unknown {
  const version = versionOf(document);
  return version === undefined || version > currentVersion
    ? document
    : ledForward(document as Document, version, migrations);
}

/** The document in the version that the last of the migrations leads to. @param version version it is in, >= 1 */
export function ledForward(document: Document, version: number, steps: readonly Migration[]): Document {
  return steps
    .slice(version - 1)
    .reduce(
      (current, step, i): Document => ({ ...step(current), schema: `${familyName}/${version + i + 1}` }),
      document,
    );
}

/** Longest text of a record, characters: some ten times a record of a thousand steps. */
const longestText = 64 * 2 ** 20;
/** Levels of a record are below ten; the rest is for fields that this version does not know. */
const deepestLevel = 100;

/** Reads the text of a record file. Never throws, whatever the text. */
export function readRecordText(text: string): TextReadResult {
  if (text.length > longestText) return { kind: 'refused', because: 'too-long' };
  let document: unknown;
  try {
    document = JSON.parse(text.startsWith('\uFEFF') ? text.slice(1) : text);
  } catch {
    // JSON.parse throws on whatever is no JSON: NaN, a file that breaks off.
    return { kind: 'refused', because: 'not-json' };
  }
  return tidied(document) ? readRecord(document) : { kind: 'refused', because: 'too-deep' };
}

/** The text of a record file. */
export const recordText = (record: InstrumentRecord): string => `${JSON.stringify(record, null, 1)}\n`;

/**
 * Takes out of a freshly parsed document, in place, the keys by which an object could pass for another's prototype, and
 * puts null for numbers beyond all bounds (1e999 is JSON, but what it reads as cannot be written again).
 * @returns false where the document is nested too deeply to be walked by recursion later
 */
function tidied(document: unknown): boolean {
  let level: object[] = isContainer(document) ? [document] : [];
  for (let depth = 0; level.length > 0; depth++) {
    if (depth > deepestLevel) return false;
    const below: object[] = [];
    for (const node of level) {
      for (const key of ['__proto__', 'constructor', 'prototype'])
        if (Object.hasOwn(node, key)) Reflect.deleteProperty(node, key);
      for (const [key, value] of Object.entries(node)) {
        if (isContainer(value)) below.push(value);
        else if (value === Infinity || value === -Infinity) Reflect.set(node, key, null);
      }
    }
    level = below;
  }
  return true;
}

const isContainer = (value: unknown): value is object => typeof value === 'object' && value !== null;
