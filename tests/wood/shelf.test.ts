// Bars, boards and their comparison, by figures that can be worked out on paper.
import { describe, expect, test } from 'vitest';
import type { Estimate } from '../../src/quantity/estimate.ts';
import { agreementOf, readDeflection } from '../../src/wood/deflection.ts';
import {
  comparePair,
  pairHalves,
  rankBoards,
  type ShelfBoard,
  shelfSpread,
  stickSwaps,
} from '../../src/wood/matching.ts';
import { FREE_BAR_ROOT, simpleModuli } from '../../src/wood/simple-formula.ts';
import { SPECIES, speciesById } from '../../src/wood/species.ts';
import {
  barModulusPa,
  barShearPa,
  type StickConstants,
  stickConstants,
  stickDoubts,
  timoshenkoFactor,
  torsionShape,
} from '../../src/wood/stick.ts';
import {
  CRITERIA,
  criterionOf,
  type MeasuredWood,
  stopLine,
  thicknessChoices,
  thicknessFor,
} from '../../src/wood/thickness.ts';
import { combined, traced } from '../../src/wood/traced.ts';

const exact = (value: number): Estimate => ({ value, sigma: 0 });
const within = (value: number, share: number): Estimate => ({ value, sigma: share * value });

describe('a bar', () => {
  const bar = { massKg: 0.04, frequencyHz: 200, lengthM: 0.4, widthM: 0.03, thicknessM: 0.008 };

  test('E is 0.94641 m f^2 / b (L / t)^3 and G is 4 L m f^2 R / (b t) (ASTM E1876)', () => {
    expect(barModulusPa(bar) / ((0.94641 * 0.04 * 200 ** 2 * 50 ** 3) / 0.03)).toBeCloseTo(1, 4);
    expect(barShearPa(bar)).toBeCloseTo(
      ((4 * 0.4 * 0.04 * 200 ** 2) / (0.03 * 0.008)) * torsionShape(0.4, 0.03, 0.008),
      3,
    );
  });

  test.each(['massKg', 'frequencyHz', 'lengthM', 'widthM', 'thicknessM'] as const)(
    'without %s it is refused by name',
    (field) => {
      expect(() => barModulusPa({ ...bar, [field]: 0 })).toThrow(new RegExp(`^barModulusPa: .*${field}`));
      expect(() => barShearPa({ ...bar, [field]: -1 })).toThrow(new RegExp(`^barShearPa: .*${field}`));
    },
  );

  test('the correction of a stick is that of Goens, for bars that have a length and a shear modulus', () => {
    expect(() => timoshenkoFactor(0, 16)).toThrow(/^timoshenkoFactor/);
    expect(() => timoshenkoFactor(20, 0)).toThrow(/^timoshenkoFactor/);
    // r / L = 1 / (20 sqrt 12): 49.48 + 12.30 x 16 x 6 / 5 of its square.
    expect(timoshenkoFactor(20, 16)).toBeCloseTo(1 + (49.48 + 12.3 * 16 * 1.2) / 4800, 12);
  });

  test('a square bar twists by its torsion constant, 0.1406 of the fourth power of its side', () => {
    // Saint-Venant: G = 4 L^2 f^2 rho I_p / J with I_p = a^4 / 6, so that R = I_p / J (any text on elasticity), long bar.
    expect(torsionShape(1000, 0.01, 0.01)).toBeCloseTo(1 / 6 / 0.1406, 2);
    expect(torsionShape(0.4, 0.03, 0.008)).toBe(torsionShape(0.4, 0.008, 0.03));
  });

  test('sizes and mass make its density, and each doubt is traced', () => {
    const stick = {
      lengthMm: within(400, 0.001),
      widthMm: within(30, 0.002),
      thicknessMm: within(8, 0.004),
      massG: within(40.32, 0.003),
    };
    const found = stickConstants(stick, within(120, 0.001), undefined);
    expect(found.densityKgM3.value).toBeCloseTo(420, 9);
    expect(found.densityKgM3.contributions.map(({ input, sigma }) => [input, sigma])).toEqual([
      ['thickness', expect.closeTo(0.004 * 420, 2)],
      ['mass', expect.closeTo(0.003 * 420, 2)],
      ['width', expect.closeTo(0.002 * 420, 2)],
      ['length', expect.closeTo(0.001 * 420, 2)],
    ]);
    expect(found.specificModulus.value).toBeCloseTo((1e3 * found.eGpa.value) / 420, 6);
    expect(found.speedMS.value ** 2).toBeCloseTo((1e9 * found.eGpa.value) / 420, 0);
    expect(found.shearFactor).toBeGreaterThan(1.007);
    expect(found.shearFactor).toBeLessThan(1.013);
  });

  test.each([
    [{ densityKgM3: 99 }, ['density-not-wood']],
    [{ densityKgM3: 101 }, []],
    [{ densityKgM3: 1299 }, []],
    [{ densityKgM3: 1301 }, ['density-not-wood']],
    [{ eGpa: 1.9 }, ['modulus-not-wood']],
    [{ eGpa: 2.1 }, []],
    [{ eGpa: 29.9 }, []],
    [{ eGpa: 30.1 }, ['modulus-not-wood']],
    [{ gGpa: 0.07 }, ['shear-not-wood']],
    [{ gGpa: 0.09 }, []],
    [{ gGpa: 5.1 }, ['shear-not-wood']],
    [{ gGpa: undefined }, []],
    [{ shearFactor: 1.11 }, ['too-short']],
    [{ shearFactor: 1.1 }, []],
    [
      { densityKgM3: 1, eGpa: 1, gGpa: 9, shearFactor: 2 },
      ['density-not-wood', 'modulus-not-wood', 'shear-not-wood', 'too-short'],
    ],
  ] as const)('%j is doubted for %j', (change, doubts) => {
    const plain = { densityKgM3: 420, eGpa: 12, gGpa: 0.8, shearFactor: 1.01, ...change };
    const stick = {
      ...{ densityKgM3: exact(plain.densityKgM3), eGpa: exact(plain.eGpa), shearFactor: plain.shearFactor },
      gGpa: plain.gGpa === undefined ? undefined : exact(plain.gGpa),
    } as unknown as StickConstants;
    expect(stickDoubts(stick)).toEqual(doubts);
  });
});

