// @vitest-environment happy-dom
// Lengths and masses with their intervals in both systems. Factors: NIST SP 811 (2008) Appendix B, exact.
import { expect, test } from 'vitest';
import type { Settings } from '../../src/storage/settings.ts';
import { useLength, useLengthEstimate, useMass, useMassEstimate } from '../../src/views/parts/own-units.ts';
import { expectFigure, figureIn, show } from './shown.tsx';

const mm = { value: 317.3, sigma: 1.7 };
const grams = { value: 193.9, sigma: 0.6 };

function Figures() {
  return (
    <>
      <i>{useLength()(mm.value)}</i>
      <i>{useLengthEstimate()(mm)}</i>
      <i>{useMass()(grams.value)}</i>
      <i>{useMassEstimate()(grams)}</i>
    </>
  );
}

const systems: readonly (readonly [Settings['length'], Settings['mass'], string, string, number, number])[] = [
  ['mm', 'g', 'mm', 'g', 1, 1],
  ['inch', 'oz', 'in', 'oz', 1 / 25.4, 1 / 28.349523125],
];
test.each(systems)('in %s and %s', (length, mass, lengthUnit, massUnit, perMm, perG) => {
  const shown = [...show(<Figures />, { length, mass }).querySelectorAll('i')].map(({ textContent }) => textContent!);
  const [plainLength, plainMass] = [figureIn(shown[0]!), figureIn(shown[2]!)];
  expect([plainLength.unit, plainMass.unit]).toEqual([lengthUnit, massUnit]);
  expect(Math.abs(plainLength.value - mm.value * perMm)).toBeLessThanOrEqual(plainLength.digit / 2);
  expect(Math.abs(plainMass.value - grams.value * perG)).toBeLessThanOrEqual(plainMass.digit / 2);
  expectFigure(shown[1]!, mm.value * perMm, mm.sigma * perMm, lengthUnit);
  expectFigure(shown[3]!, grams.value * perG, grams.sigma * perG, massUnit);
});
