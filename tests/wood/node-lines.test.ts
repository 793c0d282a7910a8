// Node lines and deflections of shapes that are written down in Legendre's polynomials.
import { describe, expect, test } from 'vitest';
import { boardModes } from '../../src/wood/board-modes.ts';
import { deflectionGrid, nodeLines, type PointMm } from '../../src/wood/node-lines.ts';
import { once } from '../once.ts';

const size = { lengthM: 0.5, widthM: 0.2, thicknessM: 0.003 };
const some = once(
  () =>
    boardModes(size, { eLongPa: 11e9, eCrossPa: 0.85e9, gPa: 0.76e9, nuLR: 0.372 }, 410, undefined, {
      functions: 3,
      perParity: 1,
    })[0]!,
);
/** A mode made of orthonormal Legendre products: three each way; amounts by [along, across] degree, all of one parity. */
function shaped(parity: readonly [0 | 1, 0 | 1], amounts: readonly (readonly [number, number, number])[]) {
  const shape = new Float64Array(9);
  for (const [along, across, amount] of amounts)
    shape[((along - parity[0]) / 2) * 3 + (across - parity[1]) / 2] = amount;
  return { ...some(), parity, shape };
}
const P2 = (u: number) => (3 * u * u - 1) / 2;
const P3 = (u: number) => (5 * u ** 3 - 3 * u) / 2;
const lengthOf = (line: readonly PointMm[]) =>
  line.slice(1).reduce((sum, { xMm, yMm }, i) => sum + Math.hypot(xMm - line[i]!.xMm, yMm - line[i]!.yMm), 0);

describe('a grid of deflections', () => {
  test.each([
    ['P2 along', [0, 0], [[2, 0, 1]], (u: number) => P2(u), 1],
    ['P2 across', [0, 0], [[0, 2, -1]], (_: number, v: number) => -P2(v), 1],
    ['P3 along by P1 across', [1, 1], [[3, 1, 0.4]], (u: number, v: number) => P3(u) * v, 1],
    ['P1 along by P2 across', [1, 0], [[1, 2, 2]], (u: number, v: number) => u * P2(v), 1],
  ] as const)('of %s has its values, the largest one, edges among them', (_, parity, amounts, w, largest) => {
    const { columns, rows, values } = deflectionGrid(shaped(parity, amounts), 11, 7);
    expect([columns, rows, values.length]).toEqual([11, 7, 77]);
    for (let i = 0; i < 11; i++)
      for (let j = 0; j < 7; j++) expect(values[i * 7 + j]).toBeCloseTo(w(i / 5 - 1, j / 3 - 1) / largest, 9);
  });

  test('of two products together adds them, each scaled to mean square', () => {
    // Orthonormal on -1 to 1: sqrt((2 n + 1) / 2) P_n. So P2 by P0 and P0 by P2 alike: P2(u) + P2(v), largest 2.
    const { values } = deflectionGrid(
      shaped(
        [0, 0],
        [
          [2, 0, 1],
          [0, 2, 1],
        ],
      ),
      5,
      5,
    );
    for (let i = 0; i < 5; i++)
      for (let j = 0; j < 5; j++) expect(values[i * 5 + j]).toBeCloseTo((P2(i / 2 - 1) + P2(j / 2 - 1)) / 2, 9);
  });

  test('is fine enough by itself to draw: 49 by 33', () => {
    const { columns, rows, values } = deflectionGrid(shaped([0, 0], [[2, 0, 1]]));
    expect([columns, rows, values.length]).toEqual([49, 33, 49 * 33]);
  });
});