test('the bare formulas: a free bar both ways, and a twist', () => {
  expect(Math.cos(FREE_BAR_ROOT) * Math.cosh(FREE_BAR_ROOT)).toBeCloseTo(1, 9);
  const size = { lengthM: 0.5, widthM: 0.2, thicknessM: 0.004 };
  const { eLongPa, eCrossPa, gPa } = simpleModuli(size, 400, [60, 120, 40]);
  expect(eLongPa / ((0.94641 * 400 * 60 ** 2 * 0.5 ** 4) / 0.004 ** 2)).toBeCloseTo(1, 4);
  expect(eCrossPa / ((0.94641 * 400 * 120 ** 2 * 0.2 ** 4) / 0.004 ** 2)).toBeCloseTo(1, 4);
  expect(gPa).toBeCloseTo(((Math.PI ** 2 / 12) * 400 * 40 ** 2 * 0.1 ** 2) / 0.004 ** 2, 0);
});

describe('two measurements', () => {
  test.each([
    [1.99, 'agree'],
    [2.01, 'doubtful'],
    [2.99, 'doubtful'],
    [3.01, 'disagree'],
  ])('%f joint sigma apart %s, whichever is larger', (apart, word) => {
    // 0.3 and 0.4: half joint.
    const other = (sign: number) => ({ value: 10 + sign * apart * 0.5, sigma: 0.4 });
    for (const sign of [1, -1]) {
      const found = agreementOf({ value: 10, sigma: 0.3 }, other(sign));
      expect(found.sigmas).toBeCloseTo(apart, 9);
      expect(found.word).toBe(word);
    }
  });

  test('a ratio has the doubts of both', () => {
    const { ratio } = agreementOf(within(10, 0.03), within(20, 0.04));
    expect(ratio.value).toBe(2);
    expect(ratio.sigma).toBeCloseTo(2 * 0.05, 4);
  });

  test.each(['spanMm', 'loadN', 'deflectionMm', 'widthMm', 'thicknessMm'] as const)(
    'a bend without %s is refused',
    (field) => {
      const bend = {
        spanMm: exact(400),
        loadN: exact(20),
        deflectionMm: exact(2),
        widthMm: exact(200),
        thicknessMm: exact(4),
      };
      for (const value of [0, -1, Number.NaN])
        expect(() => readDeflection({ ...bend, [field]: exact(value) })).toThrow(
          `readDeflection: ${field.replace(/(Mm|N)$/, '')} ${value}, need > 0`,
        );
      // 20 N on 400 mm, 2 mm down: 20 x 0.064 / (48 x 0.002) = 13.33 N m^2; exact figures leave no doubt to trace.
      const found = readDeflection(bend);
      expect(found.bendingNm2.value).toBeCloseTo(40 / 3, 9);
      expect(found.perWidthNm.value).toBeCloseTo(200 / 3, 9);
      expect(found.modulusGpa.value).toBeCloseTo((12 * 200) / 3 / 64, 9);
      expect(found.contributions).toEqual([]);
    },
  );
});

