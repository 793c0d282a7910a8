// Water, swelling and air, against the handbook's formulas worked out by hand and against signs and limits that hold whatever the
// coefficients. Source of the formulas: FPL-GTR-282 (2021), chapters 4, 5 and 13.
import { describe, expect, test } from 'vitest';
import { climateEffect, densityAtReference, toReferenceClimate } from '../../src/wood/climate.ts';
import { type CrossBracedStrip, domeChanges, gluingGate, warpCurvature } from '../../src/wood/gluing.ts';
import {
  densityAtMoisture,
  equilibriumMoisturePercent,
  massPerPercent,
  modulusAfter,
  moistureOf,
  moistureSlope,
  widthMovementMm,
} from '../../src/wood/moisture.ts';

const room = { tempC: 20, humidityPercent: 50 };

describe('equilibrium moisture', () => {
  test.each([
    [-10.01, 50, 'tempC -10.01, need -10 to 100'],
    [100.01, 50, 'tempC 100.01, need -10 to 100'],
    [20, -0.1, 'humidityPercent -0.1, need 0 to 99.9'],
    [20, 99.91, 'humidityPercent 99.91, need 0 to 99.9'],
    [Number.NaN, 50, 'tempC NaN'],
  ])('at %f C and %f %% is refused by name', (tempC, humidityPercent, message) => {
    expect(() => equilibriumMoisturePercent({ tempC, humidityPercent })).toThrow(
      `equilibriumMoisturePercent: ${message}`,
    );
  });

  test('holds to its ends: none in bone-dry air, some 27 % near saturation', () => {
    expect(equilibriumMoisturePercent({ tempC: 20, humidityPercent: 0 })).toBe(0);
    expect(equilibriumMoisturePercent({ tempC: -10, humidityPercent: 99.9 })).toBeGreaterThan(25);
    expect(equilibriumMoisturePercent({ tempC: 100, humidityPercent: 99.9 })).toBeGreaterThan(10);
  });

  test('its slope is what one per cent of humidity changes, at the ends as well', () => {
    const at = (humidityPercent: number) => equilibriumMoisturePercent({ tempC: 20, humidityPercent });
    expect(moistureSlope(room)).toBeCloseTo(at(50.5) - at(49.5), 9);
    expect(moistureSlope({ tempC: 20, humidityPercent: 0 })).toBeCloseTo(at(0.5) / 0.5, 9);
    expect(moistureSlope({ tempC: 20, humidityPercent: 99.9 })).toBeCloseTo((at(99.9) - at(99.4)) / 0.5, 9);
  });

  test('of a reading beyond nothing or saturation is that of the end', () => {
    expect(moistureOf({ value: -4, sigma: 0 }, 20)).toEqual({ value: 0, sigma: 1 });
    expect(moistureOf({ value: 120, sigma: 0 }, 20).value).toBe(
      equilibriumMoisturePercent({ tempC: 20, humidityPercent: 99.9 }),
    );
  });
});

describe('with water', () => {
  test('a width moves by the published coefficient: 0.00165 a per cent for sugar maple, radial (Table 13-5)', () => {
    expect(widthMovementMm(400, 4.8, 8, 10)).toBeCloseTo(400 * 0.00165 * 2, 2);
    expect(widthMovementMm(400, 4.8, 10, 8)).toBeCloseTo(-400 * 0.00165 * 2, 2);
  });

  test('a modulus compounds: there and back is no change, and the doubt of the law grows with the way', () => {
    const dry = { value: 12, sigma: 0.12 };
    const damp = modulusAfter(dry, 'long', 2);
    expect(damp.value).toBeCloseTo(12 * 0.985 * 0.985, 9);
    expect(modulusAfter(damp, 'long', -2).value).toBeCloseTo(12, 9);
    // 1 % measured, and 2 x 0.4 % of 98.5 %.
    expect(damp.sigma / damp.value).toBeCloseTo(Math.hypot(0.01, (2 * 0.004) / 0.985), 9);
    expect(modulusAfter(dry, 'cross', 0)).toEqual(dry);
    expect(modulusAfter(dry, 'cross', 1).value).toBeCloseTo(12 * 0.975, 9);
  });

  test('mass grows by a hundredth of what the wood weighs dry', () => {
    expect(massPerPercent(0)).toBe(0.01);
    expect(massPerPercent(25)).toBeCloseTo(0.008, 9);
  });

  test('density: 1000 G (1 + M / 100) with the gravity on its own volume; above saturation only water is added', () => {
    // Basic gravity 0.35: 0.35 / (1 - 0.265 x 0.35 x (1 - 12 / 30)) at 12 %, and on the dry volume at 0 %.
    const at12 = (1000 * 0.35 * 1.12) / (1 - 0.265 * 0.35 * 0.6);
    const dry = (1000 * 0.35) / (1 - 0.265 * 0.35);
    expect(densityAtMoisture(at12, 12, 0)).toBeCloseTo(dry, 9);
    expect(densityAtMoisture(dry, 0, 12)).toBeCloseTo(at12, 9);
    expect(densityAtMoisture(at12, 12, 30)).toBeCloseTo(350 * 1.3, 9);
    expect(densityAtMoisture(at12, 12, 50)).toBeCloseTo(350 * 1.5, 9);
    expect(densityAtMoisture(350 * 1.5, 50, 12)).toBeCloseTo(at12, 9);
  });
});

