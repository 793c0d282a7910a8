import { describe, expect, test } from 'vitest';
import { equalGluedHeightM } from '../../src/brace/equal-glued-height.ts';
import { bracedStripStiffness } from '../../src/brace/glued-strip.ts';
import { equalStiffnessHeight } from '../../src/wood/stick.ts';
import { stickGuides } from '../../src/wood/stick-guide.ts';

const brace = { shape: 'parabola', widthM: 0.008, heightM: 0.014, modulusPa: 12e9 } as const;
const strip = { widthM: 0.04, thicknessM: 0.0028, modulusPa: 1e9 };

describe('a brace of another stick, glued', () => {
  test('is as stiff on the plate as the present one, and the same stick needs the same height', () => {
    const heightM = equalGluedHeightM(brace, strip, 9e9);
    const swapped = bracedStripStiffness({ ...brace, heightM, modulusPa: 9e9 }, strip).bendingNm2;
    // height to 1e-6 of 15 mm, stiffness goes with its third power at most
    expect(swapped / bracedStripStiffness(brace, strip).bendingNm2).toBeCloseTo(1, 3);
    expect(equalGluedHeightM(brace, strip, brace.modulusPa)).toBeCloseTo(brace.heightM, 5);
  });

  test('needs the height of a brace alone where there is hardly a plate under it', () => {
    const alone = equalStiffnessHeight({ value: 14, sigma: 0 }, { value: 12, sigma: 0 }, { value: 9, sigma: 0 });
    const noPlate = { widthM: 1e-5, thicknessM: 1e-5, modulusPa: 1e9 };
    // E b h^3 kept: h (12/9)^(1/3), any strength-of-materials text
    expect(1000 * equalGluedHeightM(brace, noPlate, 9e9)).toBeCloseTo(alone.value, 2);
  });
});

test('a stick is held 0.224 of its length from the end for bending and in the middle for twist (ASTM E1876)', () => {
  const [bend, twist] = stickGuides(500, 20);
  expect(bend!.hold).toEqual({ xMm: 112, yMm: 0 });
  expect(twist!.hold.xMm).toBe(250);
  // tapped on the bend's node line, so that the bend stays silent while it twists
  expect(bend!.nodeLines[1]![0]!.xMm).toBeCloseTo(twist!.strike.xMm, 9);
});
