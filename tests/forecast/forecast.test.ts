import { expect, test, vi } from 'vitest';
import { lineHeightMm } from '../../src/brace/profile.ts';
import { advise } from '../../src/forecast/advice.ts';
import { calibrate } from '../../src/forecast/calibration.ts';
import { mirrorPairs } from '../../src/forecast/mirror-pairs.ts';
import { withFactors } from '../../src/forecast/properties.ts';
import { agrees, cutPlate, forecastShaving } from '../../src/forecast/shaving.ts';
import { plateModes } from '../../src/plate/plate-modes.ts';
import { smallTop } from '../plate/plates.ts';
import { solidCase, solidEntry } from '../reference/plate-cases.ts';
import { floors, parameters, prepared } from './trial.ts';

// Every fit and every advice solves the plate several times; correctness is tested, not speed.
vi.setConfig({ testTimeout: 240_000 });

const solved = (plate = smallTop) => {
  const answer = plateModes(prepared, plate, { count: 6 });
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  return answer;
};

test('a shaving lowers its stretch, leaves the rest, and never goes below nothing', () => {
  const [brace] = cutPlate(smallTop, [{ braceId: 'slanted', fromMm: 50, toMm: 100, offMm: 2 }]).braces!;
  const before = smallTop.braces![0]!;
  // Away from where it runs out.
  for (const s of [60, 75, 95])
    expect(lineHeightMm(brace!.heightMm, s)).toBeCloseTo(lineHeightMm(before.heightMm, s) - 2, 9);
  for (const s of [10, 49, 101, 190])
    expect(lineHeightMm(brace!.heightMm, s)).toBeCloseTo(lineHeightMm(before.heightMm, s), 9);
  const [gone] = cutPlate(smallTop, [{ braceId: 'slanted', fromMm: 50, toMm: 100, offMm: 99 }]).braces!;
  expect(lineHeightMm(gone!.heightMm, 75)).toBeGreaterThan(0);
});

test('shavings side by side do not take wood twice where they meet', () => {
  const side = { braceId: 'slanted', offMm: 1 };
  const [brace] = cutPlate(smallTop, [
    { ...side, fromMm: 50, toMm: 100 },
    { ...side, fromMm: 100, toMm: 150 },
  ]).braces!;
  for (const [s, h] of brace!.heightMm)
    expect(h).toBeGreaterThan(lineHeightMm(smallTop.braces![0]!.heightMm, s) - 1 - 1e-9);
});

test('a forecast equals solving the shaved plate, and weighs what went', () => {
  const shavings = [{ braceId: 'slanted', fromMm: 40, toMm: 120, offMm: 1.5 }];
  const forecast = forecastShaving(prepared, smallTop, solved(), shavings);
  if (forecast.kind !== 'forecast') throw new Error(forecast.kind);
  const after = solved(cutPlate(smallTop, shavings)).modes.map(({ frequencyHz }) => frequencyHz);
  for (const { mode, after: reached, likeness } of forecast.moves.slice(0, 4)) {
    expect(likeness).toBeGreaterThan(0.9);
    expect(reached.value).toBeCloseTo(after[mode]!, 4);
  }
  // 80 x 8 x 1.5 mm of 410 kg/m3; the step falls within elements, which are sampled, not cut.
  expect(Math.abs(forecast.removedG / (80 * 8 * 1.5 * 410e-6) - 1)).toBeLessThan(0.1);
});

test('a fit to the drawn plate itself changes nothing', () => {
  const measured = solved()
    .modes.slice(0, 5)
    .map(({ frequencyHz }, mode) => ({ mode, frequencyHz: { value: frequencyHz, sigma: 0.3 } }));
  const fit = calibrate(prepared, smallTop, measured, parameters);
  if (fit.kind !== 'calibrated') throw new Error(fit.kind);
  for (const { value } of fit.factors) expect(value).toBeCloseTo(1, 4);
  expect(fit.isMisfit).toBe(false);
});

test('a fit finds back what was changed, and says how well', () => {
  const truth = withFactors(smallTop, parameters, [1.12, 0.85, 0.95, 1.3]);
  const measured = solved(truth).modes.map(({ frequencyHz }, mode) => ({
    mode,
    frequencyHz: { value: frequencyHz, sigma: 0.05 },
  }));
  const fit = calibrate(prepared, smallTop, measured, parameters, { modelErrorShare: 0 });
  if (fit.kind !== 'calibrated') throw new Error(fit.kind);
  [1.12, 0.85, 0.95, 1.3].forEach((expected, p) => {
    const { value, sigma } = fit.factors[p]!;
    expect(Math.abs(value - expected)).toBeLessThan(3 * sigma);
    expect(sigma / value).toBeLessThan(parameters[p]!.relativeSigma);
  });
  for (const { residualSigmas } of fit.fits) expect(Math.abs(residualSigmas)).toBeLessThan(2);
});

test('a measured mode that no wood explains is called a misfit', () => {
  const measured = solved()
    .modes.slice(0, 5)
    .map(({ frequencyHz }, mode) => ({
      mode,
      frequencyHz: { value: frequencyHz * (mode === 2 ? 1.25 : 1), sigma: 0.3 },
    }));
  const fit = calibrate(prepared, smallTop, measured, parameters);
  expect(fit.kind === 'calibrated' && fit.isMisfit).toBe(true);
});

test('no measured modes is a RangeError', () => {
  expect(() => calibrate(prepared, smallTop, [], parameters)).toThrow('calibrate: no measured modes');
});

test('advice knows when there is nothing to do, no wood to spare, or when shaving goes the wrong way', () => {
  const before = solved();
  const hz = before.modes[0]!.frequencyHz;
  const at = (frequencyHz: number) => [{ mode: 0, frequencyHz, toleranceHz: 0.5 }];
  expect(advise(prepared, smallTop, before, at(hz), floors)).toEqual({ kind: 'nothing-to-do' });
  const asHigh = smallTop.braces!.map(({ id, heightMm }) => ({ braceId: id, heightMm }));
  expect(advise(prepared, smallTop, before, at(hz - 4), asHigh)).toEqual({
    kind: 'cannot',
    because: 'no-wood-to-spare',
  });
  expect(advise(prepared, smallTop, before, at(hz + 20), floors)).toEqual({
    kind: 'cannot',
    because: 'only-shaving-lowers',
  });
});

test('advice reaches a target that shaving can reach, with few pieces on each brace', () => {
  const before = solved();
  const target = { mode: 0, frequencyHz: before.modes[0]!.frequencyHz - 3, toleranceHz: 0.5 };
  const answer = advise(prepared, smallTop, before, [target], floors);
  if (answer.kind !== 'advice') throw new Error(answer.kind);
  expect(answer.alternatives.length).toBeGreaterThanOrEqual(2);
  for (const { reached, shavings } of answer.alternatives) {
    expect(reached).toEqual([true]);
    for (const { id } of smallTop.braces!)
      expect(shavings.filter(({ braceId }) => braceId === id).length).toBeLessThanOrEqual(4);
  }
});

test('mirrored legs of an X belong together, tone bars stand alone', () => {
  const { braces } = solidCase(solidEntry('c5', 'free'));
  expect(mirrorPairs(braces!).map((group) => [...group])).toEqual([[0, 1], [2], [3]]);
});

test('forecast and measurement agree within two sigma of their difference', () => {
  expect(agrees({ value: -3, sigma: 0.4 }, { value: -3.8, sigma: 0.3 })).toBe(true);
  expect(agrees({ value: -3, sigma: 0.2 }, { value: -3.8, sigma: 0.2 })).toBe(false);
});
