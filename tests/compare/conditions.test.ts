import { describe, expect, test } from 'vitest';
import { airChange, circumstances, obstacles, weatherBetween } from '../../src/compare/conditions.ts';
import { signatures } from '../../src/compare/signature.ts';
import type { ClimateNote, InstrumentRecord, Step, Support } from '../../src/record/record.ts';
import { inMould, story } from './story.ts';

const inAir = (...airs: readonly ClimateNote[]): InstrumentRecord => {
  const record = story(airs.map(() => ({ modesHz: [180] })));
  return { ...record, steps: record.steps.map((step, i) => ({ ...step, climate: airs[i]! })) };
};
const notes = (before: ClimateNote, after: ClimateNote) => {
  const { steps } = inAir(before, after);
  const [a, b] = steps.map((step) => signatures(step)[0]!);
  return circumstances(steps[0]!, a!, steps[1]!, b!);
};
const weather = (before: ClimateNote, after: ClimateNote) => {
  const { steps } = inAir(before, after);
  return weatherBetween(steps[0]!, steps[1]!)!.frequencyRatio;
};

/** Equilibrium moisture, %. Source: FPL-GTR-282 eq. 4-5, its constants in degrees Celsius (from memory), worked here anew. */
function equilibrium(t: number, humidityPercent: number): number {
  const h = humidityPercent / 100;
  const w = 349 + 1.29 * t + 0.0135 * t * t;
  const k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
  const k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
  const k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
  const kh = k * h;
  return (1800 / w) * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh));
}

/**
 * What air does to a plate's mode, relative, worked by hand: half of the modulus (-2 % per 1 % moisture, -0.5 % per degree,
 * FPL-GTR-282 chapter 5) less half of the mass (1 / 1.09 % per 1 %), and growth of the thickness less that of the sides
 * (0.26, 0.15, 0.005 % per 1 %, Table 13-5).
 */
function byHand(from: readonly [number, number], to: readonly [number, number]): number {
  const before = equilibrium(...from);
  const after = equilibrium(...to);
  const mass = 0.01 / (1 + (before + after) / 200);
  const growth = (3 * 0.0026 - 0.00005 - 0.0015) / 2;
  return ((-0.02 - mass) / 2 + growth) * (after - before) - 0.0025 * (to[0] - from[0]);
}

describe('the air between two steps', () => {
  test('ten degrees colder at the same humidity is named beside the move, with its size', () => {
    const [note, ...others] = notes({ humidityPercent: 50, tempC: 20 }, { humidityPercent: 50, tempC: 10 });
    expect(others).toEqual([]);
    expect(note).toMatchObject({ kind: 'air', humidityChangePercent: undefined, tempChangeC: -10 });
    if (note?.kind !== 'air') throw new Error('not named');
    expect(note.frequencyPercent.value).toBeCloseTo(100 * byHand([20, 50], [10, 50]), 2);
    expect(note.frequencyPercent.value).toBeGreaterThan(2);
    // Half of the coefficient's own spread, 0.3 % per degree, is the least doubt.
    expect(note.frequencyPercent.sigma).toBeGreaterThan(1.5);
  });

  test('both are named where both changed, and what they do together is one figure', () => {
    const [note] = notes({ humidityPercent: 40, tempC: 15 }, { humidityPercent: 52, tempC: 24 });
    expect(note).toMatchObject({ kind: 'air', humidityChangePercent: 12, tempChangeC: 9 });
    if (note?.kind === 'air') expect(note.frequencyPercent.value).toBeCloseTo(100 * byHand([15, 40], [24, 52]), 2);
  });

  test('what is named by temperature is worth what is named by humidity: 4 degrees and 5 %RH, about 20 and 50', () => {
    const perHumidity = byHand([20, 50], [20, 55]);
    const perTemperature = byHand([20, 50], [24, 50]);
    expect(perTemperature / perHumidity).toBeGreaterThan(0.8);
    expect(perTemperature / perHumidity).toBeLessThan(1.25);
    expect(airChange({ tempC: 20 }, { tempC: 25 }).tempChangeC).toBe(5);
    expect(airChange({ tempC: 20 }, { tempC: 24 }).tempChangeC).toBeUndefined();
    expect(airChange({ humidityPercent: 50 }, { humidityPercent: 44 }).humidityChangePercent).toBe(-6);
    expect(airChange({ humidityPercent: 50 }, { humidityPercent: 45 }).humidityChangePercent).toBeUndefined();
  });

  test('a temperature that was not noted widens what the weather may have done, by a workshop’s spread', () => {
    const known = weather({ humidityPercent: 50, tempC: 20 }, { humidityPercent: 50, tempC: 20 });
    const one = weather({ humidityPercent: 50, tempC: 20 }, { humidityPercent: 50 });
    const none = weather({ humidityPercent: 50 }, { humidityPercent: 50 });
    // Three degrees, one sigma.
    const three = Math.abs(byHand([20, 50], [23, 50]));
    expect(one.sigma).toBeCloseTo(Math.hypot(known.sigma, three), 4);
    expect(none.sigma).toBeCloseTo(Math.hypot(known.sigma, Math.SQRT2 * three), 4);
  });

  test('where humidity was not noted the colder room is told all the same', () => {
    expect(notes({ tempC: 22 }, { humidityPercent: 50, tempC: 12 })).toEqual([
      { kind: 'humidity-unknown', tempChangeC: -10 },
    ]);
    expect(notes({}, {})).toEqual([{ kind: 'humidity-unknown', tempChangeC: undefined }]);
  });

  test('little of both is not worth a word', () => {
    expect(notes({ humidityPercent: 48, tempC: 19 }, { humidityPercent: 51, tempC: 21 })).toEqual([]);
  });
});

