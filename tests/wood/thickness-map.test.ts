import { describe, expect, test } from 'vitest';
import { mapThickness, type ThicknessMap } from '../../src/wood/thickness-map.ts';
import { freeBeam } from './free-beam.ts';

const size = { lengthMm: 500, widthMm: 200 };
type Thickness = (xMm: number, yMm: number) => number;

const mapped = (map: ThicknessMap) => {
  if (map.kind !== 'mapped') throw new Error(map.kind);
  return map;
};
const nine = (h: Thickness) =>
  [0, 250, 500].flatMap((xMm) => [0, 100, 200].map((yMm) => ({ xMm, yMm, thicknessMm: h(xMm, yMm) })));
/** The places the page asks for: five along, three across. */
const fifteen = (h: Thickness) =>
  [50, 150, 250, 350, 450].flatMap((xMm) => [30, 100, 170].map((yMm) => ({ xMm, yMm, thicknessMm: h(xMm, yMm) })));

/** By how much E is read too high from the beam's frequency with its mean thickness, relative. */
function readHigh(thicknessAt: (share: number) => number): number {
  const places = Array.from({ length: 400 }, (_, i) => (i + 0.5) / 400);
  const mean = places.reduce((sum, place) => sum + thicknessAt(place), 0) / 400;
  return freeBeam(thicknessAt) / freeBeam(() => mean) - 1;
}

describe('a plate of several thicknesses', () => {
  test('a tapered one gives its mean, its taper and its two ends', () => {
    const map = mapped(
      mapThickness(
        nine((x, y) => 2.8 + (0.04 * x) / 100 - (0.02 * y) / 100),
        size,
        0.01,
      ),
    );
    expect(map.meanMm.value).toBeCloseTo(2.88, 9);
    expect(map.taperAlong).toBeCloseTo(0.04, 9);
    expect(map.taperAcross).toBeCloseTo(-0.02, 9);
    expect(map.thinnest).toMatchObject({ xMm: 0, yMm: 200 });
    expect(map.thickest).toMatchObject({ xMm: 500, yMm: 0 });
  });

  test('a flat one has no spread, no taper, no bias; eight points are too few', () => {
    const map = mapped(
      mapThickness(
        nine(() => 2.5),
        size,
        0.02,
      ),
    );
    expect(map.meanMm.value).toBeCloseTo(2.5, 12);
    expect(map.meanMm.sigma).toBe(0.02);
    expect(map.spreadMm).toBe(0);
    for (const { value, sigma } of Object.values(map.readsHigh)) {
      expect(value).toBeCloseTo(0, 9);
      expect(sigma).toBeCloseTo(0, 9);
    }
    expect(mapThickness(nine(() => 2.5).slice(1), size, 0.02)).toEqual({ kind: 'too-few-points', need: 9 });
  });

  test('the spread is that of the points, and the mean’s doubt a third of it for nine', () => {
    const map = mapped(
      mapThickness(
        nine((x) => 3 + (x - 250) / 2500),
        size,
        0,
      ),
    );
    // Thicknesses 2.9, 3.0, 3.1, three times each.
    expect(map.spreadMm).toBeCloseTo(Math.sqrt((6 * 0.01) / 8), 9);
    expect(map.meanMm.sigma).toBeCloseTo(map.spreadMm / 3, 9);
  });
});

describe('what unevenness does to the modulus, against beams solved with their own thickness', () => {
  const hollow = (share: number) => 3.5 - 0.5 * (1 - (2 * share - 1) ** 2);
  const crowned = (share: number) => 3 + 0.4 * (1 - (2 * share - 1) ** 2);
  const tapered = (share: number) => 2.8 + 0.4 * share;

  test.each([
    ['hollowed by half a millimetre', hollow],
    ['crowned', crowned],
    ['tapered', tapered],
  ])('%s along, and across', (_what, h) => {
    const along = mapped(
      mapThickness(
        fifteen((x) => h(x / size.lengthMm)),
        size,
        0,
      ),
    ).readsHigh;
    const across = mapped(
      mapThickness(
        fifteen((_, y) => h(y / size.widthMm)),
        size,
        0,
      ),
    ).readsHigh;
    const truth = readHigh(h);
    // A figure of first order is off by the square of the unevenness.
    const places = Array.from({ length: 400 }, (_, i) => h((i + 0.5) / 400));
    const mean = places.reduce((sum, each) => sum + each, 0) / 400;
    const square = places.reduce((sum, each) => sum + (each / mean - 1) ** 2, 0) / 400;
    for (const { value, sigma } of [along['long-grain-bending'], across['cross-grain-bending']]) {
      expect(Math.abs(value - truth)).toBeLessThan(0.1 * Math.abs(truth) + square);
      expect(Math.abs(value - truth)).toBeLessThan(2 * sigma);
    }
  });

  test('hollow in the middle, E is read too low, not too high', () => {
    expect(readHigh(hollow)).toBeLessThan(-0.05);
    expect(
      mapped(
        mapThickness(
          fifteen((x) => hollow(x / size.lengthMm)),
          size,
          0,
        ),
      ).readsHigh['long-grain-bending'].value,
    ).toBeLessThan(-0.05);
  });

  test('twist bends everywhere and moves at the corners: a hollow plate, by hand', () => {
    // h = 1 + a (u^2 - 1/3), mean 1. Mean of h^3: 1 + 3 a^2 m2 + a^3 m3 with m2 = 4/45, m3 = 16/945. Mean of h by (u v)^2:
    // 1 + a (3/5 - 1/3).
    const a = 0.1;
    const h: Thickness = (x) => 3 * (1 + a * (((2 * x) / size.lengthMm - 1) ** 2 - 1 / 3));
    const truth = (1 + 3 * a * a * (4 / 45) + (a ** 3 * 16) / 945) / (1 + a * (3 / 5 - 1 / 3)) - 1;
    expect(mapped(mapThickness(fifteen(h), size, 0)).readsHigh.twist.value).toBeCloseTo(truth, 3);
  });

  test('points that lie off every smooth surface widen the figure', () => {
    const rough = fifteen((x, y) => 3 + (((x / 100 + y / 70) | 0) % 2 === 0 ? 0.1 : -0.1));
    expect(mapped(mapThickness(rough, size, 0)).readsHigh['long-grain-bending'].sigma).toBeGreaterThan(0.01);
  });
});
