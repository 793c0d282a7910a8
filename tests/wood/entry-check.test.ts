// Which entry of an impossible board is named, and what is doubted of a possible one. The board is one of ordinary spruce, whose three
// notes follow from the bare formulas, so that each slip can be made on purpose and has to be found again.
import { describe, expect, test } from 'vitest';
import { warnOf } from '../../src/wood/board-warnings.ts';
import { elasticStart } from '../../src/wood/elastic-start.ts';
import { type Entry, entrySuspects, likelyExchange } from '../../src/wood/entry-check.ts';
import { boardOf, type MeasuredBoard } from '../../src/wood/measured-board.ts';
import { modulusAtRadiationRatioPa, radiationRatio, soundSpeedMS } from '../../src/wood/radiation.ts';
import { speciesById } from '../../src/wood/species.ts';
import { stickGuides } from '../../src/wood/stick-guide.ts';
import { once } from '../once.ts';

const exact = (value: number) => ({ value, sigma: 0 });
const start = once(() => elasticStart(speciesById('sitka-spruce')));
const sizes = { length: 550, width: 210, thickness: 4, mass: 0.55 * 0.21 * 0.004 * 448 * 1000 };
// f = (root^2 / 2 pi) (h / L^2) sqrt(E / 12 rho) of a free bar, and f = (sqrt 12 / pi) (h / a b) sqrt(G / rho) of a twist.
const bar = (metres: number, gpa: number) =>
  ((4.73004 ** 2 / (2 * Math.PI)) * 0.004 * Math.sqrt((gpa * 1e9) / (12 * 448))) / metres ** 2;
const taps = {
  'long-grain-bending': bar(0.55, 11.88),
  'cross-grain-bending': bar(0.21, 0.927),
  twist: ((Math.sqrt(12) / Math.PI) * 0.004 * Math.sqrt(0.76e9 / 448)) / (0.55 * 0.21),
};
const entries = { ...sizes, ...taps };
type Entries = typeof entries;
const boardFrom = (given: Entries): MeasuredBoard => ({
  lengthMm: exact(given.length),
  widthMm: exact(given.width),
  thicknessMm: exact(given.thickness),
  massG: exact(given.mass),
});
const tapsFrom = (given: Entries) => ({
  'long-grain-bending': given['long-grain-bending'],
  'cross-grain-bending': given['cross-grain-bending'],
  twist: given.twist,
});
const suspects = (change: Partial<Entries>) => {
  const given = { ...entries, ...change };
  return entrySuspects(boardFrom(given), tapsFrom(given), start());
};