describe('what forbids a comparison', () => {
  const between = (before: Support, after: Support, stage: Step['stage'] = 'braced') => {
    const { steps } = story([
      { modesHz: [180], support: before },
      { modesHz: [180], support: after, stage },
    ]);
    const [a, b] = steps.map((step) => signatures(step)[0]!);
    return obstacles(steps[0]!, a!, steps[1]!, b!);
  };

  test('is named alone, with what it was before and after', () => {
    expect(between(inMould, inMould)).toEqual([]);
    expect(between(inMould, inMould, 'on-rims')).toEqual([{ kind: 'stage', before: 'braced', after: 'on-rims' }]);
    expect(between(inMould, { ...inMould, hold: 'at-node' })).toEqual([
      { kind: 'hold', before: 'in-mould', after: 'at-node' },
    ]);
    expect(between(inMould, { ...inMould, bridge: 'glued' })).toEqual([
      { kind: 'bridge', before: 'taped', after: 'glued' },
    ]);
    expect(between(inMould, { ...inMould, strung: true })).toEqual([{ kind: 'strings', before: false, after: true }]);
  });

  test('a lump, on whichever side, is told with all that was stuck on; one moved to the other side is another thing', () => {
    const [top, back] = [
      { ...inMould, addedMassG: 5 },
      { ...inMould, addedMassOnBackG: 7 },
    ];
    const lump = (beforeG: number, afterG: number) => [{ kind: 'added-mass', beforeG, afterG }];
    expect(between(top, top)).toEqual([]);
    expect(between(back, back)).toEqual([]);
    expect(between(inMould, top)).toEqual(lump(0, 5));
    expect(between(back, inMould)).toEqual(lump(7, 0));
    expect(between(top, { ...top, ...back, addedMassG: 5 })).toEqual(lump(5, 12));
    expect(between({ ...inMould, addedMassG: 7 }, back)).toEqual(lump(7, 7));
  });

  test('another spot does not, where none is shared, but is said', () => {
    const { steps } = inAir({ humidityPercent: 50, tempC: 20 }, { humidityPercent: 50, tempC: 20 });
    const [a, b] = steps.map((step) => signatures(step)[0]!);
    const said = (before: readonly string[], after: readonly string[]) =>
      circumstances(steps[0]!, { ...a!, spots: before }, steps[1]!, { ...b!, spots: after });
    expect(said(['waist', 'bridge'], ['bridge', 'tail'])).toEqual([]);
    expect(said(['waist'], ['bridge'])).toEqual([{ kind: 'spot' }]);
  });
});

test('the weather is what humidity and temperature do from the step before to the one after, and none without humidity', () => {
  const steps = (before: ClimateNote, after: ClimateNote) => inAir(before, after).steps;
  const told = weather({ humidityPercent: 40, tempC: 16 }, { humidityPercent: 55, tempC: 24 });
  // Constants by handbook, second order left out: 1e-4 of 1.
  expect(Math.abs(told.value - 1 - byHand([16, 40], [24, 55]))).toBeLessThan(3e-4);
  const half = steps({ humidityPercent: 40 }, { tempC: 20 });
  expect(weatherBetween(half[0]!, half[1]!)).toBeUndefined();
  expect(weatherBetween(half[1]!, half[0]!)).toBeUndefined();
  // A temperature that was noted at one of them is believed there, the other taken as 20.
  const one = weather({ humidityPercent: 50, tempC: 12 }, { humidityPercent: 50 });
  expect(one.value).toBeCloseTo(
    weather({ humidityPercent: 50, tempC: 12 }, { humidityPercent: 50, tempC: 20 }).value,
    12,
  );
  const other = weather({ humidityPercent: 50 }, { humidityPercent: 50, tempC: 12 });
  expect(other.value).toBeCloseTo(
    weather({ humidityPercent: 50, tempC: 20 }, { humidityPercent: 50, tempC: 12 }).value,
    12,
  );
});

test('a change of air is that from before to after, and none where either was not noted', () => {
  expect(airChange({ humidityPercent: 40, tempC: 15 }, { humidityPercent: 46, tempC: 24 })).toEqual({
    humidityChangePercent: 6,
    tempChangeC: 9,
  });
  for (const [before, after] of [
    [{}, { humidityPercent: 46, tempC: 24 }],
    [{ humidityPercent: 46, tempC: 24 }, {}],
  ] as const)
    expect(airChange(before, after)).toEqual({ humidityChangePercent: undefined, tempChangeC: undefined });
});
