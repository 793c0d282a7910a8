import { describe, expect, it } from 'vitest';
import { shapesTable, tappedPointShapes } from '../../src/forecast/shape-tables.ts';
import type { TapShapes } from '../../src/forecast/tap-shapes.ts';
import { newRecord } from '../../src/record/record.ts';
import type { RovingRound } from '../../src/record/roving-edit.ts';
import { recordToUff } from '../../src/record/uff-record.ts';
import { writeUff } from '../../src/record/uff-write.ts';

const AT = '2026-01-02T03:04:05.000Z';
const drawn = { contours: [], bands: [], places: { hold: [], tap: [] } };
const round: RovingRound = {
  id: 'round',
  atIso: AT,
  support: { hold: 'in-mould', bridge: 'off', strung: false },
  spot: 'roving',
  source: '',
  state: 'closed',
  taps: [],
  roving: {
    spots: [
      { xMm: 100, yMm: -50 },
      { xMm: 200, yMm: 0 },
      { xMm: 300, yMm: 25 },
    ],
  },
};
const answer: TapShapes = {
  kind: 'shapes',
  shapes: [
    {
      frequencyHz: { value: 173.5, sigma: 0.1 },
      q: 50,
      atSpots: [{ value: 1, sigma: 0.1 }, undefined, { value: -0.25, sigma: 0.05 }],
      signOdds: [1, undefined, 0.99],
      whole: {
        ...drawn,
        computed: 0,
        likeness: 0.98,
        doubtful: { from: 0, to: 1, polygons: [] },
        atSpots: [0.9, 0.5, -0.2],
      },
    },
  ],
  computed: [{ ...drawn, name: 'monopole', frequencyHz: { value: 176, sigma: 10 } }],
  likeness: [[0.93]],
  oddTaps: [],
  missingSpots: [1],
};
const record = newRecord({ id: 'r', createdAtIso: AT, name: 'Top' });

describe('measured shapes for other programs', () => {
  it('have a row for every mode and spot, empty where nothing was tapped', () => {
    const { header, rows } = shapesTable(record, round, answer);
    const at = (row: number, name: string) => rows[row]![header.indexOf(name)];
    expect(rows).toHaveLength(3);
    expect([0, 1, 2].map((row) => at(row, 'movement'))).toEqual([1, null, -0.25]);
    expect([0, 1, 2].map((row) => at(row, 'spot'))).toEqual([1, 2, 3]);
    expect(at(2, 'x_mm')).toBe(300);
    expect(at(0, 'computed_mode')).toBe('monopole');
    expect(at(0, 'likeness_at_spots')).toBe(0.93);
    expect(at(0, 'movement_whole')).toBe(0.9);
  });

  /** The lines of each dataset between its marks, by the number in its first line: read by the published layout alone. */
  const datasets = (text: string) => {
    const lines = text.split('\n');
    const found: { readonly number: number; readonly lines: readonly string[] }[] = [];
    for (let i = 0; i < lines.length; i++) {
      if (lines[i] !== '    -1') continue;
      const end = lines.indexOf('    -1', i + 1);
      if (end < 0) break;
      found.push({ number: Number(lines[i + 1]), lines: lines.slice(i + 2, end) });
      i = end;
    }
    return found;
  };
  const columns = (line: string, width: number, count: number) =>
    Array.from({ length: count }, (_, i) => Number(line.slice(i * width, (i + 1) * width)));

  it('are a universal file: spots as nodes in metres (dataset 15), movements out of the plate (dataset 55)', () => {
    const shapes = tappedPointShapes(round, answer)!;
    const read = datasets(writeUff(recordToUff(record, new Map(), new Map(), shapes)));
    const nodes = read
      .find(({ number }) => number === 15)!
      .lines.map((line) => ({
        node: Number(line.slice(0, 10)),
        at: columns(line.slice(40), 13, 3),
      }));
    expect(nodes).toEqual([
      { node: 1001, at: [0.1, -0.05, 0] },
      { node: 1003, at: [0.3, 0.025, 0] },
    ]);
    const shape = read.find(({ number }) => number === 55)!.lines;
    // Five lines of text; then model 1, normal mode 2, three translations 2, displacement 8, real 2, three values a node.
    expect(columns(shape[5]!, 10, 6)).toEqual([1, 2, 2, 8, 2, 3]);
    const [frequencyHz, , damping] = columns(shape[7]!, 13, 4);
    expect(frequencyHz).toBeCloseTo(173.5, 3);
    expect(damping).toBeCloseTo(0.01, 6);
    expect([8, 10].map((line) => Number(shape[line]))).toEqual([1001, 1003]);
    expect([9, 11].map((line) => columns(shape[line]!, 13, 3))).toEqual([
      [0, 0, 1],
      [0, 0, -0.25],
    ]);
  });

  it('have no nodes where the spots have no places', () => {
    expect(tappedPointShapes({ ...round, roving: { spots: [{}, {}, {}] } }, answer)).toBeUndefined();
  });
});
