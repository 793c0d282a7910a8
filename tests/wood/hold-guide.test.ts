import { expect, test } from 'vitest';
import { boardModes, deflectionAt } from '../../src/wood/board-modes.ts';
import { holdGuides } from '../../src/wood/hold-guide.ts';
import { deflectionGrid, nodeLines } from '../../src/wood/node-lines.ts';
import { once } from '../once.ts';

const size = { lengthM: 0.55, widthM: 0.21, thicknessM: 0.004 };
const spruce = { eLongPa: 11e9, eCrossPa: 0.85e9, gPa: 0.76e9, nuLR: 0.372 };
const guides = once(() => holdGuides(size, spruce, 410));
const linesOf = (guide: 0 | 1 | 2) => guides()[guide]!.nodeLines;

test('long-grain bending has two lines across, near 0.224 of the length from the ends', () => {
  expect(linesOf(0)).toHaveLength(2);
  for (const line of linesOf(0)) {
    const fromEnd = line.map(({ xMm }) => Math.min(xMm, 550 - xMm) / 550);
    // free bar 0.224 (ASTM E1876); the plate's curl bends the line by about a hundredth to either side
    for (const each of fromEnd) expect(Math.abs(each - 0.224)).toBeLessThan(0.02);
    const ends = [line[0]!.yMm, line.at(-1)!.yMm].sort((p, q) => p - q);
    expect(ends[0]).toBeCloseTo(0, 6);
    expect(ends[1]).toBeCloseTo(210, 6);
  }
});

test('cross-grain bending has two lines along, near 0.224 of the width from the edges', () => {
  expect(linesOf(1)).toHaveLength(2);
  for (const { yMm } of linesOf(1).flat()) expect(Math.abs(Math.min(yMm, 210 - yMm) / 210 - 0.224)).toBeLessThan(0.02);
});

test('twist has its lines on both middles', () => {
  for (const { xMm, yMm } of linesOf(2).flat()) {
    // half a grid cell: the lines are straight by symmetry, the crossing is cut off
    expect(Math.min(Math.abs(xMm - 275) / 550, Math.abs(yMm - 105) / 210)).toBeLessThan(0.5 / 32);
  }
});

test('each hold lies on an edge and on its own node line, each strike where the mode moves', () => {
  const modes = boardModes(size, spruce, 410);
  for (const { tap, hold, strike, expectedHz } of guides()) {
    const mode = modes.find(({ frequencyHz }) => frequencyHz === expectedHz)!;
    const grid = deflectionGrid(mode, 551, 211);
    const at = ({ xMm, yMm }: { xMm: number; yMm: number }) =>
      Math.abs(grid.values[Math.round(xMm) * 211 + Math.round(yMm)]!);
    expect([0, 550].includes(hold.xMm) || [0, 210].includes(hold.yMm), tap).toBe(true);
    expect(at(hold), tap).toBeLessThan(0.1);
    expect(at(strike), tap).toBeGreaterThan(0.25);
  }
});

test('every node line lies where the mode stands still', () => {
  for (const mode of boardModes(size, spruce, 410).slice(0, 8)) {
    const largest = Math.max(...deflectionGrid(mode).values.map(Math.abs));
    const scale = deflectionAt(mode, 1, 1) / deflectionGrid(mode).values.at(-1)!;
    expect(largest).toBe(1);
    for (const { xMm, yMm } of nodeLines(mode, size).flat()) {
      // 0.01 of the largest motion: linear interpolation between points 11 mm x 6.6 mm apart
      const motion = deflectionAt(mode, xMm / 275 - 1, yMm / 105 - 1) / scale;
      expect(Math.abs(motion)).toBeLessThan(0.01);
    }
  }
});

test('each is held on its own node line at an edge and struck where the other two are still, as bars of both ways are', () => {
  // How far from the nearer end and edge, as shares; a free bar is still at 0.224 (ASTM E1876), a plate's curl moves that a little.
  const share = ({ xMm, yMm }: { xMm: number; yMm: number }) => [
    Math.min(xMm, 550 - xMm) / 550,
    Math.min(yMm, 210 - yMm) / 210,
  ];
  const told = guides().map(({ tap, hold, strike }) => ({ tap, hold: share(hold), strike: share(strike) }));
  const near = (value: number) => expect.closeTo(value, 1);
  const still = 0.224;
  expect(told).toEqual([
    // The ends' middles: the twist is still there, and the cap of the cross-grain bend smallest of where it can be.
    { tap: 'long-grain-bending', hold: [near(still), 0], strike: [0, near(0.5)] },
    { tap: 'cross-grain-bending', hold: [0, near(still)], strike: [near(still), 0] },
    // Held at the middle of a long edge, where both bends move; struck where the lines of both cross.
    { tap: 'twist', hold: [near(0.5), 0], strike: [near(still), near(still)] },
  ]);
});
