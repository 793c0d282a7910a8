import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  celsiusToFahrenheit,
  fahrenheitToCelsius,
  gToOunce,
  inchToMm,
  kgfToN,
  mmToInch,
  nToKgf,
  nToLbf,
  ounceToG,
} from '../../src/quantity/units.ts';

test('the factors are those of NIST SP 811 Appendix B', () => {
  // NIST SP 811 (2008): 1 lbf = 4.448 222 N, 1 oz (avdp) = 28.349 52 g, 1 in = 25.4 mm
  expect(nToLbf(4.448222)).toBeCloseTo(1, 6);
  // the same: standard gravity 9.806 65 m/s^2, 1 kgf = 9.806 65 N
  expect(kgfToN(2)).toBeCloseTo(19.6133, 12);
  expect(nToKgf(9.80665)).toBe(1);
  expect(ounceToG(1)).toBeCloseTo(28.34952, 5);
  expect(inchToMm(1)).toBe(25.4);
  expect(fahrenheitToCelsius(70)).toBeCloseTo(21.111, 3);
  expect(celsiusToFahrenheit(-40)).toBe(-40);
});

test('every conversion there and back returns the number it started from', () => {
  fc.assert(
    fc.property(fc.double({ min: 1e-3, max: 1e6, noNaN: true }), (x) => {
      for (const back of [inchToMm(mmToInch(x)), ounceToG(gToOunce(x)), fahrenheitToCelsius(celsiusToFahrenheit(x))]) {
        expect(Math.abs(back / x - 1)).toBeLessThan(1e-9);
      }
    }),
    { seed: 4, numRuns: 100 },
  );
});
