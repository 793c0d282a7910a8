import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readCsv, writeCsv } from '../../src/record/csv.ts';

test('fields with comma, quote or line break are quoted and quotes doubled, lines end in CRLF', () => {
  // RFC 4180 section 2, rules 1, 6 and 7
  const text = writeCsv({
    header: ['name', 'note'],
    rows: [
      ['a,b', 'say "x"'],
      ['two\nlines', null],
    ],
  });
  expect(text).toBe('name,note\r\n"a,b","say ""x"""\r\n"two\nlines",\r\n');
});

test('whatever is written reads back the same', () => {
  const field = fc.oneof(fc.string(), fc.constantFrom('', '"', ',', '\r\n', 'a"b', ' x '));
  const table = fc
    .integer({ min: 1, max: 4 })
    .chain((n) => fc.array(fc.array(field, { minLength: n, maxLength: n }), { minLength: 1, maxLength: 6 }));
  fc.assert(
    fc.property(table, ([header, ...rows]) => {
      expect(readCsv(writeCsv({ header: header!, rows }))).toEqual({ kind: 'table', header, rows });
    }),
    { seed: 4180, numRuns: 300 },
  );
});

test('numbers are the shortest that read back as the same double', () => {
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (x) => {
      const read = readCsv(writeCsv({ header: ['x'], rows: [[x]] }));
      expect(read.kind === 'table' && Number(read.rows[0]![0]) === x).toBe(true);
    }),
    { seed: 4180, numRuns: 200 },
  );
  expect(() => writeCsv({ header: ['x'], rows: [[Number.NaN]] })).toThrow('row 1 holds NaN, need a finite number');
  expect(() => writeCsv({ header: ['x', 'y'], rows: [[1]] })).toThrow('row 1 has 1 fields, need 2');
});

test('files as spreadsheets write them are read: bare LF, a byte-order mark, no last line end', () => {
  expect(readCsv('\uFEFFa,b\n1,2\n\n3,4')).toEqual({
    kind: 'table',
    header: ['a', 'b'],
    rows: [
      ['1', '2'],
      ['3', '4'],
    ],
  });
});

test.each([
  ['', 1, 'empty'],
  ['a,b\r\n1,"2\r\n', 2, 'quote-not-closed'],
  ['a\r\n"1"2\r\n', 2, 'text-after-quote'],
  ['a,b\r\n"x\ny",1\r\n1,2,3\r\n', 4, 'wrong-number-of-fields'],
])('%j is refused with its line and reason', (text, line, because) => {
  expect(readCsv(text)).toEqual({ kind: 'unreadable', line, because });
});
