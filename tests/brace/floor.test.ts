import fc from 'fast-check';
import { expect, test } from 'vitest';
import { belowFloors, floorsAlong } from '../../src/brace/floor.ts';
import { heightAtMm } from '../../src/brace/profile.ts';

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