describe('entries that describe no wood', () => {
  test('of an ordinary board there are none', () => {
    expect(suspects({})).toEqual([]);
  });

  test.each([
    ['length', 'other-units', 1 / 25.4],
    ['width', 'other-units', 1 / 25.4],
    ['thickness', 'other-units', 1 / 25.4],
    ['thickness', 'other-units', 25.4],
    ['mass', 'other-units', 1 / 28.349523125],
    ['mass', 'other-units', 28.349523125],
    ['length', 'tenfold', 0.1],
    ['length', 'tenfold', 10],
    ['width', 'tenfold', 10],
    ['thickness', 'tenfold', 0.1],
    ['thickness', 'tenfold', 10],
    ['mass', 'tenfold', 10],
    ['mass', 'tenfold', 0.1],
    ['long-grain-bending', 'tenfold', 10],
    ['cross-grain-bending', 'tenfold', 0.1],
    ['twist', 'tenfold', 10],
  ] as const)('%s wrong by %s (x %f) is named first, with what it would have been', (entry, slip, factor) => {
    const wrong = suspects({ [entry]: entries[entry] * factor });
    expect(wrong[0]).toMatchObject({ entry, slip });
    expect(wrong[0]!.likelyValue! / entries[entry]).toBeCloseTo(1, 9);
  });

  test.each([
    ['long-grain-bending', 'cross-grain-bending'],
    ['width', 'thickness'],
  ] as const)('%s and %s exchanged are named as that', (one, other) => {
    const wrong = suspects({ [one]: entries[other], [other]: entries[one] });
    const named = wrong.find(({ slip }) => slip === 'exchanged')!;
    expect([named.entry, named.with].toSorted()).toEqual([one, other].toSorted());
    expect('likelyValue' in named).toBe(false);
  });

  test('what was wrong with the wood is said', () => {
    expect(suspects({ mass: entries.mass * 10 })[0]!.describes).toBe('density');
    expect(suspects({ 'long-grain-bending': taps['long-grain-bending'] * 10 })[0]!.describes).toBe('e-long');
    expect(suspects({ 'cross-grain-bending': taps['cross-grain-bending'] * 10 })[0]!.describes).toBe('e-cross');
    expect(suspects({ twist: taps.twist * 10 })[0]!.describes).toBe('shear');
    // Each possible, but not together: across as stiff as 0.7 of along.
    const both = suspects({
      'long-grain-bending': taps['long-grain-bending'] * Math.sqrt(2.5 / 11.88),
      'cross-grain-bending': taps['cross-grain-bending'] * Math.sqrt(1.75 / 0.927),
    });
    expect(both[0]!.describes).toBe('e-cross');
  });

  test.each([
    // Densities from 100 to 1300 kg/m^3 and E along from 2 to 30 GPa are woods (FPL-GTR-282 ch. 5); other taps keep their moduli.
    ['mass', 101 / 448, true],
    ['mass', 99 / 448, false],
    ['mass', 1299 / 448, true],
    ['mass', 1301 / 448, false],
  ] as const)('at %s by %f with the same moduli there may be such a wood: %s', (_, factor, isWood) => {
    const same = Object.fromEntries(
      Object.entries(taps).map(([tap, hz]) => [tap, hz / Math.sqrt(factor)]),
    ) as typeof taps;
    expect(suspects({ mass: entries.mass * factor, ...same }).length === 0).toBe(isWood);
  });

  test.each([
    ['long-grain-bending', 11.88, [2, 30]],
    ['cross-grain-bending', 0.927, [0.1188, 6]],
    ['twist', 0.76, [0.08, 5]],
  ] as const)('%s: a modulus of %f GPa may be anything in %j', (tap, gpa, [low, high]) => {
    const at = (modulus: number) => suspects({ [tap]: taps[tap] * Math.sqrt(modulus / gpa) }).length === 0;
    expect([0.99 * low, 1.01 * low, 0.99 * high, 1.01 * high].map(at)).toEqual([false, true, true, false]);
  });

  test.each(Object.keys(entries) as Entry[])('a %s that is nothing is named at once', (entry) => {
    for (const value of [0, -1, Number.NaN])
      expect(suspects({ [entry]: value })).toEqual([{ entry, slip: 'unexplained', describes: 'density' }]);
  });

  test('what no usual slip explains is laid to the entry that weighs most', () => {
    // Five errors at once.
    const wild = { mass: entries.mass * 4000, length: 7, 'long-grain-bending': 3e5, twist: 1e-3 };
    expect(suspects(wild)).toEqual([{ entry: 'thickness', slip: 'unexplained', describes: 'density' }]);
  });

  test('explanations come most likely first, and every one of them would give a wood', () => {
    const wrong = suspects({ mass: entries.mass * 10 });
    expect(wrong.length).toBeGreaterThan(1);
    for (const { entry, likelyValue } of wrong.filter((one) => one.likelyValue !== undefined))
      expect(suspects({ mass: entries.mass * 10, [entry]: likelyValue! })).toEqual([]);
  });
});

describe('two taps that may have been exchanged', () => {
  const exchange = (change: Partial<Entries>) => {
    const given = { ...entries, ...change };
    return likelyExchange(boardFrom(given), tapsFrom(given), start());
  };

  test('of an ordinary board none are', () => {
    expect(exchange({})).toBeUndefined();
  });

  test.each([
    ['long-grain-bending', 'cross-grain-bending'],
    ['long-grain-bending', 'twist'],
    ['cross-grain-bending', 'twist'],
  ] as const)('%s and %s are, where that makes the board far more ordinary', (one, other) => {
    const apart = Math.abs(Math.log(taps[one] / taps[other]));
    const found = exchange({ [one]: taps[other], [other]: taps[one] });
    // Notes that lie close give nearly the same wood either way.
    expect(found).toEqual(apart > 0.3 ? { first: one, second: other } : undefined);
  });
});

test('the density of a board is its mass over its three sizes', () => {
  const { size, densityKgM3 } = boardOf(boardFrom(entries));
  expect(size).toEqual({ lengthM: 0.55, widthM: 0.21, thicknessM: 0.004 });
  expect(densityKgM3).toBeCloseTo(448, 9);
});

test('speed, radiation ratio and the modulus at one of them belong together', () => {
  // 10 GPa at 400 kg/m^3: 5000 m/s, 12.5 m^4/(kg s).
  expect(soundSpeedMS(10e9, 400)).toBe(5000);
  expect(radiationRatio(10e9, 400)).toBe(12.5);
  expect(modulusAtRadiationRatioPa(12.5, 400)).toBeCloseTo(10e9, 0);
});

describe('how a stick is held and tapped', () => {
  const [bend, twist] = stickGuides(500, 30);

  test('its bend on the lines at 0.224 of its length, struck in the middle (ASTM E1876)', () => {
    expect(bend!.tap).toBe('long-grain-bending');
    expect(bend!.nodeLines.map((line) => line.map(({ xMm, yMm }) => [xMm, yMm]))).toEqual([
      [
        [112, 0],
        [112, 30],
      ],
      [
        [expect.closeTo(388, 9), 0],
        [expect.closeTo(388, 9), 30],
      ],
    ]);
    expect(bend!.hold).toEqual({ xMm: 112, yMm: 0 });
    expect(bend!.strike).toEqual({ xMm: 250, yMm: 15 });
  });

  test('its twist on the cross of its middles, struck at the edge where the bend is still', () => {
    expect(twist!.tap).toBe('twist');
    expect(twist!.nodeLines).toEqual([
      [
        { xMm: 250, yMm: 0 },
        { xMm: 250, yMm: 30 },
      ],
      [
        { xMm: 0, yMm: 15 },
        { xMm: 500, yMm: 15 },
      ],
    ]);
    expect(twist!.hold).toEqual({ xMm: 250, yMm: 0 });
    expect(twist!.strike).toEqual({ xMm: expect.closeTo(388, 9), yMm: 30 });
  });
});

