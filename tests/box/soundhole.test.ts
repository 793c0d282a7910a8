import { expect, test } from 'vitest';
import { airIn } from '../../src/box/air.ts';
import { helmholtzEstimate, helmholtzHz, soundhole } from '../../src/box/soundhole.ts';
import { estimate } from '../../src/quantity/estimate.ts';

const air = { ...airIn({ tempC: 20, humidityPercent: 50, pressurePa: 101_325 }), soundSpeedMPerS: 343.2 };

test('from sizes alone the air lies between its two end corrections, and an exact volume leaves their spread', () => {
  // 16 l, hole of 50 mm radius, 3 mm thick: 129.006 Hz with both mouths flanged, 134.019 Hz as a thin plate
  // (Woodhouse, Euphonics 4.2.1; shared reference section e)
  const { value, sigma } = helmholtzEstimate(air, estimate(0.016, 0), 0.05, 0.003);
  expect(value).toBeCloseTo((129.006 + 134.019) / 2, 2);
  // a uniform spread: its width over the square root of 12 (GUM 4.3.7)
  expect(sigma).toBeCloseTo((134.019 - 129.006) / Math.sqrt(12), 2);
});

test('two per cent of volume add one per cent of frequency', () => {
  const exact = helmholtzEstimate(air, estimate(0.016, 0), 0.05, 0.003);
  const rough = helmholtzEstimate(air, estimate(0.016, 0.00032), 0.05, 0.003);
  expect(rough.value).toBe(exact.value);
  expect(Math.sqrt(rough.sigma ** 2 - exact.sigma ** 2)).toBeCloseTo(0.01 * exact.value, 9);
});

test('a volume of nothing is refused by name', () => {
  expect(() => helmholtzHz(air, 0, soundhole(0.05, 0.003, 'flanged', 1))).toThrow('helmholtzHz: volume 0 m³, need > 0');
  expect(() => helmholtzEstimate(air, estimate(-0.01, 0), 0.05, 0.003)).toThrow('helmholtzHz: volume -0.01 m³');
});
