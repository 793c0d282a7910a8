// What a board is expected to be before it is tapped, from the rows of its wood: 1.10 MOE, ratios times that, and the spread of one
// board (FPL-GTR-282 chapter 5, from memory; the spread of the ratios is ours).
import { describe, expect, test } from 'vitest';
import { elasticStart } from '../../src/wood/elastic-start.ts';
import { SPECIES, type Species, speciesById } from '../../src/wood/species.ts';

const sitka = () => speciesById('sitka-spruce')!;
const maple = () => speciesById('sugar-maple')!;
const invented: Species = {
  id: 'invented',
  name: 'Invented',
  family: 'hardwood',
  intersectionPercent: { value: 25, verified: false },
};
const figure = (value: number) => ({ value, verified: false });

describe('a start', () => {
  test('is worked out of the wood’s own rows where it has them', () => {
    const own: Species = {
      ...invented,
      gravity12: figure(0.5),
      moe12Gpa: figure(10),
      ratios: { eT: figure(0.05), eR: figure(0.1), gLR: figure(0.08), gLT: figure(0.06), gRT: figure(0.004) },
      poisson: { lr: figure(0.41), lt: figure(0.5), rt: figure(0.6) },
    };
    const start = elasticStart(own);
    expect(start.assumed).toEqual([]);
    expect(start.eLongPa.value).toBeCloseTo(11e9, 0);
    expect(start.eLongPa.sigma / start.eLongPa.value).toBeCloseTo(0.22, 9);
    expect(start.eCrossPa.value).toBeCloseTo(1.1e9, 0);
    expect(start.gPa.value).toBeCloseTo(0.88e9, 0);
    // The spread of the modulus and of the ratio together.
    for (const { value, sigma } of [start.eCrossPa, start.gPa])
      expect(sigma / value).toBeCloseTo(Math.hypot(0.22, 0.3), 9);
    // Half a gram a cubic centimetre ovendry, and 12 % of water.
    expect(start.densityKgM3.value).toBeCloseTo(560, 9);
    expect(start.densityKgM3.sigma).toBeCloseTo(56, 9);
    expect(start.nuLR.value).toBe(0.41);
    expect(start.nuLR.sigma).toBeCloseTo(0.2 * 0.41, 12);
    expect(start.shearRatios).toEqual({
      longRatio: { value: 0.06, sigma: expect.closeTo(0.018, 12) },
      crossRatio: { value: 0.004, sigma: expect.closeTo(0.0012, 12) },
    });
  });

  test('takes what is wanting from its family’s stand-in, and says what', () => {
    const bare = elasticStart(invented);
    const { assumed, ...figures } = elasticStart(maple());
    expect(assumed).toEqual([]);
    expect(bare).toEqual({ ...figures, assumed: ['gravity', 'modulus', 'ratios'] });
    const nothing = elasticStart(undefined);
    expect(nothing).toEqual({ ...elasticStart(sitka()), assumed: ['gravity', 'modulus', 'ratios'] });
    const weighed = elasticStart({ ...invented, gravity12: figure(0.5) });
    expect(weighed.assumed).toEqual(['modulus', 'ratios']);
    expect(weighed.densityKgM3.value).toBeCloseTo(560, 9);
    expect(weighed.eLongPa).toEqual(bare.eLongPa);
  });

  test('of a wood whose rolling shear no table has takes a fiftieth of the modulus', () => {
    const { gRT: _, ...ratios } = maple().ratios!;
    expect(elasticStart({ ...maple(), ratios }).shearRatios!.crossRatio.value).toBe(0.02);
  });

  test('every wood of the list has one, by its own Poisson’s ratio where it has it', () => {
    for (const species of SPECIES) {
      const { nuLR, eCrossPa, eLongPa } = elasticStart(species);
      if (species.poisson) expect(nuLR.value).toBe(species.poisson.lr.value);
      expect(eCrossPa.value).toBeLessThan(0.25 * eLongPa.value);
    }
  });
});
