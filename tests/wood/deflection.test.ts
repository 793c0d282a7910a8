import { expect, test } from 'vitest';
import { inchToMm, lbfToN } from '../../src/quantity/units.ts';
import { agreement, readDeflection } from '../../src/wood/deflection.ts';
import { mapThickness } from '../../src/wood/thickness-map.ts';

const measured = (value: number, sigma = 0) => ({ value, sigma });

test('a top that gives 0.280 in under 5 lb on an 18 in span has EI near 6.2 N m^2', () => {
  // F S^3 / (48 d) by hand: 22.241 N, 0.4572 m, 7.112 mm -> 6.226
  const reading = readDeflection({
    spanMm: measured(inchToMm(18), 0.5),
    loadN: measured(lbfToN(5), 0.05),
    deflectionMm: measured(inchToMm(0.28), 0.1),
    widthMm: measured(400, 1),
    thicknessMm: measured(2.5, 0.03),
  });
  expect(reading.bendingNm2.value).toBeCloseTo(6.226, 3);
  expect(reading.perWidthNm.value).toBeCloseTo(6.226 / 0.4, 2);
  // 12 EI / (b h^3) = 12 x 6.226 / (0.4 x 15.625e-9)
  expect(reading.modulusGpa.value).toBeCloseTo(11.954, 2);
  // caliper: 3 x 0.03 / 2.5 = 3.6 % is more than the dial's 1.4 %
  expect(reading.contributions.map(({ input }) => input).slice(0, 2)).toEqual(['thickness', 'deflection']);
  expect(reading.contributions[0]!.sigma / reading.modulusGpa.value).toBeCloseTo(0.036, 3);
});

test('a load of nothing is refused by name', () => {
  const one = measured(1);
  const test = { spanMm: one, loadN: measured(0), deflectionMm: one, widthMm: one, thicknessMm: one };
  expect(() => readDeflection(test)).toThrow('readDeflection: load 0, need > 0');
});

test('tapped and bent agree, are doubtful or disagree by their joint sigma', () => {
  const tapped = measured(11, 0.3);
  expect(agreement(tapped, measured(10.4, 0.4)).word).toBe('agree'); // 0.6 / 0.5 = 1.2
  expect(agreement(tapped, measured(9.8, 0.4)).word).toBe('doubtful'); // 2.4
  const apart = agreement(tapped, measured(9, 0.4));
  expect(apart).toMatchObject({ word: 'disagree', sigmas: 4 });
  expect(apart.ratio.value).toBeCloseTo(9 / 11, 9);
  expect(agreement(measured(3), measured(3))).toMatchObject({ word: 'agree', sigmas: 0 });
});

const nine = (h: (x: number, y: number) => number) =>
  [0, 250, 500].flatMap((xMm) => [0, 100, 200].map((yMm) => ({ xMm, yMm, thicknessMm: h(xMm, yMm) })));

test('a tapered plate gives its mean, its taper and its two ends', () => {
  const map = mapThickness(
    nine((x, y) => 2.8 + (0.04 * x) / 100 - (0.02 * y) / 100),
    0.01,
  );
  if (map.kind !== 'mapped') throw new Error(map.kind);
  expect(map.meanMm.value).toBeCloseTo(2.88, 9);
  expect(map.taperAlong).toBeCloseTo(0.04, 9);
  expect(map.taperAcross).toBeCloseTo(-0.02, 9);
  expect(map.thinnest).toMatchObject({ xMm: 0, yMm: 200 });
  expect(map.thickest).toMatchObject({ xMm: 500, yMm: 0 });
});

test('unevenness makes the modulus read high by three times its relative variance', () => {
  const map = mapThickness(
    nine((x) => 3 + (x - 250) / 2500),
    0,
  );
  if (map.kind !== 'mapped') throw new Error(map.kind);
  // h = 2.9, 3.0, 3.1: variance 0.02/3; 3 x 0.006667 / 9 = 0.2222 %
  expect(map.modulusBiasPercent).toBeCloseTo(0.2222, 4);
  expect(map.spreadMm).toBeCloseTo(Math.sqrt((6 * 0.01) / 8), 9);
  expect(map.meanMm.sigma).toBeCloseTo(map.spreadMm / 3, 9);
});

test('a flat plate has no spread, no taper, no bias; eight points are too few', () => {
  expect(
    mapThickness(
      nine(() => 2.5),
      0.02,
    ),
  ).toMatchObject({ spreadMm: 0, modulusBiasPercent: 0, meanMm: { value: 2.5, sigma: 0.02 } });
  expect(mapThickness(nine(() => 2.5).slice(1), 0.02)).toEqual({ kind: 'too-few-points', need: 9 });
});
