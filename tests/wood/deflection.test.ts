import { expect, test } from 'vitest';
import { inchToMm } from '../../src/quantity/units.ts';
import { agreementOf, readDeflection } from '../../src/wood/deflection.ts';

const measured = (value: number, sigma = 0) => ({ value, sigma });

test('a top that gives 0.280 in under 5 lb on an 18 in span has EI near 6.2 N m^2', () => {
  // F S^3 / (48 d) by hand: 22.241 N, 0.4572 m, 7.112 mm -> 6.226
  const reading = readDeflection({
    spanMm: measured(inchToMm(18), 0.5),
    loadN: measured(5 * 4.448222, 0.05),
    deflectionMm: measured(inchToMm(0.28), 0.1),
    widthMm: measured(400, 1),
    thicknessMm: measured(2.5, 0.03),
  });
  expect(reading.bendingNm2.value).toBeCloseTo(6.226, 3);
  expect(reading.perWidthNm.value).toBeCloseTo(6.226 / 0.4, 2);
  // 12 EI / (b h^3) = 12 x 6.226 / (0.4 x 15.625e-9)
  expect(reading.modulusGpa.value).toBeCloseTo(11.954, 2);
  // caliper: 3 x 0.03 / 2.5 = 3.6 % is more than the dial's 1.4 %
  expect(reading.contributions.map(({ input }) => input).slice(0, 2)).toEqual(['thickness', 'deflection']);
  expect(reading.contributions[0]!.sigma / reading.modulusGpa.value).toBeCloseTo(0.036, 3);
});

test('a load of nothing is refused by name', () => {
  const one = measured(1);
  const test = { spanMm: one, loadN: measured(0), deflectionMm: one, widthMm: one, thicknessMm: one };
  expect(() => readDeflection(test)).toThrow('readDeflection: load 0, need > 0');
});

test('tapped and bent agree, are doubtful or disagree by their joint sigma', () => {
  const tapped = measured(11, 0.3);
  expect(agreementOf(tapped, measured(10.4, 0.4)).word).toBe('agree'); // 0.6 / 0.5 = 1.2
  expect(agreementOf(tapped, measured(9.8, 0.4)).word).toBe('doubtful'); // 2.4
  const apart = agreementOf(tapped, measured(9, 0.4));
  expect(apart).toMatchObject({ word: 'disagree', sigmas: 4 });
  expect(apart.ratio.value).toBeCloseTo(9 / 11, 9);
  expect(agreementOf(measured(3), measured(3))).toMatchObject({ word: 'agree', sigmas: 0 });
});
