// Fits whose answer is known by hand: on a bare free plate every frequency goes with the root of one over the density.
import { describe, expect, test } from 'vitest';
import { asDrawn, type CalibrationOptions, calibrate } from '../../src/forecast/calibration.ts';
import type { Parameter } from '../../src/forecast/properties.ts';
import type { PlateCase } from '../../src/plate/plate-case.ts';
import { plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { once } from '../once.ts';
import { rectangle, spruce } from '../plate/plates.ts';

const bare: PlateCase = { outline: rectangle(260, 200), thicknessMm: 3, material: spruce };
const prepared = preparePlate(bare, 80);
const solved = (plate: PlateCase, count = 8) => {
  const answer = plateModes(prepared, plate, { count });
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  return answer;
};
const drawn = solved(bare);
const hz = drawn.modes.map(({ frequencyHz }) => frequencyHz);
const density = (relativeSigma: number): Parameter => ({ property: 'plate density', relativeSigma });
/** A property that no measured mode of a bare plate knows anything of. */
const unheard: Parameter = { property: 'brace eL', relativeSigma: 0.3 };

/** Measured modes: by how much each is off, and its spread, Hz. */
const heard = (offHz: readonly number[], sigmaHz: number) =>
  offHz.map((off, mode) => ({ mode, frequencyHz: { value: hz[mode]! + off, sigma: sigmaHz } }));

function fitted(
  measured: Parameters<typeof calibrate>[2],
  parameters: readonly Parameter[],
  options: CalibrationOptions = { modelErrorShare: 0 },
) {
  const fit = calibrate(prepared, bare, measured, parameters, options);
  if (fit.kind !== 'calibrated') throw new Error(fit.kind);
  return fit;
}

describe('taps that are sharp beside what was known before', () => {
  const low = [0, 1, 2].map((mode) => ({ mode, frequencyHz: { value: 0.95 * hz[mode]!, sigma: 0.001 } }));
  const fit = once(() => fitted(low, [density(0.2), unheard]));

  test('decide: five hundredths lower are a density of one over 0.95 squared', () => {
    expect(fit().factors[0]!.value).toBeCloseTo(1 / 0.95 ** 2, 5);
    expect(fit().plate.material.densityKgM3).toBeCloseTo(410 / 0.95 ** 2, 2);
    fit()
      .modes.modes.slice(0, 3)
      .forEach(({ frequencyHz }, mode) => {
        expect(frequencyHz).toBeCloseTo(0.95 * hz[mode]!, 3);
      });
    fit().fits.forEach(({ mode, measured, computed, apart }, m) => {
      expect([mode, measured]).toEqual([m, low[m]!.frequencyHz]);
      expect(computed.value).toBeCloseTo(0.95 * hz[m]!, 3);
      expect(apart.value).toBeCloseTo(measured.value - computed.value, 9);
    });
  });

  test('leave it as well known as they are: twice the relative spread of three taps together', () => {
    const tapsTell = Math.hypot(...low.map(({ frequencyHz: { value, sigma } }) => value / (2 * sigma)));
    const [of] = fit().factors;
    expect((of!.sigma / of!.value) * tapsTell).toBeCloseTo(1, 4);
    expect(Math.sqrt(fit().covariance[0]![0]!) * tapsTell).toBeCloseTo(1, 4);
  });

  test('cost what the density had to be moved, shared among the modes', () => {
    expect(fit().misfitPerMode).toBeCloseTo((Math.log(1 / 0.95 ** 2) / 0.2) ** 2 / 3, 3);
  });

  test('say nothing of a property that does nothing to them', () => {
    expect(fit().factors[1]!.value).toBe(1);
    expect(fit().factors[1]!.sigma).toBeCloseTo(0.3, 9);
    expect(fit().covariance[0]![1]).toBeCloseTo(0, 9);
    expect(fit().parameters).toEqual([density(0.2), unheard]);
  });
});

test('taps and what was known before are weighed by their spreads, the model’s own error among them', () => {
  const measured = heard([-8, 6], 0.7);
  const fit = fitted(measured, [density(0.05)], { modelErrorShare: 0.02 });
  // The sum of squares by hand, least over a fine row of densities.
  const sigmas = measured.map(({ frequencyHz: { value, sigma } }) => Math.hypot(sigma, 0.02 * value));
  const squares = (log: number) =>
    (log / 0.05) ** 2 +
    measured.reduce(
      (sum, { mode, frequencyHz }, m) => sum + ((frequencyHz.value - hz[mode]! * Math.exp(-log / 2)) / sigmas[m]!) ** 2,
      0,
    );
  const row = Array.from({ length: 40_001 }, (_, i) => (i - 20_000) / 100_000);
  const best = row.reduce((least, log) => (squares(log) < squares(least) ? log : least));
  expect(Math.log(fit.factors[0]!.value)).toBeCloseTo(best, 4);
  expect(fit.misfitPerMode).toBeCloseTo(squares(best) / 2, 4);
  const told = measured.reduce(
    (sum, { mode }, m) => sum + ((hz[mode]! * Math.exp(-best / 2)) / 2 / sigmas[m]!) ** 2,
    0,
  );
  const openShare = 1 / Math.sqrt(1 / 0.05 ** 2 + told);
  expect(fit.factors[0]!.sigma / fit.factors[0]!.value).toBeCloseTo(openShare, 5);
  fit.fits.forEach(({ computed, apart, residualSigmas }, m) => {
    expect(computed.sigma / computed.value).toBeCloseTo(Math.hypot(0.02, openShare / 2), 4);
    expect(apart.sigma).toBeCloseTo(sigmas[m]!, 9);
    expect(residualSigmas).toBeCloseTo(apart.value / sigmas[m]!, 9);
  });
});

test('a step that would overshoot is shortened: three times as high is a ninth of the density', () => {
  const measured = [0, 1].map((mode) => ({ mode, frequencyHz: { value: 3 * hz[mode]!, sigma: 0.01 } }));
  const fit = fitted(measured, [density(50)]);
  expect(fit.factors[0]!.value * 9).toBeCloseTo(1, 4);
});

test('untold, the model is worth a hundredth of each frequency', () => {
  // tests/reference: MODEL_ERROR_SHARE
  const fit = fitted(heard([1], 0), [density(1e-6)], {});
  expect(fit.fits[0]!.apart.sigma).toBeCloseTo(0.01 * (hz[0]! + 1), 9);
});

describe('a misfit', () => {
  /** Modes that are so many sigmas off, on wood that cannot give way. */
  const off = (...sigmas: readonly number[]) =>
    fitted(
      heard(
        sigmas.map((s) => 0.5 * s),
        0.5,
      ),
      [density(1e-7)],
    );
  // Mean squares beyond 1 + 3 sqrt(2 / n), three sigma of chi squared over n: 5.24 for one mode, 3.12 for four.
  test.each([
    ['one mode within', [2.25], false],
    ['one mode, by the mean square', [2.35], true],
    ['one mode below what is computed', [-2.35], true],
    ['four modes within', [1.7, -1.7, 1.7, -1.7], false],
    ['four modes, by the mean square', [1.85, -1.85, 1.85, -1.85], true],
    ['one of six within three sigma', [0, 0, 2.95, 0, 0, 0], false],
    ['one of six beyond three sigma', [0, 0, 3.05, 0, 0, 0], true],
    ['one of six as far below', [0, 0, -3.05, 0, 0, 0], true],
  ])('%s', (_, sigmas, expected) => {
    const fit = off(...sigmas);
    fit.fits.forEach(({ residualSigmas }, m) => {
      expect(residualSigmas).toBeCloseTo(sigmas[m]!, 2);
    });
    expect(fit.isMisfit).toBe(expected);
  });
});

describe('where a fit starts', () => {
  const measured = heard([-4, -6, -7], 0.3);
  const plain = once(() => fitted(measured, [density(0.2)]));
  const same = (fit: ReturnType<typeof plain>) => {
    expect(fit.factors[0]!.value).toBeCloseTo(plain().factors[0]!.value, 5);
    expect(fit.fits.map(({ computed }) => computed.value)).toEqual(
      plain().fits.map(({ computed }) => expect.closeTo(computed.value, 3)),
    );
  };

  test('does not decide where it ends', () => {
    same(fitted(measured, [density(0.2)], { modelErrorShare: 0, from: asDrawn(drawn, [density(0.2)]) }));
    const heavy = solved({ ...bare, material: { ...spruce, densityKgM3: 1.3 * 410 } });
    same(fitted(measured, [density(0.2)], { modelErrorShare: 0, from: { factors: [1.3], modes: heavy } }));
  });

  test('is the drawing where the modes known are too few for what was measured', () => {
    same(fitted(measured, [density(0.2)], { modelErrorShare: 0, from: { factors: [1.3], modes: solved(bare, 3) } }));
  });

  test('as drawn is a factor of one on each property', () => {
    expect(asDrawn(drawn, [density(0.2), unheard])).toEqual({ factors: [1, 1], modes: drawn });
  });
});

test('a mode of no rank is told', () => {
  const measured = [{ mode: -1, frequencyHz: { value: 100, sigma: 0.1 } }];
  expect(calibrate(prepared, bare, measured, [density(0.2)])).toEqual({ kind: 'no-such-mode', mode: -1 });
});

test('the highest mode measured may be any, and need not come last', () => {
  const measured = [5, 0].map((mode) => ({ mode, frequencyHz: { value: 1.02 * hz[mode]!, sigma: 0.01 } }));
  const fit = fitted(measured, [density(0.2)]);
  expect(fit.factors[0]!.value).toBeCloseTo(1 / 1.02 ** 2, 4);
  expect(fit.fits.map(({ mode }) => mode)).toEqual([5, 0]);
  expect(fit.fits[0]!.computed.value).toBeCloseTo(1.02 * hz[5]!, 1);
});

test('a mode below the first is no mode, and a plate without stiffness cannot be fitted', () => {
  const at = (mode: number) => [{ mode, frequencyHz: { value: 100, sigma: 1 } }];
  expect(calibrate(prepared, bare, at(-1), [density(0.1)])).toEqual({ kind: 'no-such-mode', mode: -1 });
  const soft = { ...bare, material: { ...spruce, eL: -1, eR: -1, gLR: -1 } };
  expect(calibrate(prepared, soft, at(0), [density(0.1)])).toEqual({ kind: 'unsolvable' });
});

// Sharp taps decide: a frequency goes with the root of one over the density.
test.each([
  [0.118, []],
  [0.122, ['plate density']],
  [-0.118, []],
  [-0.122, ['plate density']],
])('a logarithm of the density of %s where it was stated to 0.04', (log, far) => {
  const low = hz.slice(0, 4).map((f, mode) => ({ mode, frequencyHz: { value: f * Math.exp(-log / 2), sigma: 0.001 } }));
  expect(fitted(low, [density(0.04)]).farProperties).toEqual(far);
});
