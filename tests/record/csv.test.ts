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

test.each([
  ['a,b', [], 'a header alone, without a line end'],
  ['a,b\r\n,\r\n', [['', '']], 'empty fields'],
  ['a,b\n1,', [['1', '']], 'an empty last field without a line end'],
  ['a,b\n1,""', [['1', '']], 'a quoted empty last field'],
  ['a,b\n"x""y","\r\n"', [['x"y', '\r\n']], 'quotes within quotes, and a line end'],
  ['a,b\n1"2,3', [['1"2', '3']], 'a quote within a field, which is a letter like any other'],
  ['a,b\n1\r2,3', [['1\r2', '3']], 'a lone carriage return, which is one too'],
  ['\n\na,b\n\n1,2\n\n', [['1', '2']], 'empty lines anywhere'],
])('%j is read with %j: %s', (text, rows) => {
  expect(readCsv(text)).toEqual({ kind: 'table', header: ['a', 'b'], rows });
});

test('a column of its own may hold nothing, quoted so that its line is one', () => {
  expect(writeCsv({ header: ['a'], rows: [[''], [null], ['x']] })).toBe('a\r\n""\r\n""\r\nx\r\n');
  expect(readCsv('a\n""\n"')).toEqual({ kind: 'unreadable', line: 3, because: 'quote-not-closed' });
  expect(readCsv('a\n""')).toEqual({ kind: 'table', header: ['a'], rows: [['']] });
});

test('the line of a fault counts the lines within quotes, and that of an open quote is where its record began', () => {
  expect(readCsv('a\r\n"x\r\ny"\r\n"1"2')).toMatchObject({ line: 4, because: 'text-after-quote' });
  expect(readCsv('a,b\n\n"x\ny",1\n"z\n\n')).toMatchObject({ line: 5, because: 'quote-not-closed' });
  expect(readCsv('a,b\n1,2\n3\n')).toMatchObject({ line: 3, because: 'wrong-number-of-fields' });
  expect(readCsv('\n\n')).toEqual({ kind: 'unreadable', line: 1, because: 'empty' });
});
