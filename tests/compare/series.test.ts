import { expect, test } from 'vitest';
import { seriesKey } from '../../src/compare/series.ts';
import { inMould } from './story.ts';

test('whatever parts two measurements parts their series, and a lump of nothing is none', () => {
  const stage = 'braced';
  const others = [
    { hold: 'at-node' },
    { bridge: 'glued' },
    { strung: true },
    { addedMassG: 5 },
    { addedMassOnBackG: 5 },
    { addedMassG: 5, addedMassOnBackG: 5 },
  ] as const;
  const keys = [
    seriesKey({ stage, support: inMould }),
    seriesKey({ stage: 'closed', support: inMould }),
    ...others.map((other) => seriesKey({ stage, support: { ...inMould, ...other } })),
  ];
  expect(new Set(keys).size).toBe(keys.length);
  expect(seriesKey({ stage, support: { ...inMould, addedMassG: 0 } })).toBe(keys[0]);
});
