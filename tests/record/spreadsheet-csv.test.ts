import { expect, test } from 'vitest';
import { writeSpreadsheetCsv } from '../../src/record/spreadsheet-csv.ts';

/** Characters that begin a formula. Source: OWASP, CSV Injection (from memory). */
test.each(['=', '+', '-', '@', '\t', '\r'])('text that begins with %j is shown and not run', (first) => {
  const written = writeSpreadsheetCsv({ header: ['note'], rows: [[`${first}1+2`]] });
  expect(written).toMatch(new RegExp(`\\n"?'\\${first}1\\+2`));
  expect(writeSpreadsheetCsv({ header: ['note'], rows: [[`a${first}1`]] })).not.toContain("'");
});

test('a number keeps its minus, and has the decimal sign of the country', () => {
  expect(writeSpreadsheetCsv({ header: ['a', 'b'], rows: [[-1.5, 2]] })).toBe('\uFEFFa;b\r\n-1,5;2\r\n');
  expect(writeSpreadsheetCsv({ header: ['a', 'b'], rows: [[-1.5, 2]] }, '.')).toBe('\uFEFFa,b\r\n-1.5,2\r\n');
  expect(() => writeSpreadsheetCsv({ header: ['a'], rows: [[Number.NaN]] })).toThrow(RangeError);
});
