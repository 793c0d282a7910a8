import { describe, expect, test } from 'vitest';
import { stepEffects } from '../../src/compare/step-effects.ts';
import { tracks } from '../../src/compare/tracks.ts';
import { inMould, story } from './story.ts';

const record = story([
  { modesHz: [194, 270], humidityPercent: 45 },
  { modesHz: [189], massOffG: 1, humidityPercent: 46 },
  // measured free: another thing, no row of its own, but what it took off counts
  { modesHz: [120], massOffG: 0.5, support: { ...inMould, hold: 'at-node' } },
  { modesHz: [188.9, 265], humidityPercent: 53 },
]);
const effects = stepEffects(record, tracks(record, 'braced', inMould));

describe('what each step did', () => {
  test('only the measured steps of the series, numbered as in the record', () => {
    expect(effects.map(({ number }) => number)).toEqual([1, 2, 4]);
  });

  test('removal is summed since the measured step before', () => {
    expect(effects.map(({ massOffG }) => massOffG)).toEqual([undefined, 1, 0.5]);
    expect(effects.map(({ heightOffMm }) => heightOffMm)).toEqual([undefined, 1, 0.5]);
    // One per cent is not worth a word.
    expect(effects.map(({ air }) => air.humidityChangePercent)).toEqual([undefined, undefined, 7]);
  });

  test('a mode moves since it was last heard, and not hearing it is no move', () => {
    const [, second, fourth] = effects;
    expect(second?.modes[0]?.move?.hz.value).toBeCloseTo(-5, 9);
    expect(second?.modes[0]?.move?.trusted).toBe(true);
    expect(second?.modes[1]).toBeUndefined();
    expect(fourth?.modes[0]?.move?.trusted).toBe(false);
    // from the first step, the last at which it was heard
    expect(fourth?.modes[1]?.move?.hz.value).toBeCloseTo(-5, 9);
  });
});
