// What computed frequencies are said to be worth, held against the solver itself.
import { expect, test } from 'vitest';
import { calibrate } from '../../src/forecast/calibration.ts';
import {
  computedFrequencies,
  computedMassG,
  MODEL_ERROR_SHARE,
  type Parameter,
} from '../../src/forecast/properties.ts';
import type { PlateCase } from '../../src/plate/plate-case.ts';
import { preparePlate } from '../../src/plate/plate-modes.ts';
import { rectangle, smallTop, spruce } from '../plate/plates.ts';
import { open, prepared, SHOWN, solved } from './open-top.ts';

test('of properties that are known exactly only the error of the model is left, and no spread of the mass', () => {
  const { modes, massG } = solved(smallTop, 2);
  expect(computedFrequencies(prepared, smallTop, modes, [])).toEqual(
    modes.map(({ frequencyHz }) => ({ value: frequencyHz, sigma: MODEL_ERROR_SHARE * frequencyHz })),
  );
  expect(computedMassG(prepared, smallTop, [])).toEqual({ value: massG, sigma: 0 });
});

test('the spread of the mass is that of the weights: a plate’s by its volume, braces’ by theirs, a patch’s in neither', () => {
  const patch = {
    id: 'patch',
    polygon: [
      [20, 20],
      [60, 20],
      [60, 40],
      [20, 40],
    ] as const,
    thicknessMm: 3,
    material: spruce,
  };
  const bar = (id: string, yMm: number) => ({
    id,
    from: [100, yMm] as const,
    to: [200, yMm] as const,
    widthMm: 10,
    heightMm: [[0, 8] as const, [100, 8] as const],
    material: spruce,
  });
  const plate: PlateCase = {
    outline: rectangle(260, 200),
    thicknessMm: 2.8,
    material: spruce,
    braces: [bar('a', 60), bar('b', 140)],
    patches: [patch],
  };
  // 410 kg/m^3: 260 by 200 by 2.8 mm, two bars of 100 by 10 by 8 mm, a patch of 40 by 20 by 3 mm.
  const [plateG, bracesG, patchG] = [145_600 * 410e-6, 16_000 * 410e-6, 2400 * 410e-6];
  const weighed = (...parameters: readonly Parameter[]) => computedMassG(preparePlate(plate, 60), plate, parameters);
  const [wood, braces]: Parameter[] = [
    { property: 'plate density', relativeSigma: 0.1 },
    { property: 'brace density', relativeSigma: 0.2 },
  ];
  expect(weighed().value).toBeCloseTo(plateG + bracesG + patchG, 6);
  expect(weighed(wood!).sigma).toBeCloseTo(0.1 * plateG, 6);
  expect(weighed(braces!).sigma).toBeCloseTo(0.2 * bracesG, 6);
  expect(weighed(wood!, braces!).sigma).toBeCloseTo(Math.hypot(0.1 * plateG, 0.2 * bracesG), 6);
  expect(
    weighed({ property: 'plate eL', relativeSigma: 0.1 }, { property: 'brace eL', relativeSigma: 0.1 }).sigma,
  ).toBe(0);
});

test('a fit narrows what is said of the modes it was given and of those it was not', () => {
  const { modes } = solved(smallTop, SHOWN);
  const measured = modes.slice(0, 3).map(({ frequencyHz }, mode) => ({
    mode,
    frequencyHz: { value: 1.02 * frequencyHz, sigma: 0.2 },
  }));
  const fit = calibrate(prepared, smallTop, measured, open);
  if (fit.kind !== 'calibrated') throw new Error(fit.kind);
  const beforehand = computedFrequencies(prepared, smallTop, modes, open);
  const after = computedFrequencies(prepared, fit.plate, fit.modes.modes.slice(0, SHOWN), open, fit.covariance);
  after.forEach(({ sigma, value }, m) => {
    expect(sigma).toBeLessThan(beforehand[m]!.sigma);
    expect(sigma).toBeGreaterThan(MODEL_ERROR_SHARE * value);
  });
  fit.fits.forEach(({ computed }, m) => {
    expect(computed.value).toBeCloseTo(after[m]!.value, 9);
    expect(computed.sigma).toBeCloseTo(after[m]!.sigma, 9);
  });
});
