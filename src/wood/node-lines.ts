// Where a mode stands still: node lines of a board as polylines in millimetres, for drawing where to hold and tap.
import type { BoardSize } from './board-energy.ts';
import type { BoardMode } from './board-modes.ts';
import { legendreValues } from './legendre.ts';

/** A point on the board, mm from the lower left corner, x along the grain. */
export interface PointMm {
  readonly xMm: number;
  readonly yMm: number;
}

/** Deflection of one mode on a grid of the board, x index slow; largest magnitude 1. */
export interface DeflectionGrid {
  readonly columns: number;
  readonly rows: number;
  readonly values: Float64Array;
}

/** Sample a mode on `columns` x `rows` points that include the edges. */
export function deflectionGrid(mode: BoardMode, columns = 49, rows = 33): DeflectionGrid {
  const count = Math.round(Math.sqrt(mode.shape.length));
  const [px, py] = mode.parity;
  const at = (k: number, points: number) => legendreValues(2 * count, (2 * k) / (points - 1) - 1);
  const alongY = Array.from({ length: rows }, (_, j) => at(j, rows));
  const values = new Float64Array(columns * rows);
  const across = new Float64Array(count);
  for (let i = 0; i < columns; i++) {
    const alongX = at(i, columns);
    across.fill(0);
    for (let p = 0; p < count; p++) {
      for (let q = 0; q < count; q++) across[q]! += mode.shape[p * count + q]! * alongX[2 * p + px]!;
    }
    for (let j = 0; j < rows; j++) {
      for (let q = 0; q < count; q++) values[i * rows + j]! += across[q]! * alongY[j]![2 * q + py]!;
    }
  }
  const largest = values.reduce((most, each) => Math.max(most, Math.abs(each)), 0);
  return { columns, rows, values: values.map((each) => each / largest) };
}

/** Zero crossings of one cell: keys of the two crossed grid sides. */
type Segment = readonly [string, string];

/**
 * Node lines of a mode, longest first.
 * @param mode of boardModes
 * @param size board in m, for the millimetres
 * @returns polylines, mm; a line that ends does so at an edge of the board
 * Source: marching squares with linear interpolation; a saddle cell is split by the sign at its middle.
 */
export function nodeLines(
  mode: BoardMode,
  size: Pick<BoardSize, 'lengthM' | 'widthM'>,
): readonly (readonly PointMm[])[] {
  const grid = deflectionGrid(mode);
  const { columns, rows, values } = grid;
  const at = (i: number, j: number) => values[i * rows + j]!;
  // Zero counts as positive, so that a node line through grid points is crossed once.
  const isUp = (i: number, j: number) => at(i, j) >= 0;
  const points = new Map<string, PointMm>();
  const crossing = (i: number, j: number, k: number, l: number): string => {
    const key = `${i},${j},${k},${l}`;
    const t = at(i, j) / (at(i, j) - at(k, l));
    const x = (i + t * (k - i)) / (columns - 1);
    const y = (j + t * (l - j)) / (rows - 1);
    points.set(key, { xMm: x * size.lengthM * 1000, yMm: y * size.widthM * 1000 });
    return key;
  };
  const segments: Segment[] = [];
  for (let i = 0; i + 1 < columns; i++) {
    for (let j = 0; j + 1 < rows; j++) {
      const sides: string[] = [];
      if (isUp(i, j) !== isUp(i + 1, j)) sides.push(crossing(i, j, i + 1, j));
      if (isUp(i + 1, j) !== isUp(i + 1, j + 1)) sides.push(crossing(i + 1, j, i + 1, j + 1));
      if (isUp(i, j + 1) !== isUp(i + 1, j + 1)) sides.push(crossing(i, j + 1, i + 1, j + 1));
      if (isUp(i, j) !== isUp(i, j + 1)) sides.push(crossing(i, j, i, j + 1));
      if (sides.length === 2) segments.push([sides[0]!, sides[1]!]);
      if (sides.length === 4) {
        const middleUp = at(i, j) + at(i + 1, j) + at(i, j + 1) + at(i + 1, j + 1) >= 0;
        const [south, east, north, west] = sides as [string, string, string, string];
        segments.push(
          ...((middleUp === isUp(i, j)
            ? [
                [south, east],
                [north, west],
              ]
            : [
                [south, west],
                [east, north],
              ]) as Segment[]),
        );
      }
    }
  }
  return chain(segments)
    .map((keys) => keys.map((key) => points.get(key)!))
    .sort((p, q) => q.length - p.length);
}

/** Join segments that share an end into polylines. */
function chain(segments: readonly Segment[]): string[][] {
  const touching = new Map<string, number[]>();
  segments.forEach((segment, index) => {
    for (const key of segment) touching.set(key, [...(touching.get(key) ?? []), index]);
  });
  const used = new Set<number>();
  const walk = (from: string): string[] => {
    const line = [from];
    let here = from;
    for (;;) {
      const next = touching.get(here)!.find((index) => !used.has(index));
      if (next === undefined) return line;
      used.add(next);
      const [p, q] = segments[next]!;
      here = p === here ? q : p;
      line.push(here);
    }
  };
  const ends = [...touching].filter(([, indices]) => indices.length === 1).map(([key]) => key);
  // Open lines first, from their ends; what is left are closed rings.
  const starts = [...ends, ...segments.map(([key]) => key)];
  return starts.map(walk).filter((line) => line.length > 1);
}
