// Tables for a spreadsheet: the explicit second choice beside machine CSV (csv.ts), for double-clicking and not for
// reading back.
import type { CsvTable } from './csv.ts';

/**
 * A table as a spreadsheet of the reader's country opens it: byte-order mark, CRLF, and with a decimal comma the
 * semicolon between fields. Text that a spreadsheet would run as a formula gets an apostrophe in front.
 * @throws RangeError for a number that is not finite
 * Source: RFC 4180 section 2 but for separator and mark; which separator goes with which decimal: common practice of
 * spreadsheets, no source; the characters that begin a formula: OWASP, CSV Injection (from memory).
 */
export function writeSpreadsheetCsv({ header, rows }: CsvTable, decimal: ',' | '.' = ','): string {
  const separator = decimal === ',' ? ';' : ',';
  const field = (value: string | number | null): string => {
    if (value === null) return '';
    if (typeof value === 'string') return quoted(/^[=+\-@\t\r]/.test(value) ? `'${value}` : value);
    if (!Number.isFinite(value)) throw new RangeError(`writeSpreadsheetCsv: ${value}, need a finite number`);
    return String(value).replace('.', decimal);
  };
  const lines = [header, ...rows].map((fields) => `${fields.map(field).join(separator)}\r\n`);
  return `\uFEFF${lines.join('')}`;
}

const quoted = (text: string): string => (/[",;\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
