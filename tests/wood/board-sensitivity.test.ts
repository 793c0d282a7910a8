// Shares of energy and the powers of a frequency, on terms that are written down, and against laws that hold for any plate.
import { describe, expect, test } from 'vitest';
import { boardModes } from '../../src/wood/board-modes.ts';
import { energyShares, sensitivities } from '../../src/wood/board-sensitivity.ts';
import { once } from '../once.ts';

const NOTHING = { long: 0, cross: 0, coupling: 0, twist: 0, shearLong: 0, shearCross: 0 };
const still = { long: 0, cross: 0 };
const size = { lengthM: 2, widthM: 0.5, thicknessM: 0.01 };
const wood = { eLongPa: 10e9, eCrossPa: 1e9, gPa: 0.7e9, nuLR: 0.4 };
const field = (...values: readonly number[]) => Float64Array.from(values);

describe('shares of the strain energy', () => {
  const terms = [
    // (1, 2) by this by (1, 2): 1 x (1 + 3 x 2) + 2 x (1 + 2 x 2) = 17; times 10 over 2^4.
    { part: 'long', aPower: 4, bPower: 0, rowField: 0, columnField: 0, matrix: field(1, 3, 1, 2) },
    // Between the first and the second field, (1, 2) and (3, -1): 1 x 3 + 2 x (4 x 3 + 5 x -1) = 17; times 2 over 0.5.
    { part: 'twist', aPower: 0, bPower: 1, rowField: 0, columnField: 1, matrix: field(1, 0, 4, 5) },
    // The same part again: 2 x (3 x 3 + 1 x 1) = 20; times 2 over 2^2 x 0.5^2.
    { part: 'twist', aPower: 2, bPower: 2, rowField: 1, columnField: 1, matrix: field(2, 0, 0, 2) },
  ] as const;
  const stiffness = { ...NOTHING, long: 10, twist: 2, cross: 99 };
  const found = once(() => energyShares(terms, [field(1, 2), field(3, -1)], stiffness, size));
  // By hand.
  const [long, mixed, own] = [
    (10 * (1 * (1 + 3 * 2) + 2 * (1 + 2 * 2))) / 2 ** 4,
    (2 * (1 * 3 + 2 * (4 * 3 - 5))) / 0.5,
    (2 * (3 * 6 + 1 * 2)) / (2 ** 2 * 0.5 ** 2),
  ];
  const whole = long + mixed + own;

  test('are the parts’ energies over the whole, a part that comes twice added up', () => {
    expect(found().parts.long).toBeCloseTo(long / whole, 12);
    expect(found().parts.twist).toBeCloseTo((mixed + own) / whole, 12);
    for (const part of ['cross', 'coupling', 'shearLong', 'shearCross'] as const) expect(found().parts[part]).toBe(0);
    expect(Object.values(found().parts).reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
  });

  test('and the mean powers of one over length and width', () => {
    expect(found().byLength).toBeCloseTo((4 * long + 2 * own) / whole, 12);
    expect(found().byWidth).toBeCloseTo((mixed + 2 * own) / whole, 12);
  });

  test('nothing of an earlier mode is left in those of the next', () => {
    const again = energyShares(terms.slice(0, 1), [field(1, 2), field(3, -1)], stiffness, size);
    expect(again).toEqual({ parts: { ...NOTHING, long: 1 }, byLength: 4, byWidth: 0 });
  });
});

describe('powers of a frequency', () => {
  const straight = { ...wood, nuLR: 0 };
  const of = (parts: Partial<typeof NOTHING>, byLength = 0, byWidth = 0, elastic = straight, rotary = still) =>
    sensitivities(elastic, { parts: { ...NOTHING, ...parts }, byLength, byWidth }, rotary);

  test('a bar along the grain: root of E, one over length squared by thickness, at one mass', () => {
    // f goes as sqrt(E b h^3 / (m L^3)): length -3/2, width 1/2, thickness 3/2, mass -1/2.
    expect(of({ long: 1 }, 4)).toEqual({
      ...{ eLong: 0.5, eCross: 0, g: 0, nu: 0, shearLong: 0, shearCross: 0 },
      ...{ length: -1.5, width: 0.5, thickness: 1.5, mass: -0.5 },
    });
  });

  test('a bar across it, the other way about', () => {
    expect(of({ cross: 1 }, 0, 4)).toMatchObject({ eLong: 0, eCross: 0.5, length: 0.5, width: -1.5, thickness: 1.5 });
  });

  test('a twist: root of G over length and width', () => {
    // G h^3 / (m L b): -1/2 each.
    expect(of({ twist: 1 }, 2, 2)).toMatchObject({ g: 0.5, eLong: 0, length: -0.5, width: -0.5, thickness: 1.5 });
  });

  test('shear through the thickness: root of its modulus, and of the thickness once', () => {
    expect(of({ shearLong: 1 })).toMatchObject({ shearLong: 0.5, shearCross: 0, thickness: 0.5 });
    expect(of({ shearCross: 1 })).toMatchObject({ shearLong: 0, shearCross: 0.5, thickness: 0.5 });
  });

  test('coupling goes with E across and with Poisson’s ratio', () => {
    expect(of({ coupling: 1 })).toMatchObject({ eCross: 0.5, eLong: 0, nu: 0.5, thickness: 1.5 });
  });

  test('a plate that cannot draw in is stiffer by one over 1 - nu^2 E_R / E_L', () => {
    // 0.4^2 / 10 = 0.016: d ln(1 - x) / d ln x = -x / (1 - x), and half of that in a frequency.
    const x = 0.016 / (1 - 0.016);
    const { eLong, eCross, nu } = of({ long: 0.6, cross: 0.3, coupling: 0.1 }, 0, 0, wood);
    expect(eLong).toBeCloseTo((0.6 - x) / 2, 12);
    expect(eCross).toBeCloseTo((0.3 + 0.1 + x) / 2, 12);
    expect(nu).toBeCloseTo(0.1 / 2 + x, 12);
    // Twist and shear are no part of the plate's own bending.
    expect(of({ twist: 1 }, 0, 0, wood)).toMatchObject({ nu: 0 });
  });

  test('turning mass: longer sides turn less, a thicker board more', () => {
    const turned = of({ long: 1 }, 4, 0, straight, { long: 0.01, cross: 0.002 });
    expect(turned.length).toBeCloseTo(-1.5 + 0.01, 12);
    expect(turned.width).toBeCloseTo(0.5 + 0.002, 12);
    expect(turned.thickness).toBeCloseTo(1.5 - 0.012, 12);
  });
});

describe('every mode of a board obeys the scales', () => {
  const shear = { longPa: 0.67e9, crossPa: 0.033e9 };
  const modes = once(() =>
    boardModes({ lengthM: 0.5, widthM: 0.2, thicknessM: 0.004 }, { ...wood, shear }, 410, undefined, {
      functions: 4,
      perParity: 3,
    }),
  );
  // Of four parities, three each.
  test.each(Array.from({ length: 12 }, (_, i) => i))('number %i', (i) => {
    expect(modes()).toHaveLength(12);
    const s = modes()[i]!.sensitivity;
    // All moduli twice: root two higher. All sizes twice of one density, so mass eight times: half as high.
    expect(s.eLong + s.eCross + s.g + s.shearLong + s.shearCross).toBeCloseTo(0.5, 9);
    expect(s.length + s.width + s.thickness + 3 * s.mass).toBeCloseTo(-1, 9);
  });
});
