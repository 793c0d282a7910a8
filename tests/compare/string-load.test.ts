import { describe, expect, test } from 'vitest';
import {
  OWN_SET,
  stringCautions,
  stringLoad,
  tuningNamed,
  turnRead,
  usualStrings,
} from '../../src/compare/string-load.ts';
import { estimate } from '../../src/quantity/estimate.ts';
import type { BoxStrings } from '../../src/record/box-edit.ts';
import { STRING_SETS } from '../../src/strings/tension.ts';

const strings: BoxStrings = {
  setName: OWN_SET,
  scaleMm: 650,
  tuning: 'standard',
  saddleHeightMm: 12,
  breakAngleDeg: 30,
  neckAngleDeg: 0,
};
const weighed = (unitMassGPerM: number) => ({ kind: 'weighed' as const, unitMassGPerM });

describe('the load of the strings in a record', () => {
  test('a set weighed on the scale pulls as Mersenne’s law says, and turns the bridge by pull times height', () => {
    // T = mu (2 L f)^2; open strings at A4 = 440 Hz: E4 329.628, B3 246.942, G3 195.998, D3 146.832, A2 110, E2 82.407 Hz
    const grams = [0.4, 0.7, 1.4, 2.6, 4.5, 7];
    const hz = [329.628, 246.942, 195.998, 146.832, 110, 82.407];
    const exact = grams.reduce((sum, g, i) => sum + (g / 1000) * (1.3 * hz[i]!) ** 2, 0);
    const load = stringLoad({ ...strings, ownSet: grams.map(weighed) }, OWN_SET, 440);
    expect(load.kind).toBe('load');
    if (load.kind !== 'load') return;
    // pitches above are given to a thousandth of a hertz
    expect(load.tension.totalN.value / exact).toBeCloseTo(1, 4);
    expect(load.bridge.torqueNm.value / (exact * 0.012)).toBeCloseTo(1, 4);
    expect(load.bridge.saddleDownN.value / (exact / 2)).toBeCloseTo(1, 4);
  });

  test('what is wanting or cannot be is named instead of a pull', () => {
    const set = (own: BoxStrings['ownSet']) =>
      stringLoad({ ...strings, ...(own ? { ownSet: own } : {}) }, OWN_SET, 440);
    expect(set(undefined)).toEqual({ kind: 'not-ready', because: 'own-gauges' });
    expect(set([weighed(1)])).toEqual({ kind: 'not-ready', because: 'string-count' });
    for (const bare of ['weighed', 'plain', 'wound'] as const)
      expect(set([{ kind: bare }, weighed(1)])).toEqual({ kind: 'not-ready', because: 'own-gauges' });
    const six = Array.from({ length: 6 }, () => ({ kind: 'wound' as const, diameterMm: 0.6, coreMm: 0.7 }));
    expect(set(six)).toEqual({ kind: 'not-ready', because: 'core-not-thinner' });
    expect(stringLoad({ ...strings, tuning: 'twelve strings' }, 'light 12-53', 440)).toEqual({
      kind: 'not-ready',
      because: 'string-count',
    });
  });

  test('a turn beyond the guideline and an old instrument are cautioned, slackening always', () => {
    const read = {
      ...strings,
      ageYears: 80,
      turns: [
        { after: '10 min' as const, turnDeg: 1 },
        { after: '1 day' as const, turnDeg: 2.6 },
      ],
    };
    expect(stringCautions(read, estimate(760, 10), undefined)).toEqual([
      'heavy-for-age',
      'turn-above-limit',
      'slacken-first',
    ]);
    expect(stringCautions(strings, estimate(760, 10), estimate(700, 10))).toEqual([
      'heavier-than-before',
      'slacken-first',
    ]);
  });

  test('where no strings are entered, a usual set of the plan’s scale is taken: the pull goes with its square', () => {
    const pull = (plan: { scaleMm: number } | undefined) => {
      const usual = usualStrings({ plan } as never);
      const load = stringLoad(usual, usual.setName, 440);
      return load.kind === 'load' ? load.tension.totalN.value : Number.NaN;
    };
    expect(pull({ scaleMm: 600 }) / pull(undefined)).toBeCloseTo((600 / 645) ** 2, 6);
  });

  test('a plain string weighs its gauge in steel, a wound one its core and three quarters of what is round it', () => {
    // T = mu (2 L f)^2 at A4 = 440 Hz; steel 7850, phosphor bronze 8860, nylon 1060, silvered copper 8960 kg/m^3.
    const area = (mm: number) => (Math.PI / 4) * (mm / 1000) ** 2;
    const wound = (mm: number, core: number, kgM3: number, wrapKgM3: number) =>
      kgM3 * area(core) + wrapKgM3 * (Math.PI / 4) * (area(mm) - area(core));
    const own: NonNullable<BoxStrings['ownSet']> = [
      { kind: 'plain', diameterMm: 0.3 },
      { kind: 'plain', diameterMm: 0.7, material: 'nylon' },
      { kind: 'wound', diameterMm: 0.6, coreMm: 0.3 },
      { kind: 'wound', diameterMm: 0.7, coreMm: 0.4, material: 'nylon' },
      weighed(4.5),
      weighed(7),
    ];
    const load = stringLoad({ ...strings, ownSet: own }, OWN_SET, 440);
    if (load.kind !== 'load') throw new Error(load.because);
    const kgPerM = [
      7850 * area(0.3),
      1060 * area(0.7),
      wound(0.6, 0.3, 7850, 8860),
      wound(0.7, 0.4, 1060, 8960),
      0.0045,
      0.007,
    ];
    const hz = [329.628, 246.942, 195.998, 146.832, 110, 82.407];
    load.tension.eachN.forEach(({ value }, i) => {
      expect(value / (kgPerM[i]! * (1.3 * hz[i]!) ** 2)).toBeCloseTo(1, 4);
    });
    // A weighed string is known to a hundredth.
    expect(load.tension.eachN[5]!.sigma / load.tension.eachN[5]!.value).toBeCloseTo(0.01, 9);
    expect(load.set.name).toBe(OWN_SET);
  });

  test('each gauge that is wanting, and a core as thick as its string, is told', () => {
    const because = (one: NonNullable<BoxStrings['ownSet']>[number]) => {
      const load = stringLoad(
        { ...strings, ownSet: [...Array.from({ length: 5 }, () => weighed(1)), one] },
        OWN_SET,
        440,
      );
      return load.kind === 'load' ? load.kind : load.because;
    };
    expect(because({ kind: 'weighed', diameterMm: 1 })).toBe('own-gauges');
    expect(because({ kind: 'plain', unitMassGPerM: 1 })).toBe('own-gauges');
    expect(because({ kind: 'wound', diameterMm: 1 })).toBe('own-gauges');
    expect(because({ kind: 'wound', coreMm: 1 })).toBe('own-gauges');
    expect(because({ kind: 'wound', diameterMm: 1, coreMm: 1 })).toBe('core-not-thinner');
    expect(because({ kind: 'wound', diameterMm: 1, coreMm: 0.99 })).toBe('load');
    expect(stringLoad({ ...strings, ownSet: [] }, OWN_SET, 440)).toEqual({ kind: 'not-ready', because: 'own-gauges' });
  });

  test('a set and a tuning are taken by their names, and a name that is not listed as the first of the list', () => {
    const load = (setName: string, tuning: string) => {
      const found = stringLoad({ ...strings, tuning }, setName, 440);
      if (found.kind !== 'load') throw new Error(found.because);
      return found;
    };
    expect(load('light 12-53', 'standard').set.name).toBe('light 12-53');
    expect(load('no such set', 'standard').set).toEqual(STRING_SETS[0]);
    expect(tuningNamed('open C').name).toBe('open C');
    expect(tuningNamed('no such tuning').name).toBe('standard');
    expect(tuningNamed(undefined).name).toBe('standard');
    // Down to D the sixth pulls by the square of the two pitches less (73.416 and 82.407 Hz).
    const [low, usual] = [load('light 12-53', 'drop D'), load('light 12-53', 'standard')];
    const ratio = (i: number) => low.tension.eachN[i]!.value / usual.tension.eachN[i]!.value;
    expect(ratio(5)).toBeCloseTo((73.416 / 82.407) ** 2, 4);
    expect(ratio(4)).toBe(1);
    // The pitch of all goes with A4.
    const higher = stringLoad(strings, 'light 12-53', 442);
    expect(higher.kind === 'load' && higher.tension.totalN.value / usual.tension.totalN.value).toBeCloseTo(
      (442 / 440) ** 2,
      9,
    );
  });

  test('the neck’s angle is taken from the break at the saddle, in degrees', () => {
    const load = stringLoad({ ...strings, neckAngleDeg: 2 }, 'light 12-53', 440);
    if (load.kind !== 'load') throw new Error(load.because);
    const pull = load.tension.totalN.value;
    const sine = (deg: number) => Math.sin((deg / 180) * Math.PI);
    expect(load.bridge.saddleDownN.value).toBeCloseTo(pull * (0.5 - sine(2)), 9);
    expect(load.bridge.pinLiftN.value).toBeCloseTo(pull / 2, 9);
    expect(load.bridge.netDownN.value).toBeCloseTo(-pull * sine(2), 9);
    expect(load.bridge.torqueNm.value).toBeCloseTo(pull * 0.012 * Math.sqrt(1 - sine(2) ** 2), 9);
  });

  test('strings that nobody entered are a light set in standard tuning at usual angles', () => {
    expect(usualStrings({})).toEqual({
      setName: 'light 12-53',
      scaleMm: 645,
      tuning: 'standard',
      saddleHeightMm: 12.5,
      breakAngleDeg: 25,
      neckAngleDeg: 0.5,
    });
  });

  test('a turn is read to a tenth of a degree; of several the last counts, and one within its ± of the limit is near it', () => {
    expect(turnRead(1.5)).toEqual({ value: 1.5, sigma: 0.1 });
    const cautions = (...turns: readonly number[]) =>
      stringCautions(
        { ...strings, turns: turns.map((turnDeg) => ({ after: '1 day' as const, turnDeg })) },
        estimate(700, 10),
        undefined,
      );
    expect(cautions(2.6, 1)).toEqual(['slacken-first']);
    expect(cautions(1, 1.85)).toEqual(['turn-near-limit', 'slacken-first']);
    expect(cautions()).toEqual(['slacken-first']);
  });
});
