// Thickness relations and radiation ratios against published relations with worked numbers.
import { expect, test } from 'vitest';
import type { Estimate } from '../../src/quantity/estimate.ts';
import { modulusAtRadiationRatioPa, radiationRatio } from '../../src/wood/radiation.ts';
import { criterionOf, type MeasuredWood, thicknessFor } from '../../src/wood/thickness.ts';
import { checksById } from './published-check.ts';
import species from './wood-species.json' with { type: 'json' };
import rows from './wood-thickness.json' with { type: 'json' };

const check = checksById(rows);
const exact = (value: number): Estimate => ({ value, sigma: 0 });
const wood = (eLongGpa: number, densityKgM3: number): MeasuredWood => ({
  eLongGpa: exact(eLongGpa),
  eCrossGpa: exact(0.858),
  gGpa: exact(0.704),
  densityKgM3: exact(densityKgM3),
  nuLR: 0.372,
});

test('the clamped patch has the published frequency, and the thickness of that frequency comes back', () => {
  const { expected, input } = check('thick-clamped');
  const patch = { lengthMm: 1000 * input('a_m'), widthMm: 1000 * input('b_m') };
  const spruce = wood(input('E_L') / 1e9, input('rho'));
  expect(thicknessFor('patch-frequency', spruce, exact(input('f_Hz')), patch).value / (1000 * expected)).toBeCloseTo(
    1,
    6,
  );
  const hz = criterionOf('patch-frequency', spruce, exact(1000 * expected), patch).value;
  expect(hz / check('ortho-clamped-504').expected).toBeCloseTo(1, 6);
  // one-term Rayleigh lies above the converged value by the stated 0.2 to 0.3 %... and never below
  const above = hz / check('ortho-clamped').expected - 1;
  expect(above).toBeGreaterThan(0);
  expect(above).toBeLessThan(0.003);
});

test('equal free frequency and equal stiffness ask for the published thickness ratios', () => {
  const f = check('thick-equal-f');
  const [first, second] = [wood(f.input('E1') / 1e9, f.input('rho1')), wood(f.input('E2') / 1e9, f.input('rho2'))];
  const patch = { lengthMm: 500, widthMm: 400 };
  const ratio = (criterion: 'free-long-frequency' | 'long-stiffness') =>
    thicknessFor(criterion, second, criterionOf(criterion, first, exact(2.8), patch), patch).value / 2.8;
  expect(ratio('free-long-frequency') / f.expected).toBeCloseTo(1, 6);
  expect(ratio('long-stiffness') / check('thick-equal-EI').expected).toBeCloseTo(1, 6);
});

test.each(['radratio-Sitka', 'radratio-Engelmann', 'radratio-western-redcedar', 'radratio-sugar-maple'])('%s', (id) => {
  const { expected, input } = checksById(species)(id);
  expect(radiationRatio(input('E'), input('rho')) / expected).toBeCloseTo(1, 7);
  expect(modulusAtRadiationRatioPa(expected, input('rho')) / input('E')).toBeCloseTo(1, 6);
});
