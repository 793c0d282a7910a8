import { expect, test } from 'vitest';
import type { Estimate } from '../../src/quantity/estimate.ts';
import {
  equalStiffnessHeight,
  rankSticks,
  stickConstants,
  stickDoubts,
  timoshenkoFactor,
  torsionShape,
} from '../../src/wood/stick.ts';

const measured = (value: number, sigma = 0): Estimate => ({ value, sigma });
const stick = {
  lengthMm: measured(400, 0.3),
  widthMm: measured(30, 0.05),
  thicknessMm: measured(8, 0.03),
  massG: measured(40.32, 0.1), // 420 kg/m^3
};
const eGpa = 12;
const gGpa = 0.75;
/** What such a stick sounds: the free bar, lowered by shear. */
const bendingHz =
  ((4.730040744862704 ** 2 / (2 * Math.PI * 0.4 ** 2)) * Math.sqrt((eGpa * 1e9 * 0.008 ** 2) / (12 * 420))) /
  Math.sqrt(timoshenkoFactor(50, eGpa / gGpa));
const twistHz = Math.sqrt((gGpa * 1e9 * 0.03 * 0.008) / (4 * 0.4 * 0.04032 * torsionShape(0.4, 0.03, 0.008)));

test('E, G and density put into a stick come back from its two taps', () => {
  const constants = stickConstants(stick, measured(bendingHz, 0.2), measured(twistHz, 0.5));
  expect(constants.densityKgM3.value).toBeCloseTo(420, 6);
  expect(constants.eGpa.value).toBeCloseTo(eGpa, 6);
  expect(constants.gGpa!.value).toBeCloseTo(gGpa, 6);
  expect(constants.speedMS.value).toBeCloseTo(Math.sqrt(12e9 / 420), 3);
});

test('thickness dominates E by its cube, as the formula says', () => {
  const { eGpa: e } = stickConstants(stick, measured(bendingHz, 0.2), measured(twistHz, 0.5));
  expect(e.contributions[0]!.input).toBe('thickness');
  expect(e.contributions[0]!.sigma / e.value).toBeCloseTo((3 * 0.03) / 8, 3);
});

test('without a twist tap the handbook ratio stands in, and its doubt is in sigma', () => {
  const { eGpa: e, gGpa: none } = stickConstants(stick, measured(bendingHz, 0.2), undefined);
  expect(none).toBeUndefined();
  expect(e.contributions.map(({ input }) => input)).toContain('shear-ratio');
  expect(Math.abs(e.value - eGpa)).toBeLessThan(2 * e.sigma);
});

test('sticks rank by stiffness for weight, and differently when the height may change', () => {
  const light = { name: 'light', eGpa: measured(9), densityKgM3: measured(360) };
  const heavy = { name: 'heavy', eGpa: measured(12.6), densityKgM3: measured(480) };
  // 9/360 = 0.0250 < 12.6/480 = 0.0263, but 9^(1/3)/360 = 0.00578 > 12.6^(1/3)/480 = 0.00485
  expect(rankSticks([light, heavy], 1).map(({ name }) => name)).toEqual(['heavy', 'light']);
  expect(rankSticks([light, heavy], 'free-height').map(({ name }) => name)).toEqual(['light', 'heavy']);
});

test('a stick of half the modulus needs the cube root of two in height', () => {
  const { value, sigma } = equalStiffnessHeight(measured(12), measured(12, 0.36), measured(6));
  expect(value).toBeCloseTo(12 * Math.cbrt(2), 9);
  expect(sigma / value).toBeCloseTo(0.01, 4);
});

test('a sound stick raises no doubt; a mistyped mass, mode or length is named', () => {
  const doubts = (change: Partial<typeof stick>, bendHz = bendingHz, turnHz = twistHz) =>
    stickDoubts(stickConstants({ ...stick, ...change }, measured(bendHz), measured(turnHz)));
  expect(doubts({})).toEqual([]);
  expect(doubts({ massG: measured(1.42) })).toContain('density-not-wood'); // ounces
  expect(doubts({}, 2.756 * bendingHz)).toContain('modulus-not-wood'); // the second bending mode
  expect(doubts({}, bendingHz, 4 * twistHz)).toEqual(['shear-not-wood']);
  // L/t 12: 16 x 12.3 x 1.2 + 49.48 over 12 x 144 is 17 %
  expect(
    doubts({ lengthMm: measured(96), massG: measured(9.6768) }, bendingHz * (400 / 96) ** 2, twistHz * (400 / 96)),
  ).toContain('too-short');
});
