import { expect, test } from 'vitest';
import {
  comparePair,
  pairHalves,
  rankBoards,
  type ShelfBoard,
  shelfSpread,
  stickSwaps,
} from '../../src/wood/matching.ts';

const measured = (value: number, relative = 0.02) => ({ value, sigma: relative * value });
const board = (id: string, density: number, eLong: number, eCross: number, g = 0.75): ShelfBoard => ({
  id,
  densityKgM3: measured(density),
  eLongGpa: measured(eLong),
  eCrossGpa: measured(eCross),
  gGpa: measured(g),
});

test('halves of one board find each other among strangers', () => {
  const halves = [
    board('a1', 420, 11, 0.85),
    board('b1', 380, 9.5, 0.6),
    board('a2', 421, 11.1, 0.86),
    board('b2', 381, 9.4, 0.61),
    board('c1', 450, 13, 1.1),
  ];
  expect(pairHalves(halves).map(({ ids }) => ids)).toEqual([
    ['a1', 'a2'],
    ['b1', 'b2'],
  ]);
});

test('the difference of a pair is signed, in per cent of the mean, with its sigma', () => {
  const { differencePercent } = comparePair(board('a', 400, 10, 0.8), board('b', 400, 11, 0.8));
  // 1 / 10.5; sigma hypot(0.2, 0.22) / 10.5
  expect(differencePercent.eLongGpa.value).toBeCloseTo(9.5238, 3);
  expect(differencePercent.eLongGpa.sigma).toBeCloseTo((100 * Math.hypot(0.2, 0.22)) / 10.5, 6);
  expect(differencePercent.densityKgM3.value).toBe(0);
});

test('sticks that could stand in come lightest first, at their own height', () => {
  const stick = { id: 's', eGpa: measured(12), densityKgM3: measured(430) };
  const swaps = stickSwaps(stick, measured(13, 0), [
    { id: 'dense', eGpa: measured(12), densityKgM3: measured(500) },
    { id: 'soft', eGpa: measured(6), densityKgM3: measured(300) },
  ]);
  // soft: 13 x 2^(1/3) = 16.379 mm, mass 300/430 x 1.26 = 0.879; dense: 13 mm, 1.163
  expect(swaps.map(({ id }) => id)).toEqual(['soft', 'dense']);
  expect(swaps[0]!.heightMm.value).toBeCloseTo(16.379, 3);
  expect(swaps[0]!.massRatio.value).toBeCloseTo(0.879, 3);
});

test('boards rank by radiation ratio as published for the species', () => {
  // c/rho from Wood Handbook means: cedar 12.93, Engelmann 12.16, Sitka 10.96
  const boards = [board('sitka', 448, 10.8, 1), board('cedar', 358.4, 7.7, 1), board('engelmann', 392, 8.9, 1)];
  expect(rankBoards(boards, 'radiationRatio').map(({ id }) => id)).toEqual(['cedar', 'engelmann', 'sitka']);
  expect(rankBoards(boards, 'densityKgM3')[0]!.id).toBe('sitka');
});

test('the spread of a shelf needs two boards', () => {
  expect(shelfSpread([400, 420])).toEqual({ count: 2, mean: 410, spread: Math.sqrt(200) });
  expect(shelfSpread([400])).toEqual({ count: 1, mean: 400, spread: undefined });
  expect(() => shelfSpread([])).toThrow('shelfSpread: 0 values, need at least 1');
});
