import { expect, test } from 'vitest';
import { climateEffect, HYGROMETER_SIGMA, REFERENCE_CLIMATE, toReferenceClimate } from '../../src/wood/climate.ts';
import { domeChanges, gluingGate, warpCurvature } from '../../src/wood/gluing.ts';
import { EMC_SIGMA_PERCENT, moistureOf } from '../../src/wood/moisture.ts';

const room = { tempC: 20, humidityPercent: 45 };

test('one per cent more moisture lowers a long-grain mode by close to one per cent', () => {
  const effect = climateEffect(room, { tempC: 20, humidityPercent: 55 }, 'long');
  // 8.49 -> 10.12 % moisture (Wood Handbook eq. 4-5)
  expect(effect.moistureChangePercent).toBeCloseTo(1.63, 1);
  const perPercent = (effect.frequencyRatio.value - 1) / effect.moistureChangePercent;
  // Stress-wave speed falls about 1 % per 1 % (Han, Wu & Wang, abstract); a plate also thickens, which gives some back.
  expect(perPercent).toBeLessThan(-0.005);
  expect(perPercent).toBeGreaterThan(-0.012);
  expect(effect.massRatio.value).toBeGreaterThan(1);
  expect(effect.modulusRatio.value).toBeLessThan(1);
});

test('across the grain moisture does more than along', () => {
  const damp = { tempC: 20, humidityPercent: 60 };
  const across = climateEffect(room, damp, 'cross').frequencyRatio.value;
  expect(across).toBeLessThan(climateEffect(room, damp, 'long').frequencyRatio.value);
});

test('a mode measured in the reference climate is not moved, but the hygrometer keeps its say', () => {
  const measured = { value: 180, sigma: 0.3 };
  expect(toReferenceClimate(measured, REFERENCE_CLIMATE, 'long', REFERENCE_CLIMATE, 0)).toEqual(measured);
  const { value, sigma } = toReferenceClimate(measured, REFERENCE_CLIMATE, 'long');
  expect(value).toBe(180);
  // 3 %RH x 0.16 % per %RH x 0.75 % per per cent = 0.36 % of 180 Hz, beside the measured 0.3 Hz
  expect(sigma).toBeCloseTo(Math.hypot(0.3, 0.65), 1);
});

test('carrying a mode to the reference widens its sigma by what the hygrometer and the wood leave open', () => {
  const measured = { value: 180, sigma: 0.1 };
  const carried = toReferenceClimate(measured, { tempC: 20, humidityPercent: 35 }, 'long');
  expect(carried.value).toBeLessThan(180); // from dry air to 50 %: wood takes up water and sounds lower
  // 3 %RH is 0.46 % moisture, at -0.75 % per per cent: 0.6 Hz at least
  expect(carried.sigma).toBeGreaterThan(180 * 0.003);
  expect(carried.sigma).toBeLessThan(180 * 0.01);
  expect(HYGROMETER_SIGMA).toBe(3);
});

test('there and back again meets the first frequency within the correction of the correction', () => {
  const away = { tempC: 26, humidityPercent: 38 };
  const there = toReferenceClimate({ value: 200, sigma: 0 }, away, 'long');
  const back = toReferenceClimate(there, REFERENCE_CLIMATE, 'long', away);
  // first-order factors (1 + x)(1 - x): x is 1 %, so 1e-4
  expect(Math.abs(back.value / 200 - 1)).toBeLessThan(3e-4);
});

test('equilibrium moisture carries the hygrometer and the formula in its sigma', () => {
  const { value, sigma } = moistureOf({ value: 50, sigma: 3 }, 20);
  expect(value).toBeCloseTo(9.271, 2);
  // slope 0.16 % per %RH: hypot(0.48, 1)
  expect(sigma).toBeCloseTo(Math.hypot(0.48, EMC_SIGMA_PERCENT), 1);
});

test('the gate opens inside the window, closes outside, and is unsure at its edge', () => {
  const exact = { value: 0, sigma: 1 };
  expect(gluingGate(45, exact, 20).kind).toBe('glue');
  expect(gluingGate(60, exact, 20).kind).toBe('wait-too-damp');
  expect(gluingGate(30, exact, 20).kind).toBe('wait-too-dry');
  expect(gluingGate(50.5, exact, 20).kind).toBe('unsure');
  // a hygrometer that reads 8 too high
  expect(gluingGate(55, { value: 8, sigma: 1 }, 20)).toMatchObject({
    kind: 'glue',
    humidityPercent: { value: 47, sigma: 1 },
  });
});

test('two equal strips of one width warp as Timoshenko says of a bimetal', () => {
  // S. Timoshenko (1925): equal thickness and modulus, kappa = 3/2 strain / (total thickness)
  const strip = {
    plate: { thicknessM: 0.003, stripWidthM: 0.01, eCrossPa: 1e10 },
    brace: { heightM: 0.003, widthM: 0.01, eLongPa: 1e10 },
    fullShrinkagePercent: 3.8,
  };
  const strain = 0.00129959; // published coefficient of Engelmann, radial
  expect(warpCurvature(strip, 1) / ((1.5 * strain) / 0.006)).toBeCloseTo(1, 4);
});

test('a top glued at 45 % domes in damp air and sinks in dry, with a doubt of half', () => {
  const strip = {
    plate: { thicknessM: 0.0028, stripWidthM: 0.1, eCrossPa: 0.85e9 },
    brace: { heightM: 0.013, widthM: 0.007, eLongPa: 11e9 },
    fullShrinkagePercent: 4.3,
  };
  const [dry, damp] = domeChanges(strip, 0.36, room);
  expect(dry!.humidityPercent).toBe(30);
  expect(dry!.riseMm.value).toBeLessThan(-0.5);
  expect(damp!.riseMm.value).toBeGreaterThan(0.5);
  expect(dry!.riseMm.sigma).toBeCloseTo(Math.abs(dry!.riseMm.value) / 2, 9);
});
