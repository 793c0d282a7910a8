import { describe, expect, test } from 'vitest';
import { airChange, circumstances, weatherBetween } from '../../src/compare/conditions.ts';
import { signatures } from '../../src/compare/signature.ts';
import type { Climate, InstrumentRecord } from '../../src/record/record.ts';
import { story } from './story.ts';

const inAir = (...airs: readonly Climate[]): InstrumentRecord => {
  const record = story(airs.map(() => ({ modesHz: [180] })));
  return { ...record, steps: record.steps.map((step, i) => ({ ...step, climate: airs[i]! })) };
};
const notes = (before: Climate, after: Climate) => {
  const { steps } = inAir(before, after);
  const [a, b] = steps.map((step) => signatures(step)[0]!);
  return circumstances(steps[0]!, a!, steps[1]!, b!);
};
const weather = (before: Climate, after: Climate) => {
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
