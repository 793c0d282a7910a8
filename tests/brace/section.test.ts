import { describe, expect, test } from 'vitest';
import { bracedStripStiffness, compositeStiffness } from '../../src/brace/glued-strip.ts';
import {
  rectangleTorsionM4,
  type SectionShape,
  sectionProperties,
  sectionShapes,
  unitSection,
} from '../../src/brace/section.ts';
import { checksById } from '../published/published-check.ts';
import rows from '../published/wood-sections.json' with { type: 'json' };

const check = checksById(rows);
const shapes = ['rectangle', 'parabola', 'triangle', 'half-ellipse'] as const;
const named = {
  rectangle: 'rect',
  parabola: 'parabola',
  triangle: 'triangle',
  'half-ellipse': 'half-ellipse',
};

// Closed forms, computed by quadrature beforehand (basis computed-here); 1e-6 is the rounding of the printed figures.
test.each(shapes)('a %s brace 6 x 12 mm has the area, centroid and second moment of its closed form', (shape) => {
  const { areaM2, centroidM, inertiaM4 } = sectionProperties(shape, 6e-3, 12e-3);
  expect((areaM2 * 1e6) / check(`sec-${named[shape]}-A`).expected).toBeCloseTo(1, 6);
  expect((centroidM * 1e3) / check(`sec-${named[shape]}-y`).expected).toBeCloseTo(1, 6);
  expect((inertiaM4 * 1e12) / check(`sec-${named[shape]}-I`).expected).toBeCloseTo(1, 6);
});

test.each([
  ['sec-comp-rect', 'rectangle', 12],
  ['sec-comp-par', 'parabola', 12],
  ['sec-comp-tri', 'triangle', 12],
  ['sec-shave-11', 'parabola', 11],
  ['sec-shave-10', 'parabola', 10],
] as const)('%s: a %s brace of %d mm on its strip has the transformed-section stiffness', (id, shape, heightMm) => {
  const brace = { shape, widthM: 6e-3, heightM: heightMm / 1e3, modulusPa: 11e9 };
  const strip = { widthM: 60e-3, thicknessM: 2.8e-3, modulusPa: 0.858e9 };
  expect(bracedStripStiffness(brace, strip).bendingNm2 / check(id).expected).toBeCloseTo(1, 6);
});

test('a glued pile of two equal layers is one bar of twice the height', () => {
  // E I of the double bar is eight times that of one layer, whatever the material (parallel-axis theorem)
  const section = sectionProperties('rectangle', 0.01, 0.004);
  const pile = compositeStiffness([
    { section, baseM: 0, modulusPa: 1e10 },
    { section, baseM: 0.004, modulusPa: 1e10 },
  ]);
  expect(pile.bendingNm2 / (8 * 1e10 * section.inertiaM4)).toBeCloseTo(1, 12);
  expect(pile.neutralM).toBeCloseTo(0.004, 12);
});

test('a brace planed away leaves the bare strip', () => {
  const strip = { widthM: 0.06, thicknessM: 0.003, modulusPa: 1e9 };
  const bare = bracedStripStiffness({ shape: 'rectangle', widthM: 0.006, heightM: 0, modulusPa: 1e10 }, strip);
  expect(bare.bendingNm2).toBeCloseTo((1e9 * 0.06 * 0.003 ** 3) / 12, 12);
});

test('the torsion constant of a square bar is that of the exact series', () => {
  // Wood Handbook FPL-GTR-282 Fig. 9-9 prints phi = 7.09, i.e. 0.1410; the exact series gives 0.1406 (Timoshenko &
  // Goodier, Theory of Elasticity, from memory). 6e-4 spans the two.
  expect(Math.abs(rectangleTorsionM4(1, 1) - check('sec-torsion-sq').expected)).toBeLessThan(6e-4);
});

