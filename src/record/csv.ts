// Tables as text, RFC 4180: for machines first (comma, decimal point, UTF-8 without a mark, one header line).

/** A table: one header and rows of as many fields; null is an empty field. */
export interface CsvTable {
  readonly header: readonly string[];
  readonly rows: readonly (readonly (string | number | null)[])[];
}

function quoted(field: string): string {
  return /[",\r\n]/.test(field) ? `"${field.replaceAll('"', '""')}"` : field;
}

/**
 * A table as CSV text: CRLF line ends, shortest numbers that read back the same.
 * @throws RangeError for a row of another length than the header, or a number that is not finite
 * Source: RFC 4180 section 2.
 */
export function writeCsv({ header, rows }: CsvTable): string {
  const line = (fields: readonly (string | number | null)[], name: string): string => {
    if (fields.length !== header.length) {
      throw new RangeError(`writeCsv: ${name} has ${fields.length} fields, need ${header.length}`);
    }
    const texts = fields.map((field) => {
      if (field === null) return '';
      if (typeof field === 'string') return quoted(field);
      if (!Number.isFinite(field)) throw new RangeError(`writeCsv: ${name} holds ${field}, need a finite number`);
      return String(field);
    });
    // A lone empty field would read back as an empty line, which readers skip.
    return texts.length === 1 && texts[0] === '' ? '""' : texts.join(',');
  };
  return [line(header, 'header'), ...rows.map((row, k) => line(row, `row ${k + 1}`))]
    .map((text) => `${text}\r\n`)
    .join('');
}

/** A table of text read back, or where it stopped making sense. */
export type CsvReading =
  | { readonly kind: 'table'; readonly header: readonly string[]; readonly rows: readonly (readonly string[])[] }
  | {
      readonly kind: 'unreadable';
      /** line of the file, from 1 */
      readonly line: number;
      readonly because: 'empty' | 'quote-not-closed' | 'text-after-quote' | 'wrong-number-of-fields';
    };

/**
 * CSV text as a table of strings; accepts CRLF or LF, and a byte-order mark; empty lines are skipped.
 * @returns header and rows, or the line and the reason it cannot be read
 * Source: RFC 4180 section 2; its grammar, with bare LF allowed as spreadsheets write it.
 */
export function readCsv(text: string): CsvReading {
  const read = csvRecords(text.startsWith('\uFEFF') ? text.slice(1) : text);
  if (!Array.isArray(read)) return read;
  const [first, ...rest] = read;
  if (first === undefined) return { kind: 'unreadable', line: 1, because: 'empty' };
  const uneven = rest.find((record) => record.fields.length !== first.fields.length);
  if (uneven !== undefined) return { kind: 'unreadable', line: uneven.line, because: 'wrong-number-of-fields' };
  return { kind: 'table', header: first.fields, rows: rest.map((record) => record.fields) };
}

interface CsvRecord {
  readonly fields: string[];
  /** where it begins, from 1 */
  readonly line: number;
}

/** The records of a text as long as its quotes make sense; the empty lines left out. */
function csvRecords(source: string): CsvRecord[] | Extract<CsvReading, { kind: 'unreadable' }> {
  const records: CsvRecord[] = [];
  let fields: string[] = [];
  let field = '';
  let line = 1;
  let startLine = 1;
  let state: 'plain' | 'quoted' | 'after-quote' = 'plain';
  let wasQuoted = false;
  const endField = () => {
    fields.push(field);
    field = '';
    state = 'plain';
  };
  const endRecord = () => {
    const isEmptyLine = fields.length === 0 && field === '' && !wasQuoted;
    endField();
    if (!isEmptyLine) records.push({ fields, line: startLine });
    fields = [];
    wasQuoted = false;
  };
  for (let k = 0; k < source.length; k++) {
    const char = source[k]!;
    if (state === 'quoted') {
      if (char === '\n') line++;
      if (char !== '"') field += char;
      else if (source[k + 1] === '"') {
        field += '"';
        k++;
      } else state = 'after-quote';
      continue;
    }
    if (char === ',') endField();
    else if (char === '\n' || (char === '\r' && source[k + 1] === '\n')) {
      if (char === '\r') k++;
      endRecord();
      line++;
      startLine = line;
    } else if (state === 'after-quote') return { kind: 'unreadable', line, because: 'text-after-quote' };
    else if (char === '"' && field === '') {
      state = 'quoted';
      wasQuoted = true;
    } else field += char;
  }
  if (state === 'quoted') return { kind: 'unreadable', line: startLine, because: 'quote-not-closed' };
  if (field !== '' || fields.length > 0 || wasQuoted) endRecord();
  return records;
}
