import fc from 'fast-check';
import { expect, test } from 'vitest';
import { belowFloors, floorLine, floorsAlong, spareMm } from '../../src/brace/floor.ts';
import { heightAtMm, lineHeightMm, lineOf } from '../../src/brace/profile.ts';

test('a floor for a whole brace leaves out its carved ends: 12 mm high, 60 mm of taper to 3 mm, floor 9 at a third of the taper', () => {
  const tapered = [
    { atMm: 0, heightMm: 3 },
    { atMm: 60, heightMm: 12 },
    { atMm: 240, heightMm: 12 },
    { atMm: 300, heightMm: 3 },
  ];
  // 3 + 9 x / 60 = 9 at x = 40.
  expect(floorsAlong(tapered, 300, 9)).toEqual([{ fromMm: 40, toMm: 260, heightMm: 9 }]);
  expect(floorsAlong(tapered, 300, 13)).toEqual([{ fromMm: 0, toMm: 300, heightMm: 13 }]);
  expect(belowFloors(floorsAlong(tapered, 300, 13), tapered)).toHaveLength(1);
});

test('wherever a brace stands higher than the height it has the floor, wherever lower it has none, and nothing is below it', () => {
  const profile = fc
    .array(fc.tuple(fc.integer({ min: 0, max: 300 }), fc.integer({ min: 1, max: 20 })), { minLength: 1, maxLength: 8 })
    .map((places) =>
      [...new Map(places)].toSorted(([a], [b]) => a - b).map(([atMm, heightMm]) => ({ atMm, heightMm })),
    );
  fc.assert(
    fc.property(profile, fc.integer({ min: 2, max: 19 }), (places, low) => {
      const heightMm = low + 0.5;
      const floors = floorsAlong(places, 300, heightMm);
      const isHigh = (atMm: number) => heightAtMm(places, atMm) > heightMm;
      const samples = Array.from({ length: 999 }, (_, i) => 0.3 * (i + 1) + 0.0123);
      if (!samples.some(isHigh)) return;
      for (const atMm of samples)
        expect(floors.some(({ fromMm, toMm }) => atMm > fromMm && atMm < toMm)).toBe(isHigh(atMm));
      expect(belowFloors(floors, places)).toEqual([]);
    }),
    { numRuns: 200 },
  );
});

test('where a brace lies below its floor is told with the floor and the lowest height there; a hair below is on it', () => {
  const profile = [
    { atMm: 0, heightMm: 10 },
    { atMm: 100, heightMm: 8 },
    { atMm: 200, heightMm: 10 },
  ];
  const floors = [
    { fromMm: 50, toMm: 150, heightMm: 9 },
    { fromMm: 0, toMm: 20, heightMm: 9.6 },
    { fromMm: 150, toMm: 200, heightMm: 9.004 },
    { fromMm: 150, toMm: 200, heightMm: 9.006 },
  ];
  // 10 - 2 x 20 / 100 = 9.6 at 20 mm; 9 at 150 mm.
  expect(belowFloors(floors, profile)).toMatchObject([
    { fromMm: 50, toMm: 150, floorMm: 9, heightMm: 8 },
    { fromMm: 150, toMm: 200, floorMm: 9.006, heightMm: 9 },
  ]);
});

test('the highest of the floors at a place holds, and where none was set no wood may go', () => {
  const line = floorLine(
    [
      { fromMm: 50, toMm: 150, heightMm: 9 },
      { fromMm: 100, toMm: 200, heightMm: 11 },
    ],
    300,
  );
  expect([75, 125, 175].map((atMm) => lineHeightMm(line, atMm))).toEqual([9, 11, 11]);
  // Higher than any brace.
  for (const atMm of [25, 250]) expect(lineHeightMm(line, atMm)).toBeGreaterThan(100);
});

test('what there is to spare on a stretch is least where the brace comes nearest to its floor', () => {
  const profile = lineOf([
    { atMm: 0, heightMm: 10 },
    { atMm: 100, heightMm: 14 },
    { atMm: 200, heightMm: 10 },
  ]);
  const floor = floorLine([{ fromMm: 0, toMm: 200, heightMm: 9 }], 200);
  expect(spareMm(profile, floor, 50, 150)).toBeCloseTo(3, 12);
  expect(spareMm(profile, floor, 80, 120)).toBeCloseTo(4.2, 12);
  expect(spareMm(profile, floor, 0, 200)).toBeCloseTo(1, 12);
  expect(spareMm(profile, floorLine([{ fromMm: 0, toMm: 200, heightMm: 12 }], 200), 0, 200)).toBe(0);
});
