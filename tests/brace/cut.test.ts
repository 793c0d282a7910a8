// What a cut takes off, against the area of the figure it cuts: a trapezium where it runs out at both ends.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { afterEvenCut, afterHeights, deepestMm, volumeOffMm3 } from '../../src/brace/cut.ts';
import { heightAtMm, type Profile } from '../../src/brace/profile.ts';

const level: Profile = [
  { atMm: 0, heightMm: 12 },
  { atMm: 300, heightMm: 12 },
];
const bar = { section: 'rectangle', widthMm: 6, lengthMm: 300 } as const;
const cutAt = (fromMm: number, toMm: number, offMm = 1) => afterEvenCut(level, 300, { fromMm, toMm, offMm });
/** Off the side of a bar 1 mm wide, mm^2. */
const areaOff = (after: Profile) => volumeOffMm3({ ...bar, widthMm: 1 }, level, after);

// It runs out over 4 mm at each end, common practice: half of that is missing at each.
test.each([
  ['inside', 100, 200, 96],
  ['told from the other end', 200, 100, 96],
  ['from the first end of the brace on, where it does not run out', 0, 100, 98],
  ['up to its second end', 200, 300, 98],
  ['over all of it', 0, 300, 300],
  ['beyond both ends', -20, 320, 300],
  ['shorter than its two run-outs: a triangle half as deep', 100, 104, 1],
  ['just as long as they are: a triangle of full depth', 100, 108, 4],
])('a millimetre off a stretch %s', (_, from, to, expected) => {
  expect(areaOff(cutAt(from, to))).toBeCloseTo(expected, 9);
});

test('the cut is half as deep in the middle of its run-out and as deep as told behind it', () => {
  const heights = [98, 100, 102, 104, 150, 196, 198, 200, 202].map((atMm) => heightAtMm(cutAt(100, 200, 2), atMm));
  expect(heights).toEqual([12, 12, 11, 10, 10, 10, 11, 12, 12]);
  // Nothing was added but its own four corners and the middle.
  expect(cutAt(100, 200).map(({ atMm }) => atMm)).toEqual([0, 100, 104, 150, 196, 200, 300]);
});

test('deeper than the brace is high it leaves nothing, and no less than nothing', () => {
  expect(heightAtMm(cutAt(100, 200, 30), 150)).toBe(0);
  expect(deepestMm(level, cutAt(100, 200, 30))).toBe(12);
  expect(deepestMm(level, cutAt(100, 104))).toBe(0.5);
  expect(deepestMm(level, level)).toBe(0);
});

test.each([
  ['no depth', 100, 200, 0],
  ['a depth below nought', 100, 200, -1],
  ['no stretch', 100, 100, 1],
  ['a stretch beyond the brace', 310, 330, 1],
])('%s leaves the profile as it is', (_, from, to, off) => {
  expect(cutAt(from, to, off)).toBe(level);
});

test('what comes off a carved section is its share of the box around it', () => {
  // Areas of width 1 and height 1: a parabola 2/3, a triangle 1/2 (any table of areas).
  for (const [section, share] of [
    ['rectangle', 1],
    ['parabola', 2 / 3],
    ['triangle', 1 / 2],
  ] as const)
    expect(volumeOffMm3({ ...bar, section }, level, cutAt(100, 200, 2))).toBeCloseTo(96 * 2 * 6 * share, 6);
});

describe('heights measured after a cut', () => {
  test('are the brace at their places, straight between them, and as it was beyond its run-out', () => {
    const after = afterHeights(level, 300, [
      { atMm: 100, heightMm: 12 },
      { atMm: 150, heightMm: 9 },
      { atMm: 200, heightMm: 11 },
    ]);
    expect([50, 100, 125, 150, 175, 200, 202, 204, 250].map((atMm) => heightAtMm(after, atMm))).toEqual([
      12, 12, 10.5, 9, 10, 11, 11.5, 12, 12,
    ]);
    // 50 (0 + 3) / 2 and 50 (3 + 1) / 2, and a triangle of 4 mm by 1 mm where it runs out.
    expect(areaOff(after)).toBeCloseTo(75 + 100 + 2, 9);
  });

  test('never make a brace grow, and none given leave it', () => {
    expect(afterHeights(level, 300, [])).toBe(level);
    const after = afterHeights(level, 300, [
      { atMm: 0, heightMm: 15 },
      { atMm: 300, heightMm: 11 },
    ]);
    expect([0, 150, 300].map((atMm) => heightAtMm(after, atMm))).toEqual([12, 11.5, 11]);
  });
});

test('wherever it is cut, the wood between before and after is the sum of its slices', () => {
  const place = fc.double({ min: 0, max: 300, noNaN: true });
  fc.assert(
    fc.property(place, place, fc.double({ min: 0.05, max: 11, noNaN: true }), (from, to, off) => {
      const after = cutAt(from, to, off);
      const slices = 30_000;
      let sum = 0;
      for (let i = 0; i < slices; i++) sum += 12 - heightAtMm(after, (300 * (i + 0.5)) / slices);
      expect(Math.abs(areaOff(after) - (300 * sum) / slices)).toBeLessThan(0.05);
    }),
    { numRuns: 20 },
  );
});
