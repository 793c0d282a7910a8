import { describe, expect, test } from 'vitest';
import { outlineOfMeasures } from '../../src/box/body-outline.ts';
import { cavityVolumeM3 } from '../../src/box/cavity.ts';

const area = (outline: readonly (readonly [number, number])[]) =>
  cavityVolumeM3(outline, { tailM: 1, neckM: 1, occupiedM3: 0 });

describe('a body outline from four measures', () => {
  test('with equal bouts its area is the rectangle and two superellipse ends of the closed form', () => {
    // a quarter superellipse of exponent n and unit half axes has area gamma(1 + 1/n)^2 / gamma(1 + 2/n); values by
    // scipy.special.gamma: n = 2.3: 0.8246754661, n = 2.6: 0.8541984201
    const exact = 0.5 * 0.4 * (0.28 * 0.8246754661 + (0.83 - 0.28) + (1 - 0.83) * 0.8541984201);
    const found = area(outlineOfMeasures({ lengthM: 0.5, lowerBoutM: 0.4, waistM: 0.4, upperBoutM: 0.4 }));
    // 120 stations: the chords of the steep ends cut off less than a part in a thousand, and never add
    expect(found).toBeLessThanOrEqual(exact);
    expect(found).toBeGreaterThan(exact * 0.999);
  });

  test('it is as wide as the ruler said at both bouts and the waist, and the same on both sides', () => {
    const outline = outlineOfMeasures({ lengthM: 0.5, lowerBoutM: 0.39, waistM: 0.27, upperBoutM: 0.29 });
    const widest = (from: number, to: number) =>
      2 * Math.max(...outline.filter(([x]) => x > from && x < to).map(([, y]) => y));
    // a station lies within 0.7 mm of each extreme, where the outline is level
    expect(widest(0, 0.25)).toBeCloseTo(0.39, 4);
    expect(widest(0.36, 0.5)).toBeCloseTo(0.29, 4);
    const waist = 2 * Math.min(...outline.filter(([x, y]) => x > 0.2 && x < 0.4 && y > 0).map(([, y]) => y));
    expect(waist).toBeCloseTo(0.27, 4);
    expect(outline.reduce((sum, [, y]) => sum + y, 0)).toBeCloseTo(0, 12);
  });

  test('a measure that is not above zero is a caller’s mistake', () => {
    expect(() => outlineOfMeasures({ lengthM: 0.5, lowerBoutM: 0.4, waistM: 0, upperBoutM: 0.3 })).toThrow(
      /outlineOfMeasures.*need > 0/,
    );
  });
});
