import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readCsv } from '../../src/record/csv.ts';
import { readShelf, writeShelf } from '../../src/record/shelf-csv.ts';
import { fuzzRuns, fuzzTimeout } from './runs.ts';

test('tables of random and mutated text are read or refused with a line, never thrown at', {
  timeout: fuzzTimeout,
}, () => {
  const whole = `${writeShelf([])}a,top,spruce,550,,2.9,,,,,,,,,,,,,,"quoted, ""text"""\r\n`;
  const mutated = fc
    .array(fc.tuple(fc.nat(whole.length), fc.nat(9), fc.constantFrom('', '"', ',', '\r\n', '\n', 'NaN', '1e999')))
    .map((cuts) => cuts.reduce((text, [at, length, put]) => text.slice(0, at) + put + text.slice(at + length), whole));
  fc.assert(
    fc.property(fc.oneof(fc.string(), mutated), (text) => {
      const table = readCsv(text);
      if (table.kind === 'unreadable') expect(table.line).toBeGreaterThanOrEqual(1);
      else expect(table.rows.every((row) => row.length === table.header.length)).toBe(true);
      const shelf = readShelf(text);
      expect(['shelf', 'unreadable', 'columns-missing']).toContain(shelf.kind);
    }),
    fuzzRuns,
  );
});
