import { describe, expect, test } from 'vitest';
import { OWN_SET, stringCautions, stringLoad, usualStrings } from '../../src/compare/string-load.ts';
import { estimate } from '../../src/quantity/estimate.ts';
import type { BoxStrings } from '../../src/record/box-edit.ts';

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
});
