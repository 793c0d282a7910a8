import { expect, test } from 'vitest';
import type { Estimate } from '../../src/quantity/estimate.ts';
import { elasticStart } from '../../src/wood/elastic-start.ts';
import { speciesById } from '../../src/wood/species.ts';
import {
  CRITERIA,
  type MeasuredWood,
  modesAgainstThickness,
  stopLine,
  thicknessChoices,
} from '../../src/wood/thickness.ts';

const measured = (value: number, relative = 0): Estimate => ({ value, sigma: relative * value });
const spruce: MeasuredWood = {
  eLongGpa: measured(11, 0.03),
  eCrossGpa: measured(0.85, 0.03),
  gGpa: measured(0.76, 0.03),
  densityKgM3: measured(420, 0.01),
  nuLR: 0.372,
};
const cedar: MeasuredWood = {
  ...spruce,
  eLongGpa: measured(8, 0.03),
  eCrossGpa: measured(0.7, 0.03),
  densityKgM3: measured(350, 0.01),
};
const patch = { lengthMm: 480, widthMm: 380 };
const reference = { wood: spruce, thicknessMm: measured(2.7, 0.01) };

test('a wood needs the reference thickness to equal itself, whatever the criterion', () => {
  for (const { thicknessMm, criterion } of thicknessChoices(spruce, reference, patch, 1500)) {
    expect(thicknessMm.value, criterion).toBeCloseTo(2.7, 9);
  }
});

test('for another wood the criteria differ, and stiffness asks for more than frequency', () => {
  const choices = thicknessChoices(cedar, reference, patch, 1500);
  expect(choices.map(({ criterion }) => criterion)).toEqual(CRITERIA);
  const of = (name: string) => choices.find(({ criterion }) => criterion === name)!;
  // (11/8)^(1/3), (0.85/0.7)^(1/3), sqrt(11 350 / (8 420)), 420/350 by hand
  expect(of('long-stiffness').thicknessMm.value / 2.7).toBeCloseTo(1.112, 3);
  expect(of('cross-stiffness').thicknessMm.value / 2.7).toBeCloseTo(1.0669, 3);
  expect(of('free-long-frequency').thicknessMm.value / 2.7).toBeCloseTo(1.0704, 3);
  expect(of('mass').thicknessMm.value / 2.7).toBeCloseTo(1.2, 6);
  // 1500 cm^2 x 2.7 mm x 420 kg/m^3 = 170.1 g, kept
  expect(of('mass').massG.value).toBeCloseTo(170.1, 6);
  const patchStiffness = of('patch-stiffness').thicknessMm.value;
  expect(patchStiffness).toBeGreaterThan(of('cross-stiffness').thicknessMm.value);
  expect(patchStiffness).toBeLessThan(of('long-stiffness').thicknessMm.value);
});

test('a third of the relative doubt in E is doubt in thickness', () => {
  const { thicknessMm } = thicknessChoices(cedar, reference, patch, 1500)[0]!;
  // two moduli of 3 % each through the cube root, and 1 % of the reference thickness
  expect(thicknessMm.sigma / thicknessMm.value).toBeCloseTo(Math.hypot(0.01, 0.01, 0.01), 3);
});

test('the stop line leaves the sanding on, and asks for a check before the doubt begins', () => {
  expect(stopLine({ value: 2.6, sigma: 0.05 }, 0.15)).toEqual({ stopMm: 2.75, checkMm: expect.closeTo(2.848, 3) });
  expect(() => stopLine({ value: 2.6, sigma: 0.05 }, -1)).toThrow('stopLine: sandingMm -1, need >= 0');
});

test('free modes rise in proportion to thickness, but for a little shear', () => {
  const plan = { lengthMm: 550, widthMm: 210 };
  const coarse = { functions: 5, perParity: 3 };
  const ratios = elasticStart(speciesById('sitka-spruce')).shearRatios;
  const [thin, thick] = modesAgainstThickness(plan, spruce, [2, 4], ratios, coarse);
  const [thinPlain, thickPlain] = modesAgainstThickness(plan, spruce, [2, 4], undefined, coarse);
  thinPlain!.modes.forEach(({ frequencyHz }, k) => {
    // Kirchhoff: f ~ h exactly
    expect(thickPlain!.modes[k]!.frequencyHz / frequencyHz).toBeCloseTo(2, 9);
    expect(thick!.modes[k]!.frequencyHz / thin!.modes[k]!.frequencyHz).toBeLessThan(2);
    expect(thick!.modes[k]!.frequencyHz / thin!.modes[k]!.frequencyHz).toBeGreaterThan(1.94);
  });
});
