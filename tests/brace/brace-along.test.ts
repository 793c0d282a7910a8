import { expect, test } from 'vitest';
import { braceAlong } from '../../src/brace/brace-along.ts';
import { bracedStripStiffness } from '../../src/brace/glued-strip.ts';
import type { SectionShape } from '../../src/brace/section.ts';

const strip = { widthM: 0.06, thicknessM: 0.0028, modulusPa: 0.858e9 };
const brace = (shape: SectionShape) => ({ shape, widthM: 0.006, modulusPa: 11e9 });
const evenAt = (shape: SectionShape, heightM: number) =>
  bracedStripStiffness({ ...brace(shape), heightM }, strip).bendingNm2;

test.each(['rectangle', 'parabola', 'triangle', 'half-ellipse'] as const)(
  'an even %s brace is as stiff as its section everywhere and as a whole',
  (shape) => {
    const along = braceAlong(brace(shape), strip, [
      { atMm: 0, heightMm: 12 },
      { atMm: 400, heightMm: 12 },
    ])!;
    expect(along.evenNm2 / evenAt(shape, 0.012)).toBeCloseTo(1, 6);
    for (const { bendingNm2 } of along.stations) expect(bendingNm2).toBe(evenAt(shape, 0.012));
  },
);

test('the sections of the shaved brace are those of the reference, at their stations', () => {
  // EI of the parabolic brace 12, 11 and 10 mm high: 9.660, 7.846, 6.277 N m^2 (shared reference h, computed there)
  const along = braceAlong(brace('parabola'), strip, [
    { atMm: 300, heightMm: 10 },
    { atMm: 0, heightMm: 12 },
    { atMm: 150, heightMm: 11 },
  ])!;
  expect(along.stations.map(({ atMm }) => atMm)).toEqual([0, 150, 300]);
  [9.66, 7.846, 6.277].forEach((expected, k) => {
    expect(along.stations[k]!.bendingNm2).toBeCloseTo(expected, 2);
  });
});

test('a brace that is low over its outer quarters loses an eighth of the whole by them', () => {
  // m = x / 2 under a load in the middle: the outer quarters hold 2 (L/4)^3 / 12 of L^3 / 48, that is 1/8 (by integration)
  const step = 0.001;
  const along = braceAlong(brace('rectangle'), strip, [
    { atMm: 0, heightMm: 6 },
    { atMm: 100 - step, heightMm: 6 },
    { atMm: 100 + step, heightMm: 12 },
    { atMm: 300 - step, heightMm: 12 },
    { atMm: 300 + step, heightMm: 6 },
    { atMm: 400, heightMm: 6 },
  ])!;
  const expected = 1 / (1 / 8 / evenAt('rectangle', 0.006) + 7 / 8 / evenAt('rectangle', 0.012));
  expect(along.evenNm2 / expected).toBeCloseTo(1, 3);
  // 6 x 6 over 200 mm and 6 x 12 over 200 mm
  expect(along.volumeM3 / (36e-6 * 0.2 + 72e-6 * 0.2)).toBeCloseTo(1, 4);
});

test('where a scallop goes down to the plate the bare strip is left', () => {
  const along = braceAlong(brace('triangle'), strip, [
    { atMm: 0, heightMm: 0 },
    { atMm: 100, heightMm: 14 },
    { atMm: 200, heightMm: 0 },
  ])!;
  expect(along.stations[0]!.bendingNm2).toBeCloseTo((0.858e9 * 0.06 * 0.0028 ** 3) / 12, 9);
});

test('stations in one place are no brace', () => {
  expect(braceAlong(brace('rectangle'), strip, [{ atMm: 10, heightMm: 5 }])).toBeUndefined();
  expect(braceAlong(brace('rectangle'), strip, [])).toBeUndefined();
});

test('where its stations are counted from does not matter, and what lies between two of them does', () => {
  const from = (start: number) =>
    braceAlong(brace('rectangle'), strip, [
      { atMm: start, heightMm: 8 },
      { atMm: start + 150, heightMm: 14 },
      { atMm: start + 400, heightMm: 5 },
    ])!;
  expect(from(70).evenNm2 / from(0).evenNm2).toBeCloseTo(1, 9);
  // 6 mm wide: 150 (8 + 14) / 2 and 250 (14 + 5) / 2.
  expect(from(70).volumeM3 / (6e-9 * (1650 + 2375))).toBeCloseTo(1, 5);
});

test('wood that is planed away altogether has no volume', () => {
  const along = braceAlong(brace('parabola'), strip, [
    { atMm: 0, heightMm: 0 },
    { atMm: 100, heightMm: 0 },
  ])!;
  expect(along.volumeM3).toBe(0);
  expect(along.evenNm2 / evenAt('parabola', 0)).toBeCloseTo(1, 6);
});
