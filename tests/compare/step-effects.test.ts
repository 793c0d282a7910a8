import { describe, expect, test } from 'vitest';
import { stepEffects } from '../../src/compare/step-effects.ts';
import { tracks } from '../../src/compare/tracks.ts';
import { once } from '../once.ts';
import { inMould, story } from './story.ts';

const record = story([
  { modesHz: [194, 270], humidityPercent: 45 },
  { modesHz: [189], massOffG: 1, humidityPercent: 46 },
  // measured free: another thing, no row of its own, but what it took off counts
  { modesHz: [120], massOffG: 0.5, support: { ...inMould, hold: 'at-node' } },
  { modesHz: [188.9, 265], humidityPercent: 53 },
]);
const effects = once(() => stepEffects(record, tracks(record, 'braced', inMould)));

describe('what each step did', () => {
  test('only the measured steps of the series, numbered as in the record', () => {
    expect(effects().map(({ number }) => number)).toEqual([1, 2, 4]);
  });

  test('removal is summed since the measured step before', () => {
    expect(effects().map(({ massOffG }) => massOffG)).toEqual([undefined, 1, 0.5]);
    expect(effects().map(({ heightOffMm }) => heightOffMm)).toEqual([undefined, 1, 0.5]);
    // One per cent is not worth a word.
    expect(effects().map(({ air }) => air.humidityChangePercent)).toEqual([undefined, undefined, 7]);
  });

  test('a mode moves since it was last heard, and not hearing it is no move', () => {
    const [, second, fourth] = effects();
    expect(second?.modes[0]?.move?.hz.value).toBeCloseTo(-5, 9);
    expect(second?.modes[0]?.move?.trusted).toBe(true);
    expect(second?.modes[1]).toBeUndefined();
    expect(fourth?.modes[0]?.move?.trusted).toBe(false);
    // from the first step, the last at which it was heard
    expect(fourth?.modes[1]?.move?.hz.value).toBeCloseTo(-5, 9);
  });

  test('what came off before the first measured step is no step’s effect', () => {
    const told = story([
      { modesHz: [194], massOffG: 3 },
      { modesHz: [189], massOffG: 1 },
      { modesHz: [186], massOffG: 2 },
    ]);
    const unmeasured = { ...told.steps[0]!, id: 'before', rounds: [] };
    const later = { ...told.steps[1]!, id: 'between', rounds: [] };
    const cutIds = (steps: typeof told.steps) =>
      steps.map((step, i) => ({ ...step, cuts: step.cuts.map((cut) => ({ ...cut, id: `cut ${i}` })) }));
    const steps = cutIds([unmeasured, told.steps[0]!, told.steps[1]!, later, told.steps[2]!]);
    const known = { ...told, steps };
    const found = stepEffects(known, tracks(known, 'braced', inMould));
    expect(found.map(({ number, massOffG, heightOffMm }) => [number, massOffG, heightOffMm])).toEqual([
      [2, undefined, undefined],
      [3, 1, 1],
      [5, 1 + 2, 1 + 2],
    ]);
    expect(found.map(({ step }) => step.id)).toEqual(['s0', 's1', 's2']);
    expect(found[0]!.air).toEqual({ humidityChangePercent: undefined, tempChangeC: undefined });
  });

  test('a mode first heard at a later step stands there without a move', () => {
    const [first, , fourth] = effects();
    expect(first!.modes.map((mode) => mode?.move)).toEqual([undefined, undefined]);
    expect(first!.modes.map((mode) => mode?.point.mode.frequencyHz.value)).toEqual([194, 270]);
    expect(fourth!.modes.map((mode) => mode?.point.mode.frequencyHz.value)).toEqual([188.9, 265]);
    expect(fourth!.modes[0]!.move!.hz.value).toBeCloseTo(-0.1, 9);
  });

  test('before the first measured step there was no air to compare with', () => {
    const told = story([
      { modesHz: [194], humidityPercent: 40 },
      { modesHz: [189], humidityPercent: 52 },
    ]);
    const found = stepEffects(told, tracks(told, 'braced', inMould));
    expect(found.map(({ air }) => air.humidityChangePercent)).toEqual([undefined, 12]);
  });
});