describe('boards of a shelf', () => {
  const board = (id: string, densityKgM3: number, eLongGpa: number, eCrossGpa = 0.8, gGpa = 0.8): ShelfBoard => ({
    ...{ id, densityKgM3: within(densityKgM3, 0.01), eLongGpa: within(eLongGpa, 0.02) },
    ...{ eCrossGpa: within(eCrossGpa, 0.02), gGpa: within(gGpa, 0.02) },
  });

  test('two halves are as far apart as the root mean square of half of their differences', () => {
    const { ids, apartPercent, differencePercent } = comparePair(
      board('a', 400, 10, 0.8, 0.8),
      board('b', 408, 10.4, 0.8, 0.8),
    );
    expect(ids).toEqual(['a', 'b']);
    const [density, along] = [800 / 404, 40 / 10.2];
    expect(differencePercent.densityKgM3.value).toBeCloseTo(density, 9);
    expect(differencePercent.densityKgM3.sigma).toBeCloseTo((100 * Math.hypot(4, 4.08)) / 404, 9);
    expect(apartPercent).toBeCloseTo(Math.sqrt(((density / 2) ** 2 + (along / 2) ** 2) / 4), 9);
    expect(comparePair(board('b', 408, 10.4), board('a', 400, 10)).differencePercent.eLongGpa.value).toBeCloseTo(
      -along,
      9,
    );
  });

  test('the closest pair is taken first, each half once, the odd one is left', () => {
    const pairs = pairHalves([
      board('a', 400, 10),
      board('b', 400, 10.5),
      board('c', 400, 10.6),
      board('d', 400, 12),
      board('e', 400, 20),
    ]);
    expect(pairs.map(({ ids }) => ids)).toEqual([
      ['b', 'c'],
      ['a', 'd'],
    ]);
    expect(pairHalves([])).toEqual([]);
    expect(pairHalves([board('a', 400, 10)])).toEqual([]);
  });

  test.each([
    ['densityKgM3', ['b', 'c', 'a']],
    ['eLongGpa', ['c', 'b', 'a']],
    ['eCrossGpa', ['a', 'c', 'b']],
    ['gGpa', ['b', 'a', 'c']],
    // sqrt(E / rho^3): 10 / 400^3, 12 / 450^3, 14 / 420^3.
    ['radiationRatio', ['c', 'a', 'b']],
  ] as const)('by %s the largest comes first', (by, ids) => {
    const boards = [board('a', 400, 10, 1, 0.8), board('b', 450, 12, 0.7, 0.9), board('c', 420, 14, 0.8, 0.7)];
    expect(rankBoards(boards, by).map(({ id }) => id)).toEqual(ids);
    expect(boards.map(({ id }) => id)).toEqual(['a', 'b', 'c']);
  });

  test('a swap keeps E h^3, and its mass goes with height and density', () => {
    const [swap] = stickSwaps({ id: 's', eGpa: within(16, 0.03), densityKgM3: within(400, 0.01) }, within(10, 0.01), [
      { id: 'o', eGpa: within(2, 0.03), densityKgM3: within(300, 0.01) },
    ]);
    expect(swap!.heightMm.value).toBeCloseTo(20, 9);
    // 1 % of height, and a third of 3 % from each modulus.
    expect(swap!.heightMm.sigma / 20).toBeCloseTo(Math.hypot(0.01, 0.01, 0.01), 4);
    expect(swap!.massRatio.value).toBeCloseTo(1.5, 9);
    expect(swap!.massRatio.sigma / 1.5).toBeCloseTo(Math.hypot(0.01, 0.01, 0.01, 0.01), 4);
  });

  test('mean and spread are those of any table of statistics', () => {
    expect(shelfSpread([2, 4, 4, 4, 5, 5, 7, 9])).toEqual({
      count: 8,
      mean: 5,
      spread: expect.closeTo(Math.sqrt(32 / 7), 12),
    });
  });
});