describe('node lines', () => {
  // P2 is nought at 1 / sqrt 3: 0.2113 of the side from either end.
  test('of P2 along: two straight lines across, from edge to edge', () => {
    const lines = nodeLines(shaped([0, 0], [[2, 0, 1]]), size);
    expect(lines).toHaveLength(2);
    const at = lines.map((line) => line[0]!.xMm).toSorted((a, b) => a - b);
    // Straight between grid points 10 mm apart: under a tenth of a millimetre off.
    expect(Math.abs(at[0]! - 250 * (1 - 1 / Math.sqrt(3)))).toBeLessThan(0.2);
    expect(Math.abs(at[1]! - 250 * (1 + 1 / Math.sqrt(3)))).toBeLessThan(0.2);
    for (const line of lines) {
      for (const { xMm } of line) expect(xMm).toBeCloseTo(line[0]!.xMm, 6);
      expect(lengthOf(line)).toBeCloseTo(200, 6);
      expect([line[0]!.yMm, line.at(-1)!.yMm].toSorted((a, b) => a - b)).toEqual([
        expect.closeTo(0, 6),
        expect.closeTo(200, 6),
      ]);
    }
  });

  test('of P3 across: three along, the middle one on the middle', () => {
    const lines = nodeLines(shaped([0, 1], [[0, 3, 1]]), size);
    expect(lines).toHaveLength(3);
    // P3 is nought at 0 and sqrt(3/5).
    const at = lines.map((line) => line[0]!.yMm).toSorted((a, b) => a - b);
    [1 - Math.sqrt(0.6), 1, 1 + Math.sqrt(0.6)].forEach((v, i) => {
      expect(Math.abs(at[i]! - 100 * v)).toBeLessThan(0.2);
    });
    for (const line of lines) expect(lengthOf(line)).toBeCloseTo(500, 6);
  });

  test('of P2 plus P2: one closed ring, an ellipse on the board', () => {
    // P2(u) + P2(v) = 0 where u^2 + v^2 = 2/3.
    const lines = nodeLines(
      shaped(
        [0, 0],
        [
          [2, 0, 1],
          [0, 2, 1],
        ],
      ),
      size,
    );
    expect(lines).toHaveLength(1);
    const [ring] = lines;
    expect(ring![0]).toEqual(ring!.at(-1));
    for (const { xMm, yMm } of ring!)
      expect(Math.abs((xMm / 250 - 1) ** 2 + (yMm / 100 - 1) ** 2 - 2 / 3)).toBeLessThan(0.01);
    // Ramanujan 1914 of half axes 204.1 and 81.6 mm.
    const [a, b] = [250 * Math.sqrt(2 / 3), 100 * Math.sqrt(2 / 3)];
    const h = ((a - b) / (a + b)) ** 2;
    const round = Math.PI * (a + b) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
    expect(Math.abs(lengthOf(ring!) / round - 1)).toBeLessThan(0.005);
  });

  test('of P2 less P2: two diagonals, which part or cross in the middle and reach all corners', () => {
    const lines = nodeLines(
      shaped(
        [0, 0],
        [
          [2, 0, 1],
          [0, 2, -1],
        ],
      ),
      size,
    );
    for (const { xMm, yMm } of lines.flat())
      expect(Math.abs(Math.abs(xMm / 250 - 1) - Math.abs(yMm / 100 - 1))).toBeLessThan(0.07);
    // Two diagonals of 500 by 200.
    const whole = lines.reduce((sum, line) => sum + lengthOf(line), 0);
    expect(Math.abs(whole / (2 * Math.hypot(500, 200)) - 1)).toBeLessThan(0.03);
  });

  test('where two lines cross inside a cell its middle decides which corners stay together', () => {
    // P2 by P2 is nought at 0.577 of either half, between the points of the grid: four crossings.
    const lines = nodeLines(shaped([0, 0], [[2, 2, 1]]), size);
    expect(Math.abs(lines.reduce((sum, line) => sum + lengthOf(line), 0) / 1400 - 1)).toBeLessThan(0.02);
    const w = (i: number, j: number) => P2(i / 24 - 1) * P2(j / 16 - 1);
    const steps = lines.flatMap((line) => line.slice(1).map((to, k) => [line[k]!, to] as const));
    let saddles = 0;
    for (let i = 0; i < 48; i++)
      for (let j = 0; j < 32; j++) {
        const corners = [w(i, j), w(i + 1, j), w(i, j + 1), w(i + 1, j + 1)] as const;
        const isSaddle = corners[0] * corners[3] > 0 && corners[1] * corners[2] > 0 && corners[0] * corners[1] < 0;
        if (!isSaddle) continue;
        saddles++;
        const inCell = ({ xMm, yMm }: PointMm) => [(xMm * 48) / 500 - i, (yMm * 32) / 200 - j] as const;
        const isIn = (place: PointMm) => inCell(place).every((share) => share > -1e-6 && share < 1 + 1e-6);
        const own = steps.filter((ends) => ends.every(isIn));
        expect(own).toHaveLength(2);
        const middle = Math.sign(corners.reduce((sum, each) => sum + each, 0));
        for (const [a, b] of own) {
          const [x, y] = [0, 1].map((axis) => (inCell(a)[axis]! + inCell(b)[axis]!) / 2) as [number, number];
          // Each piece of line cuts off one corner, and that is one of the other sign.
          const cutOff = corners[(x > 0.5 ? 1 : 0) + (y > 0.5 ? 2 : 0)]!;
          expect(Math.sign(cutOff)).toBe(-middle);
        }
      }
    expect(saddles).toBe(4);
  });

  test('longest first, and a shape without a node has none', () => {
    // P1 along by P2 across: two lines of 500 mm and one of 200 mm, crossing.
    const lines = nodeLines(shaped([1, 0], [[1, 2, 1]]), size);
    const points = lines.map((line) => line.length);
    expect(points).toEqual(points.toSorted((a, b) => b - a));
    const whole = lines.reduce((sum, line) => sum + lengthOf(line), 0);
    expect(Math.abs(whole / 1200 - 1)).toBeLessThan(0.03);
    expect(nodeLines(shaped([0, 0], [[0, 0, 1]]), size)).toEqual([]);
  });
});