describe('a change of air', () => {
  const damp = { tempC: 20, humidityPercent: 60 };

  test('is told in parts that fit together: f goes with the root of stiffness over mass, but for the swelling', () => {
    for (const direction of ['long', 'cross', 'plate'] as const) {
      const effect = climateEffect(room, damp, direction, 0);
      const change = equilibriumMoisturePercent(damp) - equilibriumMoisturePercent(room);
      expect(effect.moistureChangePercent).toBeCloseTo(change, 9);
      // The formula's slope is worth a tenth.
      expect(effect.moistureChangeSigma).toBeCloseTo(0.1 * change, 9);
      const bare = Math.sqrt(effect.modulusRatio.value / effect.massRatio.value);
      const swelling = effect.frequencyRatio.value / bare - 1;
      // Thickness (0.26 % a per cent) counts one and a half times, what else swells (0.15 %) at most as much.
      expect(swelling / change).toBeGreaterThan(0.001);
      expect(swelling / change).toBeLessThan(0.006);
      expect(effect.massRatio.value - 1).toBeCloseTo((0.01 * change) / (1 + 0.0996), 4);
    }
    const swellingOf = (direction: 'long' | 'cross' | 'plate') => {
      const { frequencyRatio, modulusRatio, massRatio } = climateEffect(room, damp, direction, 0);
      return frequencyRatio.value / Math.sqrt(modulusRatio.value / massRatio.value);
    };
    // What swells across makes the way of a bend across longer.
    expect(swellingOf('long')).toBeGreaterThan(swellingOf('plate'));
    expect(swellingOf('plate')).toBeGreaterThan(swellingOf('cross'));
  });

  test('warmth alone softens: E along falls 0.24 % a degree, and f half of that', () => {
    const warm = { tempC: 21, humidityPercent: 50 };
    // The humidity at which wood keeps its moisture: the secant converges in a few steps, eq. 4-5 is nearly straight here.
    let still = warm;
    for (let step = 0; step < 20; step++) {
      const missing = equilibriumMoisturePercent(room) - equilibriumMoisturePercent(still);
      still = { ...warm, humidityPercent: still.humidityPercent + missing / moistureSlope(still) };
    }
    const effect = climateEffect(room, still, 'long', 0);
    expect(effect.modulusRatio.value).toBeCloseTo(1 - 0.0024, 5);
    expect(effect.frequencyRatio.value).toBeCloseTo(1 - 0.0012, 5);
    expect(effect.modulusRatio.sigma).toBeCloseTo(0.0006, 5);
    expect(effect.frequencyRatio.sigma).toBeCloseTo(0.0003, 5);
    expect(climateEffect(room, still, 'cross', 0).modulusRatio.value).toBeCloseTo(1 - 0.0117, 4);
  });

  test('the hygrometer counts by the slope, and sigmas of a frequency by its ratio', () => {
    const effect = climateEffect(room, room, 'long', 5);
    expect(effect.moistureChangeSigma).toBeCloseTo(5 * moistureSlope(room), 9);
    expect(effect.massRatio).toEqual({
      value: 1,
      sigma: expect.closeTo(massPerPercent(equilibriumMoisturePercent(room)) * effect.moistureChangeSigma, 9),
    });
    expect(effect.modulusRatio.sigma).toBeCloseTo(0.015 * effect.moistureChangeSigma, 9);
    const carried = toReferenceClimate({ value: 200, sigma: 2 }, damp, 'long', room, 0);
    const ratio = climateEffect(damp, room, 'long', 0).frequencyRatio;
    expect(carried.value).toBeCloseTo(200 * ratio.value, 9);
    expect(carried.sigma ** 2).toBeCloseTo((2 * ratio.value) ** 2 + (200 * ratio.sigma) ** 2, 9);
  });

  test('a density is carried along, there and back, and its doubt grows by way and hygrometer', () => {
    const measured = { value: 420, sigma: 2 };
    const there = densityAtReference(measured, damp, room, 0);
    expect(there.value).toBeLessThan(420);
    expect(there.value).toBeCloseTo(
      densityAtMoisture(420, equilibriumMoisturePercent(damp), equilibriumMoisturePercent(room)),
      9,
    );
    expect(densityAtReference(there, room, damp, 0).value).toBeCloseTo(420, 6);
    expect(densityAtReference(measured, room, room, 0)).toEqual({
      value: expect.closeTo(420, 9),
      sigma: expect.closeTo(2, 9),
    });
    const doubtful = densityAtReference(measured, room, room, 3);
    expect(doubtful.value).toBeCloseTo(420, 9);
    // 1 % more water is 0.9 % more mass on 0.3 % and more of volume: some 0.6 % of density.
    const perPercent = Math.sqrt(doubtful.sigma ** 2 - 4) / (420 * 3 * moistureSlope(room));
    expect(perPercent).toBeGreaterThan(0.004);
    expect(perPercent).toBeLessThan(0.009);
    // As for an air that is hardly another one.
    const nearly = densityAtReference(measured, { ...room, humidityPercent: 50.01 }, room, 3);
    expect(nearly.sigma).toBeCloseTo(doubtful.sigma, 2);
    expect(densityAtReference(measured, damp, room, 3).sigma).toBeGreaterThan(there.sigma);
    // Half a percent of water and a quarter of the swelling at most.
    expect(there.sigma).toBeGreaterThan(2 * (there.value / 420));
    expect(there.sigma).toBeLessThan(3);
  });
});

