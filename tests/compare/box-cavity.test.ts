import { describe, expect, test } from 'vitest';
import { cavityOf } from '../../src/compare/box-cavity.ts';
import type { BoxCavity } from '../../src/record/box-edit.ts';

const outline: BoxCavity = {
  from: 'outline',
  bodyLengthMm: 500,
  lowerBoutMm: 400,
  waistMm: 250,
  upperBoutMm: 290,
  tailDepthMm: 110,
  neckDepthMm: 90,
  holeRadiusMm: 50,
  holeEdgeMm: 3,
};
const typed: BoxCavity = { from: 'volume', volumeL: 14, holeRadiusMm: 50, holeEdgeMm: 3 };
const cavity = (sizes: BoxCavity, climate?: { tempC?: number; humidityPercent?: number }) => {
  const found = cavityOf(sizes, climate);
  if (found.kind !== 'cavity') throw new Error(JSON.stringify(found));
  return found;
};

describe('what is still to be measured', () => {
  const needs = (sizes: BoxCavity | undefined) => {
    const found = cavityOf(sizes, undefined);
    return found.kind === 'missing' ? found.needs : found.kind;
  };

  test('is all of it where nothing is known, and each need goes with its measure', () => {
    const all = ['body-length', 'lower-bout', 'waist', 'upper-bout', 'depths', 'hole-radius', 'hole-edge'];
    expect(needs(undefined)).toEqual(all);
    expect(needs({ from: 'outline' })).toEqual(all);
    expect(needs({ from: 'volume' })).toEqual(['volume', 'hole-radius', 'hole-edge']);
    expect(needs(outline)).toBe('cavity');
    expect(needs(typed)).toBe('cavity');
  });

  test.each([
    ['bodyLengthMm', 'body-length'],
    ['lowerBoutMm', 'lower-bout'],
    ['waistMm', 'waist'],
    ['upperBoutMm', 'upper-bout'],
    ['tailDepthMm', 'depths'],
    ['neckDepthMm', 'depths'],
    ['holeRadiusMm', 'hole-radius'],
    ['holeEdgeMm', 'hole-edge'],
  ] as const)('without %s it is %s', (field, need) => {
    const { [field]: _, ...less } = outline;
    expect(needs(less)).toEqual([need]);
  });
});

describe('the air of a box', () => {
  test('typed as a volume: that many litres, with four in a hundred of doubt where none was told', () => {
    const { volumeM3, planAreaM2 } = cavity(typed);
    expect(volumeM3.value).toBeCloseTo(0.014, 12);
    // A half width of a 95 % interval is 1.96 sigma.
    expect(1.959964 * volumeM3.sigma).toBeCloseTo(0.04 * 0.014, 9);
    expect(1.959964 * cavity({ ...typed, volumeDoubtPercent: 1 }).volumeM3.sigma).toBeCloseTo(0.01 * 0.014, 9);
    expect(planAreaM2).toBeUndefined();
    // 14 litres over a mean depth of 100 mm.
    expect(cavity({ ...typed, tailDepthMm: 110, neckDepthMm: 90 }).planAreaM2).toBeCloseTo(0.14, 12);
    expect(cavity({ ...typed, tailDepthMm: 110 }).planAreaM2).toBeUndefined();
    expect(cavity({ ...typed, neckDepthMm: 90 }).planAreaM2).toBeUndefined();
  });

  test('a barometer is believed: the density goes with the pressure, as a gas’s does', () => {
    const climate = { tempC: 20, humidityPercent: 0 };
    const at = (pressureHpa: number) => cavity({ ...typed, pressureHpa }, climate).air.densityKgM3;
    // dry air: p / (287.05 J/kg/K T), R. C. Weast, Handbook of Chemistry and Physics (from memory)
    expect(at(900)).toBeCloseTo(90_000 / (287.05 * 293.15), 2);
    expect(at(1050) / at(900)).toBeCloseTo(1050 / 900, 3);
  });

  test('from an outline: blocks and braces take theirs, from a volume that was measured they do not', () => {
    const empty = cavity(outline).volumeM3.value;
    expect(empty - cavity({ ...outline, occupiedL: 0.7 }).volumeM3.value).toBeCloseTo(0.0007, 12);
    expect(cavity({ ...typed, occupiedL: 0.7 }).volumeM3.value).toBeCloseTo(0.014, 12);
    // Its area lies between those of a waist and of a lower bout as wide all along; its depth is about the mean.
    const { planAreaM2 } = cavity(outline);
    expect(planAreaM2).toBeGreaterThan(0.5 * 0.25 * 0.8);
    expect(planAreaM2).toBeLessThan(0.5 * 0.4);
    expect(empty / planAreaM2!).toBeGreaterThan(0.1);
    expect(empty / planAreaM2!).toBeLessThan(0.11);
    // A dome is more air: r^2 / 2 R at most over all of the plan.
    const domed = cavity({ ...outline, backDomeRadiusM: 5, topDomeRadiusM: 8 }).volumeM3.value - empty;
    expect(domed).toBeGreaterThan(0);
    expect(domed).toBeLessThan((0.25 ** 2 / 2) * (1 / 5 + 1 / 8) * planAreaM2!);
    expect(domed).toBeGreaterThan(cavity({ ...outline, backDomeRadiusM: 5 }).volumeM3.value - empty);
  });

  test('blocks that fill more than there is are told with both volumes', () => {
    const found = cavityOf({ ...outline, occupiedL: 40 }, undefined);
    expect(found).toMatchObject({ kind: 'no-volume', occupiedL: 40 });
    expect(found.kind === 'no-volume' && found.emptyL).toBeCloseTo(1000 * cavity(outline).volumeM3.value, 9);
  });

  test('sounds as Helmholtz has it, in the air that was noted', () => {
    // f = c / 2 pi sqrt(A / V L) with end corrections between those of a free edge and of a wall, 0.61 to 0.85 of the radius
    // at each end (any acoustics text); c = 331.3 sqrt(1 + t / 273.15) m/s.
    for (const tempC of [5, 20, 35]) {
      const c = 331.3 * Math.sqrt(1 + tempC / 273.15);
      const f = (ends: number) =>
        (c / (2 * Math.PI)) * Math.sqrt((Math.PI * 0.05 ** 2) / (0.014 * (0.003 + ends * 0.05)));
      const own = cavity(typed, { tempC, humidityPercent: 45 }).ownHz.value;
      expect(own).toBeGreaterThan(f(2 * 0.85) * 0.99);
      expect(own).toBeLessThan(f(2 * 0.61) * 1.01);
    }
    const at = (climate: object) => cavity(typed, climate).ownHz.value;
    expect(at({ tempC: 35 }) / at({ tempC: 5 })).toBeCloseTo(Math.sqrt((273.15 + 35) / (273.15 + 5)), 2);
    expect(at({ tempC: 35, humidityPercent: 90 })).toBeGreaterThan(at({ tempC: 35, humidityPercent: 10 }));
  });

  test('air that was not noted is that of a usual room, and this is said', () => {
    expect(cavity(typed).climateAssumed).toBe(true);
    expect(cavity(typed, { tempC: 24 }).climateAssumed).toBe(true);
    expect(cavity(typed, { humidityPercent: 50 }).climateAssumed).toBe(true);
    const noted = cavity(typed, { tempC: 20, humidityPercent: 50 });
    expect(noted.climateAssumed).toBe(false);
    expect(cavity(typed).ownHz).toEqual(noted.ownHz);
  });

  test('a day hotter or colder than the laws of air are known for is taken as their edge', () => {
    const at = (tempC: number) => cavity(typed, { tempC, humidityPercent: 50 }).ownHz.value;
    expect(at(48)).toBe(at(40));
    expect(at(-8)).toBe(at(0));
    expect(at(39)).toBeLessThan(at(40));
    expect(at(1)).toBeGreaterThan(at(0));
  });
});

