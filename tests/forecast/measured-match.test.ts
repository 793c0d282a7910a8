import { describe, expect, test } from 'vitest';
import { pairMeasured } from '../../src/forecast/measured-match.ts';

const computed = [
  { name: 'monopole', frequencyHz: 190 },
  { name: 'long dipole', frequencyHz: 400 },
  { name: 'cross dipole', frequencyHz: 430 },
];

describe('measured modes and computed ones', () => {
  test('a name decides even where another frequency lies nearer', () => {
    const pairs = pairMeasured(computed, [
      { name: 'cross dipole', frequencyHz: 401 },
      { name: undefined, frequencyHz: 192 },
    ]);
    expect(pairs).toEqual([
      { computed: 0, measured: 1, by: 'frequency' },
      { computed: 2, measured: 0, by: 'name' },
    ]);
  });

  test('a name that nothing computed has is left alone and not called something else', () => {
    expect(pairMeasured(computed, [{ name: 'air', frequencyHz: 190 }])).toEqual([]);
  });

  test('a name given twice decides nothing', () => {
    const pairs = pairMeasured(computed, [
      { name: 'monopole', frequencyHz: 190 },
      { name: 'monopole', frequencyHz: 400 },
    ]);
    expect(pairs.filter(({ by }) => by === 'name')).toEqual([]);
  });
});
