import { describe, expect, test } from 'vitest';
import { movesTable } from '../../src/compare/moves-table.ts';
import { cutsTable, modesTable, stepsTable } from '../../src/compare/tables.ts';
import { demoPlan } from '../../src/demo/demo-plan.ts';
import { type CsvTable, readCsv, writeCsv } from '../../src/record/csv.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import type { InstrumentRecord } from '../../src/record/record.ts';
import { writeSpreadsheetCsv } from '../../src/record/spreadsheet-csv.ts';
import { story } from './story.ts';

/** One column of a table. */
const column = (table: CsvTable, name: string) => table.rows.map((row) => row[table.header.indexOf(name)]);

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
  const table: CsvTable = {
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

describe('every field of a row', () => {
  const rowsOf = ({ header, rows }: CsvTable) =>
    rows.map((row) => {
      expect(row).toHaveLength(header.length);
      return Object.fromEntries(header.map((name, i) => [name, row[i]]));
    });
  const [one] = story([{ modesHz: [194], massOffG: 0.5, humidityPercent: 45, spot: 'waist' }]).steps;
  const which = { record_id: 'i1', record: 'test', model: 'OM' };
  const noted: InstrumentRecord = {
    ...story([{ modesHz: [194] }]),
    model: 'OM',
    steps: [
      {
        ...one!,
        massG: 190.5,
        heard: 'duller',
        climate: { humidityPercent: 45, tempC: 19, hygrometer: 'shelf', hygrometerOffsetPercent: -2 },
        trust: { verdict: 'go' as const },
      } as InstrumentRecord['steps'][number],
    ],
  };

  test('of the steps', () => {
    const climate = { humidity_percent: 45, temp_c: 19, hygrometer: 'shelf', hygrometer_offset_percent: -2 };
    expect(rowsOf(stepsTable([noted]))).toEqual([
      {
        ...which,
        ...climate,
        step: 1,
        step_id: 's0',
        at: one!.atIso,
        stage: 'braced',
        done: 'cut 0',
        mass_g: 190.5,
        mass_off_g: 0.5,
        height_off_mm: 0.5,
        trust_check: 'go',
        rounds: 1,
        taps: 0,
        heard: 'duller',
      },
    ]);
    const bare = rowsOf(stepsTable([{ ...noted, steps: [{ ...noted.steps[0]!, climate: {}, cuts: [] }] }]))[0]!;
    expect(bare).toMatchObject({
      mass_off_g: null,
      height_off_mm: null,
      humidity_percent: null,
      temp_c: null,
      hygrometer: null,
      hygrometer_offset_percent: null,
    });
  });

  test('of the modes, with how many taps they rest on and whether the scatter of holding is in them', () => {
    const [round] = noted.steps[0]!.rounds;
    const used = [0, 1, 2].map((tap) => ({ hold: 0, tap }));
    const support = { hold: 'at-node', bridge: 'glued', strung: true } as const;
    const fit = { ...round!.fit!, used };
    const step = {
      ...noted.steps[0]!,
      rounds: [
        { ...round!, state: 'open' as const, id: 'open' },
        { ...round!, support, fit },
      ],
    };
    const row = {
      ...which,
      step: 1,
      step_id: 's0',
      stage: 'braced',
      round: 2,
      round_id: 'r0',
      at: round!.atIso,
      hold: 'at-node',
      bridge: 'glued',
      strung: 'yes',
      spot: 'waist',
      name: 'monopole',
      frequency_hz: 194,
      sigma_hz: 0.1,
      q: 40,
      q_sigma: 1,
      level_db: -20,
      resolution: 'single',
      taps_used: 3,
      scatter_known: 'yes',
      method: 'test',
    };
    expect(rowsOf(modesTable([{ ...noted, steps: [step] }]))).toEqual([row]);
    const unsure = { ...step, rounds: [{ ...round!, support, fit: { ...fit, scatterKnown: false } }] };
    expect(rowsOf(modesTable([{ ...noted, steps: [unsure] }]))).toEqual([{ ...row, round: 1, scatter_known: 'no' }]);
  });

  test('of the cuts: one in words as it was told, one of the plan from the end that the page reads', () => {
    const cut = { id: 'c', brace: 'X leg', braceIds: [], fromMm: 20, toMm: 60, offMm: 1.5, heightLeftMm: 9 };
    const inWords = { ...noted, steps: [{ ...noted.steps[0]!, cuts: [cut] }] };
    const row = {
      ...which,
      step: 1,
      step_id: 's0',
      brace: 'X leg',
      from_mm: 20,
      to_mm: 60,
      from_end: null,
      off_mm: 1.5,
      mass_off_g: null,
      weighed: 'no',
      height_left_mm: 9,
    };
    expect(rowsOf(cutsTable([inWords]))).toEqual([row]);
    const weighed = { ...noted, steps: [{ ...noted.steps[0]!, cuts: [{ ...cut, weighedG: 0.4 }] }] };
    expect(rowsOf(cutsTable([weighed]))).toEqual([{ ...row, mass_off_g: 0.4, weighed: 'yes' }]);
    // A brace drawn from its neck end, 200 mm long: 20 to 60 mm are 140 to 180 from its tail end.
    const bare = startPlan('right');
    const brace = {
      ...demoPlan().braces[0]!,
      id: 'long',
      from: { xMm: 300, yMm: 0 },
      to: { xMm: 100, yMm: 0 },
      profile: [
        { atMm: 0, heightMm: 12 },
        { atMm: 200, heightMm: 12 },
      ],
    };
    const drawn = {
      ...noted,
      plan: { ...bare, braces: [brace] },
      steps: [{ ...noted.steps[0]!, cuts: [{ ...cut, braceIds: ['long'] }] }],
    };
    const [onPlan] = rowsOf(cutsTable([drawn]));
    expect(onPlan).toMatchObject({ from_mm: 140, to_mm: 180, from_end: 'tail', weighed: 'no', off_mm: 1.5 });
    expect(onPlan!['mass_off_g']).toBeGreaterThan(0);
  });

  test('a mode goes by the name of the nearest within 30 cents of what the rounds say together', () => {
    const cents = (hz: number, by: number) => hz * 2 ** (by / 1200);
    const named = (heardHz: number) => {
      const told = story([{ modesHz: [200] }, { modesHz: [heardHz] }]);
      // Two rounds of one step: the first ten thousand times as sure, so that the mode lies where it says.
      const [first, second] = told.steps.map((step) => step.rounds[0]!);
      const sure = first!.fit!.modes.map((mode) => ({ ...mode, frequencyHz: { value: 200, sigma: 1e-5 } }));
      const rounds = [{ ...first!, fit: { ...first!.fit!, modes: sure } }, second!];
      return rowsOf(modesTable([{ ...told, steps: [{ ...told.steps[0]!, rounds }] }])).map(({ name }) => name);
    };
    expect(named(cents(200, 25))).toEqual(['monopole', 'monopole']);
    expect(named(cents(200, -25))).toEqual(['monopole', 'monopole']);
    expect(named(cents(200, 35))).toEqual(['monopole', null]);
  });

  test('of two modes that are near, the nearer gives its name', () => {
    const told = story([{ modesHz: [200, 202] }]);
    const pins = [
      { id: 'a', stepId: 's0', mode: 'lower', frequencyHz: 200 },
      { id: 'b', stepId: 's0', mode: 'upper', frequencyHz: 202 },
    ];
    expect(rowsOf(modesTable([{ ...told, pins }])).map(({ name }) => name)).toEqual(['lower', 'upper']);
  });

  test('of several records one after the other, each under its own', () => {
    const other = { ...noted, id: 'i2', name: 'other', model: 'D' };
    for (const make of [stepsTable, cutsTable, modesTable])
      expect(rowsOf(make([noted, other])).map(({ record_id, record, model }) => [record_id, record, model])).toEqual([
        ['i1', 'test', 'OM'],
        ['i2', 'other', 'D'],
      ]);
  });
});
