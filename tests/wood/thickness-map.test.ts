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

describe('points anywhere on the plate', () => {
  /** Uneven on purpose: more of them on one side, none in a line. */
  const scattered = (h: Thickness) =>
    (
      [
        [10, 5],
        [40, 190],
        [90, 60],
        [130, 150],
        [200, 20],
        [260, 110],
        [310, 180],
        [420, 40],
        [450, 130],
        [490, 195],
        [480, 10],
      ] as const
    ).map(([xMm, yMm]) => ({ xMm, yMm, thicknessMm: h(xMm, yMm) }));

  test('a plane is found back from them, its tapers and its mean over the plate, not over the points', () => {
    const map = mapped(
      mapThickness(
        scattered((x, y) => 2.8 + 0.0006 * x - 0.0011 * y),
        size,
        0.01,
      ),
    );
    expect(map.taperAlong).toBeCloseTo(0.06, 9);
    expect(map.taperAcross).toBeCloseTo(-0.11, 9);
    // In the middle of the plate.
    expect(map.meanMm.value).toBeCloseTo(2.8 + 0.0006 * 250 - 0.0011 * 100, 6);
    expect(map.thinnest).toMatchObject({ xMm: 40, yMm: 190 });
    expect(map.thickest).toMatchObject({ xMm: 480, yMm: 10 });
  });

  test('so is a saddle, whose mean is that of its middle', () => {
    // u v and u^2 - v^2 are nought on the mean of a rectangle.
    const saddle: Thickness = (x, y) => {
      const [u, v] = [x / 250 - 1, y / 100 - 1];
      return 3 + 0.2 * u * v + 0.1 * (u * u - v * v);
    };
    expect(mapped(mapThickness(scattered(saddle), size, 0)).meanMm.value).toBeCloseTo(3, 6);
  });

  test('all on one line tell no taper, and a mean all the same', () => {
    const line = Array.from({ length: 9 }, (_, i) => ({ xMm: 50 * i, yMm: 100, thicknessMm: 3 + 0.01 * i }));
    const map = mapped(mapThickness(line, size, 0));
    expect([map.taperAlong, map.taperAcross]).toEqual([0, 0]);
    expect(Math.abs(map.meanMm.value - 3.05)).toBeLessThan(0.02);
  });

  test('the caliper’s doubt is common to all, the points’ own falls with their number', () => {
    const map = mapped(
      mapThickness(
        nine((x) => 3 + (x - 250) / 2500),
        size,
        0.05,
      ),
    );
    expect(map.meanMm.sigma).toBeCloseTo(Math.hypot(map.spreadMm / 3, 0.05), 12);
  });

  test('the order of the points says nothing, and they are left as they were given', () => {
    const points = scattered((x, y) => 3 + 0.001 * x - 0.002 * y);
    const given = [...points];
    expect(mapThickness(points.toReversed(), size, 0)).toMatchObject({ thinnest: { xMm: 40, yMm: 190 } });
    mapThickness(points, size, 0);
    expect(points).toEqual(given);
  });
});

describe('how sure the bias is', () => {
  const share = (h: Thickness) => mapped(mapThickness(fifteen(h), size, 0)).readsHigh;

  test('a fifth of it, and the square of the unevenness', () => {
    // h = 1 + a u: mean square of a u is a^2 / 3; by symmetry of the weights the bias itself is of second order.
    const a = 0.05;
    const taper = share((x) => 3 * (1 + a * ((2 * x) / size.lengthMm - 1)));
    // 40 strips: their mean square is less than a third by a share of 1 / 40^2.
    for (const { value, sigma } of Object.values(taper))
      expect(sigma).toBeCloseTo(Math.hypot(0.2 * value, a ** 2 / 3), 5);
  });

  test('a plate uneven along leaves its bend across as a mean of it, and the other way about', () => {
    // Uneven along u alone: of the bend across, motion and curvature weigh all of u alike: mean h^3 over mean h.
    const a = 0.1;
    const along = share((x) => 3 * (1 + a * ((2 * x) / size.lengthMm - 1)));
    const across = share((_, y) => 3 * (1 + a * ((2 * y) / size.widthMm - 1)));
    // (1 + a u)^3 has the mean 1 + a^2.
    expect(along['cross-grain-bending'].value).toBeCloseTo(a ** 2, 4);
    expect(across['long-grain-bending'].value).toBeCloseTo(a ** 2, 4);
    expect(along['long-grain-bending'].value).toBeCloseTo(across['cross-grain-bending'].value, 9);
  });

  test('rough points add three times their scatter over the root of their number', () => {
    // Off by +/- r in a pattern that no quadratic follows: along + - + - + by across all alike, less what it can follow.
    const r = 0.01;
    const points = fifteen(() => 3).map((point, i) => ({
      ...point,
      thicknessMm: 3 * (1 + r * [1, -2, 0, 2, -1][Math.floor(i / 3)]!),
    }));
    // 1, -2, 0, 2, -1 is the third-degree pattern over five even places: square on every quadratic.
    const roughness = r * Math.sqrt((3 * (1 + 4 + 0 + 4 + 1)) / (15 - 6));
    const { sigma, value } = mapped(mapThickness(points, size, 0)).readsHigh.twist;
    expect(value).toBeCloseTo(0, 9);
    expect(sigma).toBeCloseTo((3 * roughness) / Math.sqrt(15), 9);
  });
});
