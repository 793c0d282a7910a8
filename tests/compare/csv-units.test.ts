// The unit in the name of a column of a table is that of the quantity in `record/quantities.ts`.
import { expect, test } from 'vitest';
import { rowOf } from '../../src/compare/piece-table.ts';
import { cutsTable, modesTable, stepsTable } from '../../src/compare/tables.ts';
import { type Measure, type QuantityName, quantities } from '../../src/record/quantities.ts';
import { freshPiece } from '../../src/record/wood-edit.ts';

/** How a unit is written in a name. */
const suffixes: Partial<Record<Measure, string>> = {
  mm: 'mm',
  g: 'g',
  c: 'c',
  percent: 'percent',
  hz: 'hz',
  db: 'db',
  gpa: 'gpa',
  kgM3: 'kg_m3',
};

const columns: Readonly<Record<string, QuantityName>> = {
  mass_g: 'pieceMass',
  mass_off_g: 'shavings',
  height_off_mm: 'cutDepth',
  humidity_percent: 'humidity',
  temp_c: 'airTemperature',
  hygrometer_offset_percent: 'hygrometerOffset',
  from_mm: 'stretchFrom',
  to_mm: 'stretchTo',
  off_mm: 'cutDepth',
  height_left_mm: 'heightLeft',
  frequency_hz: 'wantedHz',
  sigma_hz: 'toleranceHz',
  length_mm: 'boardLength',
  width_mm: 'boardWidth',
  thickness_mm: 'boardThickness',
  density_kg_m3: 'density',
  e_long_gpa: 'modulusAlong',
  e_cross_gpa: 'modulusAcross',
  g_lr_gpa: 'shearModulus',
};

test('every column of a quantity carries its unit, and every unit in a name is that of a quantity', () => {
  const heads = [
    ...[stepsTable([]), cutsTable([]), modesTable([])].flatMap(({ header }) => header),
    ...Object.keys(rowOf(freshPiece('p', 'top', 'Board', ''))),
  ];
  for (const [column, name] of Object.entries(columns)) {
    expect(heads, column).toContain(column);
    expect(column.endsWith(`_${suffixes[quantities[name].measure]}`), `${column} for ${name}`).toBe(true);
  }
  // What carries a unit and is none of them is a level or a spread, which no field asks for, or the moisture of a board.
  const withUnit = heads.filter((head) => /_(mm|g|c|percent|hz|db|gpa|kg_m3|in|oz|f)$/.test(head));
  expect(withUnit.filter((head) => !(head in columns) && !head.startsWith('sigma_')).toSorted()).toEqual([
    'level_db',
    'moisture_percent',
  ]);
});
