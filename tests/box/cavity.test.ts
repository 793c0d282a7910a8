import { expect, test } from 'vitest';
import { cavityVolumeM3 } from '../../src/box/cavity.ts';

const flat = { tailM: 0.1, neckM: 0.1, occupiedM3: 0 };
const rectangle = [
  [0, -0.2],
  [0.5, -0.2],
  [0.5, 0.2],
  [0, 0.2],
] as const;

test('a flat rectangular box holds length times width times depth, drawn either way round', () => {
  expect(cavityVolumeM3(rectangle, flat)).toBeCloseTo(0.02, 12);
  expect(cavityVolumeM3([...rectangle].reverse(), flat)).toBeCloseTo(0.02, 12);
});

test('a tapering rectangular box holds its mean depth', () => {
  expect(cavityVolumeM3(rectangle, { ...flat, tailM: 0.12, neckM: 0.08 })).toBeCloseTo(0.02, 12);
});

test('a tapering triangle, wide at the tail, holds what its centroid’s depth says', () => {
  const triangle = [
    [0, -0.3],
    [0.6, 0],
    [0, 0.3],
  ] as const; // area 0.18, centroid a third of the way: depth 0.12 - 0.04 / 3
  expect(cavityVolumeM3(triangle, { ...flat, tailM: 0.12, neckM: 0.08 })).toBeCloseTo(0.18 * (0.12 - 0.04 / 3), 12);
});

test('a dome over a rectangle adds the integral of its sag', () => {
  // integral of [x (0.5 - x) - y²] / 2R over the rectangle, by hand: (0.4 x 0.5³/6 - 0.5 x 2 x 0.2³/3) / 2R
  const radius = 4.572;
  const sag = ((0.4 * 0.5 ** 3) / 6 - (0.5 * 2 * 0.2 ** 3) / 3) / (2 * radius);
  expect(cavityVolumeM3(rectangle, { ...flat, backDomeRadiusM: radius })).toBeCloseTo(0.02 + sag, 12);
});

test('blocks that fill the box are the caller’s mistake', () => {
  expect(() => cavityVolumeM3(rectangle, { ...flat, occupiedM3: 0.03 })).toThrow('cavityVolumeM3: -0.0');
});
