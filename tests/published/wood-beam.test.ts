// Bars by impulse excitation: ASTM E1876's formulas with worked numbers, and the Timoshenko bar for wood.
import { expect, test } from 'vitest';
import { BAR_FACTOR, FREE_BAR_ROOT } from '../../src/wood/simple-formula.ts';
import { barModulusPa, barShearPa, timoshenkoFactor, torsionShape } from '../../src/wood/stick.ts';
import { checksById } from './published-check.ts';
import rows from './wood-beam.json' with { type: 'json' };

const check = checksById(rows);

test('the first root of the free bar and its factor are the published ones', () => {
  expect(Math.abs(FREE_BAR_ROOT - check('beam-root-1').expected)).toBeLessThan(1e-7);
  expect(BAR_FACTOR).toBeCloseTo(check('beam-coef').expected, 7);
  expect(Math.cos(FREE_BAR_ROOT) * Math.cosh(FREE_BAR_ROOT)).toBeCloseTo(1, 9);
});

test('a bar of known modulus sounds the published frequency, and gives its modulus back', () => {
  const { expected, input } = check('beam-f1');
  const bar = { massKg: 420 * 0.01 * 0.03, widthM: 0.03, lengthM: input('L_m'), thicknessM: input('t_m') };
  expect(barModulusPa({ ...bar, frequencyHz: expected }) / input('E_Pa')).toBeCloseTo(1, 6);
});

/** The standard's shear and rotary correction of slender isotropic bars. Source: ASTM E1876, for L/t >= 20. */
const t1 = (lengthOverThickness: number) => 1 + 6.585 / lengthOverThickness ** 2;

test.each(['e1876-E', 'e1876-E-steel'])('%s: the worked example of the standard', (id) => {
  const { expected, input } = check(id);
  const [lengthM, widthM, thicknessM] = [input('L_m'), input('b_m'), input('t_m')];
  const bare = barModulusPa({ massKg: input('m_kg'), frequencyHz: input('f_Hz'), lengthM, widthM, thicknessM });
  // 1e-4: the standard prints 0.9465 for 0.946415
  expect(Math.abs((bare * t1(lengthM / thicknessM)) / expected - 1)).toBeLessThan(1e-4);
});

test.each(['e1876-R', 'e1876-R-square'])('%s: the torsional shape factor', (id) => {
  const { expected, input } = check(id);
  expect(torsionShape(input('L_m'), input('b_m'), input('t_m')) / expected).toBeCloseTo(1, 7);
});

test('e1876-G: the shear modulus of the worked steel bar', () => {
  const { expected, input } = check('e1876-G');
  const bar = {
    massKg: input('m_kg'),
    frequencyHz: input('f_Hz'),
    lengthM: input('L_m'),
    widthM: input('b_m'),
    thicknessM: input('t_m'),
  };
  expect(barShearPa(bar) / expected).toBeCloseTo(1, 7);
  expect(barShearPa({ ...bar, widthM: bar.thicknessM, thicknessM: bar.widthM })).toBe(barShearPa(bar));
});

test.each([
  ['beam-timo-50', 50, 1e-4],
  ['beam-timo-20', 20, 1e-3],
  ['beam-timo-10', 10, 5e-3],
] as const)('%s: wood at L/t %d reads low by the Timoshenko amount', (id, slenderness, tolerance) => {
  // Tolerances are what the docstring states for the first-order form against the converged bar.
  const { expected } = check(id);
  expect(Math.abs(1 / timoshenkoFactor(slenderness, 16) / expected - 1)).toBeLessThan(tolerance);
});

test('the isotropic T1 corrects wood by a third of what it needs', () => {
  const needed = 1 / check('beam-timo-20').expected - 1;
  expect((t1(20) - 1) / needed).toBeLessThan(0.34);
});
