import { expect, test } from 'vitest';
import { readShelf, type ShelfRow, writeShelf } from '../../src/record/shelf-csv.ts';

const board: ShelfRow = {
  id: 'b-12',
  piece: 'top',
  species: 'sitka-spruce',
  length_mm: 550,
  width_mm: 210,
  thickness_mm: 4,
  mass_g: 189.42,
  moisture_percent: 8.5,
  density_kg_m3: 410,
  sigma_density_kg_m3: 4.2,
  e_long_gpa: 11.02,
  sigma_e_long_gpa: 0.34,
  e_cross_gpa: 0.851,
  sigma_e_cross_gpa: 0.027,
  g_lr_gpa: 0.76,
  sigma_g_lr_gpa: 0.024,
  q_long: 130,
  q_cross: null,
  q_twist: 75,
  notes: 'runout "slight", left half',
};
const billet: ShelfRow = { ...board, id: 's-3', piece: 'brace-stock', e_cross_gpa: null, notes: '' };

test('a shelf written is the shelf read', () => {
  expect(readShelf(writeShelf([board, billet]))).toEqual({ kind: 'shelf', rows: [board, billet], refused: [] });
  expect(readShelf(writeShelf([]))).toEqual({ kind: 'shelf', rows: [], refused: [] });
});

test('columns may stand in another order and others may be among them', () => {
  const [header, row] = writeShelf([{ ...board, notes: 'plain' }])
    .trim()
    .split('\r\n');
  const turned = (line: string) => [...line.split(',').reverse(), 'mine'].join(',');
  expect(readShelf(`${turned(header!)}\n${turned(row!)}\n`)).toMatchObject({ rows: [{ ...board, notes: 'plain' }] });
});

test.each([
  [{ length_mm: '55O' }, 'length_mm', 'not-a-number', '55O'],
  [{ mass_g: '0x10' }, 'mass_g', 'not-a-number', '0x10'],
  [{ density_kg_m3: '4100' }, 'density_kg_m3', 'out-of-range', '4100'],
  [{ piece: 'neck' }, 'piece', 'unknown-choice', 'neck'],
  [{ id: '' }, 'id', 'missing', ''],
  [{ id: 's-3' }, 'id', 'id-twice', 's-3'],
])('a row with %j is refused by row, column and reason; the good row is taken', (change, column, because, found) => {
  const header = Object.keys(board);
  const line = (row: Record<string, unknown>) =>
    header.map((key) => `"${String(row[key] ?? '').replaceAll('"', '""')}"`).join(',');
  const text = [header.join(','), line(billet), line({ ...board, ...change })].join('\r\n');
  expect(readShelf(text)).toEqual({ kind: 'shelf', rows: [billet], refused: [{ row: 2, column, because, found }] });
});

test('a file without the columns is no shelf, and names them', () => {
  expect(readShelf('id,piece\r\n1,top\r\n')).toMatchObject({ kind: 'columns-missing' });
  expect(readShelf('')).toEqual({ kind: 'unreadable', line: 1, because: 'empty' });
});

const header = Object.keys(board);
const lineOf = (row: Record<string, unknown>) =>
  header.map((key) => `"${String(row[key] ?? '').replaceAll('"', '""')}"`).join(',');
const readRow = (change: Record<string, unknown>) =>
  readShelf([header.join(','), lineOf({ ...board, ...change })].join('\r\n'));

test.each([
  // The bounds themselves are taken: what no board or billet goes beyond.
  ...([
    ['length_mm', 1, 5000],
    ['width_mm', 1, 2000],
    ['thickness_mm', 0.2, 300],
    ['mass_g', 0.1, 100_000],
    ['moisture_percent', 0, 60],
    ['density_kg_m3', 100, 1300],
    ['e_long_gpa', 1, 40],
    ['e_cross_gpa', 0.05, 10],
    ['g_lr_gpa', 0.05, 10],
    ['q_long', 1, 1000],
    ['q_cross', 1, 1000],
    ['q_twist', 1, 1000],
  ] as const),
])('%s is taken from %f to %f, empty as not measured, and nothing beyond', (column, low, high) => {
  for (const value of [low, high])
    expect(readRow({ [column]: value })).toMatchObject({ rows: [{ [column]: value }], refused: [] });
  expect(readRow({ [column]: null })).toMatchObject({ rows: [{ [column]: null }], refused: [] });
  for (const value of [low - 0.01, high * 1.001])
    expect(readRow({ [column]: value })).toMatchObject({
      rows: [],
      refused: [{ row: 1, column, because: 'out-of-range' }],
    });
});