describe('gluing', () => {
  const kind = (reading: number, sigma = 1, window = { lowPercent: 40, highPercent: 50 }) =>
    gluingGate(reading, { value: 0, sigma }, 20, window).kind;

  test.each([
    [38.9, 'wait-too-dry'],
    [39, 'wait-too-dry'],
    [39.1, 'unsure'],
    [40.9, 'unsure'],
    [41, 'glue'],
    [49, 'glue'],
    [49.1, 'unsure'],
    [50.9, 'unsure'],
    [51, 'wait-too-damp'],
  ])('at %f %% with a doubt of one: %s', (reading, expected) => {
    expect(kind(reading)).toBe(expected);
  });

  test('the window itself is inside where nothing is in doubt', () => {
    expect([40, 50].map((reading) => kind(reading, 0))).toEqual(['glue', 'glue']);
    expect([39.99, 50.01].map((reading) => kind(reading, 0))).toEqual(['wait-too-dry', 'wait-too-damp']);
    expect(kind(32, 1, { lowPercent: 30, highPercent: 35 })).toBe('glue');
    expect(gluingGate(45, { value: -2, sigma: 1 }, 20).humidityPercent).toEqual({ value: 47, sigma: 1 });
    expect(gluingGate(45, { value: 0, sigma: 1 }, 20).moisturePercent).toEqual(moistureOf({ value: 45, sigma: 1 }, 20));
  });

  const strip: CrossBracedStrip = {
    plate: { thicknessM: 0.003, stripWidthM: 0.08, eCrossPa: 0.8e9 },
    brace: { heightM: 0.012, widthM: 0.006, eLongPa: 12e9 },
    fullShrinkagePercent: 4,
  };
  const strain = 0.04 / 30 / (1 - (0.04 * 20) / 30);

  test('a strip warps as Timoshenko has it for a bimetal, worked out from the balance of two strips', () => {
    // EA and EI of both, b h and b h^3 / 12.
    const [eaP, eaB] = [0.8e9 * 0.08 * 0.003, 12e9 * 0.006 * 0.012];
    const [eiP, eiB] = [(0.8e9 * 0.08 * 0.003 ** 3) / 12, (12e9 * 0.006 * 0.012 ** 3) / 12];
    // P on both, kappa (EI_P + EI_B) = P (h_P + h_B) / 2, and equal strain at the joint.
    const arm = 0.0075;
    const force = strain / (1 / eaP + 1 / eaB + arm ** 2 / (eiP + eiB));
    expect(warpCurvature(strip, 1)).toBeCloseTo((force * arm) / (eiP + eiB), 9);
    expect(warpCurvature(strip, -2)).toBeCloseTo(-2 * warpCurvature(strip, 1), 9);
    expect(Math.abs(warpCurvature(strip, 0))).toBe(0);
  });

  test('the rise of an arch is its curvature by the square of the span over eight, in the airs asked for', () => {
    const glued = { tempC: 20, humidityPercent: 45 };
    const [dry, same, damp] = domeChanges(strip, 0.4, glued, [35, 45, 70]);
    expect([dry, same, damp].map((one) => one!.humidityPercent)).toEqual([35, 45, 70]);
    const at = (humidityPercent: number) => equilibriumMoisturePercent({ tempC: 20, humidityPercent });
    expect(damp!.riseMm.value).toBeCloseTo((1000 * warpCurvature(strip, at(70) - at(45)) * 0.16) / 8, 9);
    expect(dry!.riseMm.value).toBeLessThan(0);
    expect(Math.abs(same!.riseMm.value)).toBe(0);
    expect(dry!.riseMm.sigma).toBeCloseTo(-dry!.riseMm.value / 2, 9);
    expect(domeChanges(strip, 0.4, glued).map(({ humidityPercent }) => humidityPercent)).toEqual([30, 60]);
  });
});