describe('the outline and its depths', () => {
  test('twice as large in all three ways it has four times the area and eight times the air; in one, twice', () => {
    const sides = ['bodyLengthMm', 'lowerBoutMm', 'waistMm', 'upperBoutMm', 'tailDepthMm', 'neckDepthMm'] as const;
    const twice = (...which: readonly (typeof sides)[number][]): BoxCavity => ({
      ...outline,
      ...Object.fromEntries(which.map((side) => [side, 2 * outline[side]!])),
    });
    const one = cavity(outline);
    const grown = (of: BoxCavity) => [
      cavity(of).planAreaM2! / one.planAreaM2!,
      cavity(of).volumeM3.value / one.volumeM3.value,
    ];
    // Sums over the outline, to the last digits.
    const near = (values: readonly number[], wanted: readonly number[]) =>
      values.forEach((value, i) => {
        expect(value).toBeCloseTo(wanted[i]!, 9);
      });
    near(grown(twice(...sides)), [4, 8]);
    near(grown(twice('bodyLengthMm')), [2, 2]);
    near(grown(twice('lowerBoutMm', 'waistMm', 'upperBoutMm')), [2, 2]);
    near(grown(twice('tailDepthMm', 'neckDepthMm')), [1, 2]);
  });

  test('a millimetre wider is more air at each width, most at the lower bout; depth counts most at the tail, which is wider', () => {
    const more = (side: 'lowerBoutMm' | 'waistMm' | 'upperBoutMm' | 'tailDepthMm' | 'neckDepthMm') =>
      cavity({ ...outline, [side]: outline[side]! + 1 }).volumeM3.value - cavity(outline).volumeM3.value;
    for (const side of ['waistMm', 'upperBoutMm'] as const) {
      expect(more(side)).toBeGreaterThan(0);
      expect(more('lowerBoutMm')).toBeGreaterThan(more(side));
    }
    expect(more('tailDepthMm')).toBeGreaterThan(more('neckDepthMm'));
    expect(more('neckDepthMm')).toBeGreaterThan(0);
  });

  test('a dome of the top adds as much as the same dome of the back', () => {
    const of = (more: Partial<BoxCavity>) => cavity({ ...outline, ...more }).volumeM3.value;
    expect(of({ topDomeRadiusM: 6 })).toBeCloseTo(of({ backDomeRadiusM: 6 }), 12);
    expect(of({ topDomeRadiusM: 6 })).toBeGreaterThan(of({}));
  });

  test('a box filled to the last litre has no air, one with a tenth of a litre left has that', () => {
    const litres = 1000 * cavity(outline).volumeM3.value;
    expect(cavityOf({ ...outline, occupiedL: litres }, undefined).kind).toBe('no-volume');
    expect(1000 * cavity({ ...outline, occupiedL: litres - 0.1 }).volumeM3.value).toBeCloseTo(0.1, 9);
  });

  test('the hole is handed on in metres, and an unread barometer stands at 1013.25 hPa (ISO 2533)', () => {
    const { holeRadiusM, holeEdgeM, air } = cavity(typed);
    expect([holeRadiusM, holeEdgeM]).toEqual([0.05, 0.003]);
    expect(air).toEqual(cavity({ ...typed, pressureHpa: 1013.25 }).air);
  });
});