test.each(['sigma_density_kg_m3', 'sigma_e_long_gpa', 'sigma_e_cross_gpa', 'sigma_g_lr_gpa'])(
  '%s may be nothing, not less',
  (column) => {
    expect(readRow({ [column]: 0 })).toMatchObject({ rows: [{ [column]: 0 }] });
    expect(readRow({ [column]: null })).toMatchObject({ rows: [{ [column]: null }] });
    expect(readRow({ [column]: -0.1 })).toMatchObject({ rows: [], refused: [{ column, because: 'out-of-range' }] });
  },
);

test.each([
  ['+550', 550],
  ['5.5e2', 550],
  ['550.', 550],
  [' 550 ', 550],
  ['5.5E+2', 550],
])('a length written %j is %d', (length_mm, value) => {
  expect(readRow({ length_mm })).toMatchObject({ rows: [{ length_mm: value }] });
});

test.each(['1e', '.', '5 5', '550mm', 'Infinity', '0x226', '1,5', '--5', '5-'])(
  'a length written %j is no number',
  (length_mm) => {
    expect(readRow({ length_mm })).toMatchObject({
      rows: [],
      refused: [{ column: 'length_mm', because: 'not-a-number' }],
    });
  },
);

test('a text too long is refused as that, and only its beginning is told', () => {
  for (const column of ['species', 'notes'])
    expect(readRow({ [column]: 'x'.repeat(1_000_000) })).toEqual({
      kind: 'shelf',
      rows: [],
      refused: [{ row: 1, column, because: 'too-long', found: 'x'.repeat(60) }],
    });
});

test.each(['top', 'back', 'side', 'brace-stock', 'bridge-blank'])('a %s is a piece', (piece) => {
  expect(readRow({ piece })).toMatchObject({ rows: [{ piece }] });
});

test('columns that are missing are all named, and no other', () => {
  expect(readShelf('id,piece,species,notes,mine\r\n1,top,x,y,z\r\n')).toEqual({
    kind: 'columns-missing',
    columns: header.filter((column) => !['id', 'piece', 'species', 'notes'].includes(column)),
  });
});

test('a number may have a sign, a power of ten, or nothing on one side of its point; what only looks like one has not', () => {
  const [header] = writeShelf([]).trim().split('\r\n');
  const read = (field: string) => {
    const columns = header!.split(',');
    const line = columns.map((column) =>
      column === 'mass_g' ? field : String({ id: 'a', piece: 'top' }[column] ?? ''),
    );
    const found = readShelf(`${header}\r\n${line.join(',')}\r\n`);
    if (found.kind !== 'shelf') throw new Error(found.kind);
    return found.rows[0]?.mass_g ?? found.refused[0]?.because;
  };
  const good = ['180', '+180', '180.', '180.5', '.5', '1.8e2', '1.8E+2', '1800e-1', '1.8e02', ' 180 '];
  expect(good.map(read)).toEqual([180, 180, 180, 180.5, 0.5, 180, 180, 180, 180, 180]);
  expect(read('-180')).toBe('out-of-range');
  const bad = [
    '.',
    '+',
    'e2',
    '1.8e',
    '1.8e+',
    '1 80',
    '180g',
    'g180',
    '1.8.0',
    '0x10',
    'Infinity',
    'NaN',
    '--180',
    '1e2e2',
  ];
  expect(bad.map(read)).toEqual(bad.map(() => 'not-a-number'));
});