describe('how thick', () => {
  const wood: MeasuredWood = {
    eLongGpa: exact(12),
    eCrossGpa: exact(0.75),
    gGpa: exact(0.7),
    densityKgM3: exact(400),
    nuLR: 0.37,
  };
  const patch = { lengthMm: 500, widthMm: 400 };
  const h = exact(3);
  const of = (criterion: (typeof CRITERIA)[number], given = wood, at: Estimate = h) =>
    criterionOf(criterion, given, at, patch).value;

  test('each way of being equal has its quantity, in the unit told', () => {
    // E h^3 / 12: 12e9 x 27e-9 / 12 = 27 N m, and a sixteenth of it across.
    expect(of('long-stiffness')).toBeCloseTo(27, 9);
    expect(of('cross-stiffness')).toBeCloseTo(27 / 16, 9);
    expect(of('free-long-frequency')).toBeCloseTo(0.003 * Math.sqrt(12e9 / 400), 9);
    expect(of('free-cross-frequency')).toBeCloseTo(0.003 * Math.sqrt(0.75e9 / 400), 9);
    expect(of('mass')).toBeCloseTo(1.2, 12);
    // omega^2 = stiffness / mass per area.
    expect((2 * Math.PI * of('patch-frequency')) ** 2).toBeCloseTo(of('patch-stiffness') / 1.2, 3);
  });

  test('a clamped square of even wood sounds within 0.5 % of 35.99 (Leissa, NASA SP-160)', () => {
    const even: MeasuredWood = { ...wood, eLongGpa: exact(10), eCrossGpa: exact(10), gGpa: exact(10 / 2.6), nuLR: 0.3 };
    const square = { lengthMm: 400, widthMm: 400 };
    const bending = (10e9 * 0.003 ** 3) / (12 * (1 - 0.09));
    const published = (35.99 / (2 * Math.PI * 0.16)) * Math.sqrt(bending / 1.2);
    expect(Math.abs(criterionOf('patch-frequency', even, h, square).value / published - 1)).toBeLessThan(0.005);
  });

  test('turned by a quarter, with its grain, a patch is the same', () => {
    const turned: MeasuredWood = {
      ...wood,
      eLongGpa: wood.eCrossGpa,
      eCrossGpa: wood.eLongGpa,
      nuLR: (0.37 * 0.75) / 12,
    };
    const found = criterionOf('patch-frequency', turned, h, { lengthMm: 400, widthMm: 500 }).value;
    expect(found).toBeCloseTo(of('patch-frequency'), 9);
  });

  test.each(CRITERIA)('%s: the thickness for a quantity is the one that gives it', (criterion) => {
    const target = criterionOf(criterion, wood, h, patch);
    expect(thicknessFor(criterion, wood, target, patch).value).toBeCloseTo(3, 9);
    const isStiffness = criterion.endsWith('stiffness');
    expect(of(criterion, wood, exact(6)) / of(criterion)).toBeCloseTo(isStiffness ? 8 : 2, 9);
  });

  test('grams are thickness by density by area, and the doubt of the density counts once', () => {
    const doubtful = { ...wood, densityKgM3: within(400, 0.02) };
    const choices = thicknessChoices(doubtful, { wood, thicknessMm: h }, patch, 1600);
    const by = (name: string) => choices.find(({ criterion }) => criterion === name)!;
    // 0.16 m^2 by 3 mm by 400 kg/m^3.
    expect(by('long-stiffness').massG.value).toBeCloseTo(192, 9);
    expect(by('long-stiffness').massG.sigma).toBeCloseTo(0.02 * 192, 4);
    // By mass the thickness gives way: the grams are known.
    expect(by('mass').massG.sigma).toBeCloseTo(0, 6);
    expect(by('mass').thicknessMm.sigma).toBeCloseTo(0.06, 3);
  });

  test('the line to stop at may have no sanding to come', () => {
    expect(stopLine({ value: 2.5, sigma: 0.1 }, 0)).toEqual({ stopMm: 2.5, checkMm: expect.closeTo(2.696, 3) });
    expect(() => stopLine({ value: 2.5, sigma: 0.1 }, Number.NaN)).toThrow('stopLine: sandingMm NaN');
  });
});

