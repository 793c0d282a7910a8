import { describe, expect, test } from 'vitest';
import { movesTable } from '../../src/compare/moves-table.ts';
import { cutsTable, modesTable, stepsTable } from '../../src/compare/tables.ts';
import { readCsv, type Table, writeCsv } from '../../src/record/csv.ts';
import { writeSpreadsheetCsv } from '../../src/record/spreadsheet-csv.ts';
import { story } from './story.ts';

/** One column of a table. */
const column = (table: Table, name: string) => table.rows.map((row) => row[table.header.indexOf(name)]);

const record = story([
  { modesHz: [194, 271], humidityPercent: 45 },
  { modesHz: [189, 266], massOffG: 0.5, humidityPercent: 47 },
  { modesHz: [240], massOffG: 0.25, stage: 'on-rims', support: { hold: 'at-node', bridge: 'off', strung: false } },
  { modesHz: [186, 263, 400], massOffG: 0.5, spot: 'elsewhere' },
]);

describe('tables of a record', () => {
  test('steps say what was done and taken off; what was not noted is an empty field', () => {
    const table = stepsTable([record]);
    expect(column(table, 'step')).toEqual([1, 2, 3, 4]);
    expect(column(table, 'mass_off_g')).toEqual([null, 0.5, 0.25, 0.5]);
    expect(column(table, 'humidity_percent')).toEqual([45, 47, null, null]);
    expect(column(table, 'stage')).toEqual(['braced', 'braced', 'on-rims', 'braced']);
    expect(column(cutsTable([record]), 'brace')).toEqual(['X lower legs', 'X lower legs', 'X lower legs']);
  });

  test('a Q that the recorder spoilt is an empty field, the frequency stands', () => {
    const [step] = record.steps;
    const [round] = step!.rounds;
    const fit = { ...round!.fit!, recorder: 'gain-control' as const };
    const table = modesTable([{ ...record, steps: [{ ...step!, rounds: [{ ...round!, fit }] }] }]);
    expect(column(table, 'frequency_hz')).toEqual([194, 271]);
    expect([column(table, 'q'), column(table, 'q_sigma')]).toEqual([
      [null, null],
      [null, null],
    ]);
  });

  test('a Q whose interval reaches down to zero is an empty field too, as it is none on the page', () => {
    const [step] = record.steps;
    const [round] = step!.rounds;
    const known = round!.fit!.modes.map((mode, i) => ({ ...mode, q: { value: 40, sigma: i === 0 ? 20 : 21 } }));
    const fit = { ...round!.fit!, modes: known };
    const table = modesTable([{ ...record, steps: [{ ...step!, rounds: [{ ...round!, fit }] }] }]);
    expect([column(table, 'q'), column(table, 'q_sigma')]).toEqual([
      [40, null],
      [20, null],
    ]);
  });

  test('a step says how many rounds and how many taps in all', () => {
    const [step] = record.steps;
    const [round] = step!.rounds;
    const note = { id: 't', atIso: step!.atIso, sampleRateHz: 48_000, aboveRoomDb: 40, hold: 0 };
    const with_ = (count: number) => ({ ...round!, taps: Array.from({ length: count }, () => note) });
    const table = stepsTable([{ ...record, steps: [{ ...step!, rounds: [with_(3), with_(2)] }] }]);
    expect([column(table, 'rounds'), column(table, 'taps')]).toEqual([[2], [5]]);
  });

  test('modes carry the name given once through all steps, and their uncertainty', () => {
    const table = modesTable([record]);
    expect(column(table, 'frequency_hz')).toEqual([194, 271, 189, 266, 240, 186, 263, 400]);
    expect(column(table, 'name')).toEqual(['monopole', null, 'monopole', null, null, 'monopole', null, null]);
    expect(new Set(column(table, 'sigma_hz'))).toEqual(new Set([0.1]));
    expect(new Set(column(table, 'q_sigma'))).toEqual(new Set([1]));
  });

  test('a round that was not read yet has no modes to tell, and leaves those of the others', () => {
    const [first, ...others] = record.steps;
    const { fit: _fit, ...unread } = first!.rounds[0]!;
    const steps = [{ ...first!, rounds: [...first!.rounds, { ...unread, id: 'unread' }] }, ...others];
    expect(modesTable([{ ...record, steps }]).rows).toEqual(modesTable([record]).rows);
  });

  test('moves are between signatures that may be compared, with all that was taken off in between', () => {
    const table = movesTable([record]);
    expect(column(table, 'from_step')).toEqual([1, 1, 2, 2, 2]);
    expect(column(table, 'to_step')).toEqual([2, 2, 4, 4, 4]);
    expect(column(table, 'move_hz')).toEqual([-5, -5, -3, -3, null]);
    expect(column(table, 'mode')).toEqual(['moved', 'moved', 'moved', 'moved', 'appeared']);
    // Two readings of 0.1 Hz each (JCGM 100:2008 eq. 10).
    expect(column(table, 'move_sigma_hz')[0]).toBeCloseTo(Math.hypot(0.1, 0.1), 12);
    expect(column(table, 'mass_off_g')).toEqual([0.5, 0.5, 0.75, 0.75, 0.75]);
    expect(column(table, 'humidity_change_percent')).toEqual([2, 2, null, null, null]);
    expect(column(table, 'same_spot')).toEqual(['yes', 'yes', 'no', 'no', 'no']);
  });

  test('each table has as many fields in a row as in its header, and reads back as machine CSV', () => {
    for (const make of [stepsTable, cutsTable, modesTable, movesTable]) {
      const table = make([record, record]);
      const read = readCsv(writeCsv(table));
      expect(read.kind === 'table' && read.rows).toEqual(
        table.rows.map((row) => row.map((field) => (field === null ? '' : String(field)))),
      );
      expect(table.header.every((name) => /^[a-z][a-z0-9_]*$/.test(name))).toBe(true);
    }
  });
});

describe('tables for a spreadsheet', () => {
  const table: Table = {
    header: ['name', 'frequency_hz'],
    rows: [
      ['a;b', 1.5],
      ['plain', -2e-7],
      [null, 3],
    ],
  };

  test('a decimal comma goes with semicolons, behind a byte-order mark', () => {
    expect(writeSpreadsheetCsv(table)).toBe('\uFEFFname;frequency_hz\r\n"a;b";1,5\r\nplain;-2e-7\r\n;3\r\n');
    expect(writeSpreadsheetCsv(table, '.')).toBe('\uFEFFname,frequency_hz\r\n"a;b",1.5\r\nplain,-2e-7\r\n,3\r\n');
  });

  test.each(['=1+1', '+1', '-1', '@sum', '\tx'])('%j is made harmless as a formula', (text) => {
    expect(writeSpreadsheetCsv({ header: ['a'], rows: [[text]] })).toContain(`\r\n'${text}\r\n`);
  });

  test('quotes are doubled and line breaks quoted (RFC 4180 section 2)', () => {
    const text = 'he said "so"\r\nand left';
    expect(writeSpreadsheetCsv({ header: ['a'], rows: [[text]] })).toContain('"he said ""so""\r\nand left"');
  });
});