describe('doubts about a reading', () => {
  type Fit = Parameters<typeof warnOf>[0];
  const mode = (m: number, n: number, frequencyHz: number, purity = 1) =>
    ({ pattern: { m, n }, frequencyHz, purity }) as Fit['modes'][number];
  const fitOf = (modes: readonly Fit['modes'][number][], more: Partial<Fit> = {}): Fit =>
    ({
      elastic: { eLongPa: 16e9, eCrossPa: 1e9, gPa: 1e9, nuLR: 0.3 },
      modes,
      isConverged: true,
      misfits: [0, 0, 0],
      ...more,
    }) as Fit;
  const size = { lengthM: 0.4, widthM: 0.25, thicknessM: 0.004 };
  const plain = [mode(2, 0, 100), mode(0, 2, 160), mode(1, 1, 60)];
  const warn = (fit: Fit, all = fit.modes, qs: Parameters<typeof warnOf>[3] = [exact(100), exact(100), exact(100)]) =>
    warnOf(fit, size, all, qs);

  test('of a clean one there are none', () => {
    expect(warn(fitOf(plain))).toEqual([]);
  });

  test('bends that share their motion are named, and either cut parts them by a quarter', () => {
    const mixed = [mode(2, 0, 100, 0.89), mode(0, 2, 110, 0.95), mode(1, 1, 60)];
    const [only] = warn(fitOf(mixed));
    // They meet at the fourth root of 16.
    expect(only).toMatchObject({ because: 'bending-modes-mix', meetingAspect: 2, hold: 'on-the-other-bend' });
    if (only?.because !== 'bending-modes-mix') throw new Error('no warning');
    expect(only.aspect).toBeCloseTo(1.6, 9);
    // Frequencies go with the square of the aspect: 1.25 apart is a factor sqrt 1.25 from where they meet.
    const aspects = only.remedies.map(({ trim, toMm }) => (trim === 'length' ? toMm / 250 : 400 / toMm));
    expect(only.remedies.map(({ trim }) => trim)).toEqual(['length', 'width']);
    expect((2 / aspects[0]!) ** 2).toBeCloseTo(1.25, 9);
    expect((aspects[1]! / 2) ** 2).toBeCloseTo(1.25, 9);
  });

  test.each([
    ['pure enough', [mode(2, 0, 100, 0.9), mode(0, 2, 110, 0.9), mode(1, 1, 60)]],
    ['a twist that is not pure', [mode(2, 0, 100), mode(0, 2, 110), mode(1, 1, 60, 0.5)]],
    ['one bend alone', [mode(2, 0, 100, 0.5), mode(2, 2, 110, 0.5), mode(1, 1, 60)]],
    ['no bend of the first', [mode(2, 1, 100, 0.5), mode(1, 2, 110, 0.5), mode(1, 1, 60)]],
  ])('%s is no mix', (_, modes) => {
    expect(warn(fitOf(modes)).map(({ because }) => because)).toEqual([]);
  });

  test('another mode within a bandwidth, f / Q, is named with its distance', () => {
    // Q 100 at 100 Hz: 1 Hz.
    const near = (hz: number) => warn(fitOf(plain), [...plain, mode(3, 0, hz)]);
    expect(near(101)).toEqual([
      {
        because: 'neighbour-close',
        tapped: { m: 2, n: 0 },
        neighbour: { m: 3, n: 0 },
        apartHz: 1,
        hold: 'on-own-node-line',
      },
    ]);
    expect(near(99)).toMatchObject([{ apartHz: 1 }]);
    expect(near(101.1)).toEqual([]);
    // Without a Q it is taken as 40: 2.5 Hz.
    const unmeasured = (hz: number) =>
      warn(fitOf(plain), [...plain, mode(3, 0, hz)], [undefined, exact(100), exact(100)]);
    expect(unmeasured(102.5)).toHaveLength(1);
    expect(unmeasured(102.6)).toEqual([]);
    // One that shares one of its numbers is another mode.
    expect(warn(fitOf(plain), [...plain, mode(2, 1, 100.5)])).toHaveLength(1);
    expect(warn(fitOf(plain), [...plain, mode(3, 0, 160.5)])).toMatchObject([{ tapped: { m: 0, n: 2 } }]);
  });

  test('notes that no constants sound are told with the worst misfit', () => {
    expect(warn(fitOf(plain, { isConverged: false, misfits: [0.01, -0.04, 0.02] }))).toEqual([
      { because: 'modes-not-reached', misfitPercent: 4 },
    ]);
  });
});