describe('where a doubt comes from', () => {
  test('gradients of a product add by their powers, input by input', () => {
    expect(
      combined([
        [{ length: [0.1, 0.2], mass: [0.3] }, 2],
        [{ length: [0.05, -0.1] }, -1],
      ]),
    ).toEqual({
      length: [expect.closeTo(0.15, 12), expect.closeTo(0.5, 12)],
      mass: [0.6],
    });
  });

  test('a value has its shares, largest first, none of nothing, and their root sum of squares', () => {
    const found = traced(-200, { length: [0.03, 0.04], mass: [0.12], width: [0], thickness: [-0.01] });
    expect(found.contributions).toEqual([
      { input: 'mass', sigma: expect.closeTo(24, 9) },
      { input: 'length', sigma: expect.closeTo(10, 9) },
      { input: 'thickness', sigma: expect.closeTo(2, 9) },
    ]);
    expect(found.value).toBe(-200);
    expect(found.sigma).toBeCloseTo(Math.hypot(24, 10, 2), 9);
  });
});

describe('the woods', () => {
  test('each has an id and a name of its own, and is found by it', () => {
    expect(new Set(SPECIES.map(({ id }) => id)).size).toBe(SPECIES.length);
    expect(new Set(SPECIES.map(({ name }) => name)).size).toBe(SPECIES.length);
    for (const species of SPECIES) {
      expect(species.id).toMatch(/^[a-z]+(-[a-z]+)*$/);
      expect(species.name).toMatch(/[A-Za-z]{3}/);
      expect(speciesById(species.id)).toBe(species);
    }
    expect(speciesById('driftwood')).toBeUndefined();
  });

  test('figures of a wood are as a wood can have them', () => {
    for (const {
      family,
      gravity12,
      moe12Gpa,
      moeGreenGpa,
      ratios,
      poisson,
      shrinkage,
      intersectionPercent,
    } of SPECIES) {
      if (gravity12) expect(gravity12.value).toBeGreaterThan(family === 'softwood' ? 0.3 : 0.45);
      if (moe12Gpa && moeGreenGpa) expect(moeGreenGpa.value).toBeLessThan(moe12Gpa.value);
      // Along stiffest, then across, then the twist of the rings; and what shrinks radially shrinks more tangentially.
      if (ratios)
        for (const { value } of [ratios.eT, ratios.eR, ratios.gLR, ratios.gLT]) expect(value).toBeLessThan(0.2);
      if (ratios?.gRT) expect(ratios.gRT.value).toBeLessThan(ratios.gLT.value / 2);
      if (poisson) for (const { value } of Object.values(poisson)) expect(value).toBeLessThan(0.8);
      if (shrinkage) expect(shrinkage.tangentialPercent.value).toBeGreaterThan(shrinkage.radialPercent.value);
      expect(intersectionPercent.value).toBeGreaterThanOrEqual(21);
      expect(intersectionPercent.value).toBeLessThanOrEqual(28);
    }
  });
});
