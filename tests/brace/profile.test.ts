import { describe, expect, test } from 'vitest';
import {
  areaUnderMm2,
  heightAtMm,
  lineHeightMm,
  lineOf,
  lowestMm,
  placesWithin,
  profileOf,
  profileShapes,
  shapedProfile,
} from '../../src/brace/profile.ts';

const profile = [
  { atMm: 20, heightMm: 4 },
  { atMm: 120, heightMm: 14 },
  { atMm: 220, heightMm: 9 },
];

describe('the height of a brace', () => {
  test.each([
    [0, 4],
    [20, 4],
    [30, 5],
    [120, 14],
    [160, 12],
    [220, 9],
    [300, 9],
  ])('at %d mm, straight between its places and level beyond them', (atMm, expected) => {
    expect(heightAtMm(profile, atMm)).toBeCloseTo(expected, 12);
  });

  test('is the height before a step where it steps, and the height behind it just after', () => {
    const step = [
      [0, 10],
      [50, 10],
      [50, 4],
      [100, 4],
    ] as const;
    expect([lineHeightMm(step, 50), lineHeightMm(step, 50.001)]).toEqual([10, 4]);
    // One that begins with a step stands as high as told first.
    expect(
      lineHeightMm(
        [
          [0, 3],
          [0, 8],
          [10, 8],
        ],
        0,
      ),
    ).toBe(3);
  });

  test('is lowest at an end of a stretch or at a place inside it, never at one outside', () => {
    expect(lowestMm(profile, 70, 170)).toBeCloseTo(9, 12);
    expect(lowestMm(profile, 100, 140)).toBeCloseTo(12, 12);
    const scallop = [
      { atMm: 0, heightMm: 12 },
      { atMm: 50, heightMm: 3 },
      { atMm: 100, heightMm: 12 },
    ];
    expect(lowestMm(scallop, 20, 80)).toBe(3);
    expect(lowestMm(scallop, 50, 100)).toBe(3);
    expect(lowestMm(scallop, 75, 100)).toBeCloseTo(7.5, 12);
  });

  test('has under it the area of its trapezia', () => {
    // 20 x 4, then 100 (4 + 14) / 2, then 100 (14 + 9) / 2, then 80 x 9.
    expect(areaUnderMm2(profile, 300)).toBeCloseTo(80 + 900 + 1150 + 720, 9);
  });
});

test('places along a brace are its ends and what lies between, in order and each once', () => {
  expect(placesWithin(100, [60, -1, 101, 20, 60, 0])).toEqual([0, 20, 60, 100]);
});

describe('shapes that makers begin with', () => {
  test.each(profileShapes)(
    '%s: from end to end, alike from both, nowhere higher than told or lower than its ends',
    (shape) => {
      const made = shapedProfile(shape, 300, 14, 4);
      expect([made[0]!.atMm, made.at(-1)!.atMm]).toEqual([0, 300]);
      const heights = made.map(({ heightMm }) => heightMm);
      expect(Math.max(...heights)).toBe(14);
      for (let atMm = 0; atMm <= 300; atMm += 5) {
        const here = heightAtMm(made, atMm);
        expect(here).toBeLessThanOrEqual(14);
        expect(here).toBeGreaterThanOrEqual(4);
        // Places and heights are in tenths.
        expect(Math.abs(here - heightAtMm(made, 300 - atMm))).toBeLessThanOrEqual(0.1 + 1e-9);
      }
    },
  );

  test('a level one keeps its height to the ends, the others go down to theirs', () => {
    const ends = (shape: (typeof profileShapes)[number]) => heightAtMm(shapedProfile(shape, 300, 14, 4), 0);
    expect(profileShapes.map(ends)).toEqual([14, 4, 4, 4]);
  });

  test('tapered: level over its middle half and more; scalloped: two peaks a quarter from the ends, two thirds between', () => {
    const tapered = shapedProfile('tapered', 300, 14, 4);
    expect([66, 150, 234].map((atMm) => heightAtMm(tapered, atMm))).toEqual([14, 14, 14]);
    expect(heightAtMm(tapered, 33)).toBeCloseTo(9, 6);
    const scalloped = shapedProfile('scalloped', 300, 14, 4);
    expect([75, 225].map((atMm) => heightAtMm(scalloped, atMm))).toEqual([14, 14]);
    // Two thirds of the way from the ends' height to the peaks', to 0.6 mm.
    expect(Math.abs(heightAtMm(scalloped, 150) - (4 + (2 / 3) * 10))).toBeLessThan(0.6);
    expect(heightAtMm(scalloped, 150)).toBeLessThan(heightAtMm(scalloped, 114));
    expect(heightAtMm(scalloped, 36)).toBeLessThan(4 + 0.5 * 10);
  });

  test('parabolic: a parabola through both ends and the middle', () => {
    const made = shapedProfile('parabolic', 300, 14, 4);
    for (const x of [0, 30, 60, 90, 120, 150, 210]) {
      // y = h0 + 4 (h - h0) x (L - x) / L^2 (any textbook), in tenths.
      expect(Math.abs(heightAtMm(made, x) - (4 + (4 * 10 * x * (300 - x)) / 300 ** 2))).toBeLessThanOrEqual(
        0.05 + 1e-9,
      );
    }
  });
});

test('as pairs and back again it is the same profile', () => {
  expect(lineOf(profile)).toEqual([
    [20, 4],
    [120, 14],
    [220, 9],
  ]);
  expect(profileOf(lineOf(profile))).toEqual(profile);
});