test('a wide thin strip twists as one third of b t^3 less its ends', () => {
  // 1/3 - 0.21 t/b, Timoshenko & Goodier: 0.312 at b/t = 10 (from memory)
  expect(rectangleTorsionM4(10, 1) / 10).toBeCloseTo(0.312, 3);
  expect(rectangleTorsionM4(1, 10)).toBe(rectangleTorsionM4(10, 1));
});

// Prandtl's equation solved by finite elements (SciPy, 60 x 160 cells, base width 1): J / b^4. Tolerances are those the
// docstring states for the one-constant form.
test.each([
  ['parabola', 1, 0.05815, 0.05],
  ['parabola', 2, 0.17729, 0.002],
  ['parabola', 3, 0.30548, 0.05],
  ['triangle', 1, 0.02866, 0.11],
  ['triangle', 2, 0.09356, 0.002],
  ['triangle', 3, 0.16825, 0.1],
  ['half-ellipse', 1, 0.08774, 0.03],
  ['half-ellipse', 3, 0.47321, 0.03],
  ['rectangle', 2, 0.45718, 0.002],
  ['rounded', 1, 0.11866, 0.05],
  ['rounded', 2, 0.38491, 0.002],
  ['rounded', 3, 0.6594, 0.05],
] as const)('a %s of height %d widths twists as the Prandtl solution', (shape, height, j, tolerance) => {
  expect(Math.abs(sectionProperties(shape, 1, height).torsionM4 / j - 1)).toBeLessThan(tolerance);
});

test('a brace without height or width is refused by name and value', () => {
  expect(() => sectionProperties('rectangle', 0, 0.01)).toThrow('sectionProperties: widthM 0, need > 0');
  expect(() => compositeStiffness([])).toThrow('compositeStiffness: 0 layers, need at least 1');
});

test.each(sectionShapes)('a %s twice as large in each direction twists sixteen times as hard', (shape) => {
  // A torsion constant is of the fourth order in length (any strength-of-materials text).
  const small = sectionProperties(shape, 0.006, 0.012);
  const large = sectionProperties(shape, 0.012, 0.024);
  expect(large.torsionM4 / small.torsionM4).toBeCloseTo(16, 9);
  expect(large.inertiaM4 / small.inertiaM4).toBeCloseTo(16, 9);
  expect(large.areaM2 / small.areaM2).toBeCloseTo(4, 9);
});

describe('every section there is', () => {
  /** Integral over the height by the midpoint rule, fine at the top where a width may fall steeply. */
  const integral = (shape: SectionShape, of: (width: number, height: number) => number): number => {
    const strips = 20_000;
    let sum = 0;
    for (let k = 0; k < strips; k++) {
      const [from, to] = [1 - (1 - k / strips) ** 2, 1 - (1 - (k + 1) / strips) ** 2];
      const middle = (from + to) / 2;
      sum += of(unitSection(shape).widthAt(middle), middle) * (to - from);
    }
    return sum;
  };

  test.each(sectionShapes)('%s: its moments are the integrals of its width', (shape) => {
    const { area, first, second, lateral } = unitSection(shape);
    expect(integral(shape, (width) => width) / area).toBeCloseTo(1, 6);
    expect(integral(shape, (width, z) => width * z) / first).toBeCloseTo(1, 6);
    expect(integral(shape, (width, z) => width * z * z) / second).toBeCloseTo(1, 6);
    expect(integral(shape, (width) => width ** 3 / 12) / lateral).toBeCloseTo(1, 6);
  });

  test.each(sectionShapes)(
    '%s: stands on its full width, is no wider above, and twists no stiffer than its box',
    (shape) => {
      const { widthAt } = unitSection(shape);
      expect(widthAt(0)).toBeCloseTo(1, 12);
      for (let share = 0.05; share <= 1; share += 0.05)
        expect(widthAt(share)).toBeLessThanOrEqual(widthAt(share - 0.05) + 1e-12);
      for (const heightM of [0.006, 0.012, 0.018])
        expect(sectionProperties(shape, 0.006, heightM).torsionM4).toBeLessThanOrEqual(
          rectangleTorsionM4(0.006, heightM),
        );
    },
  );
});
