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
