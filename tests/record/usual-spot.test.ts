import { expect, test } from 'vitest';
import { newRecord } from '../../src/record/record.ts';
import { usualSpot } from '../../src/record/round-edit.ts';

const fit = { method: 'test', modes: [], used: [], setAside: [], scatterKnown: true };

test('the usual spot is the one of most steps, however often a step was tapped there; of several the last tapped', () => {
  const steps = (...spots: readonly (readonly string[])[]) => {
    const record = newRecord({ id: 'a', createdAtIso: '2026-11-25T08:00:00.000Z', name: 'New' });
    return {
      ...record,
      steps: spots.map((one, i) => ({
        id: `s${i}`,
        atIso: record.createdAtIso,
        stage: 'braced' as const,
        done: '',
        cuts: [],
        climate: {},
        heard: '',
        rounds: one.map((spot, k) => ({
          id: `r${i}${k}`,
          atIso: record.createdAtIso,
          support: { hold: 'at-node' as const, bridge: 'off' as const, strung: false },
          spot,
          source: '',
          state: 'closed' as const,
          taps: [],
          ...(spot === 'unread' ? {} : { fit }),
        })),
      })),
    };
  };
  expect(usualSpot(steps())).toBeUndefined();
  expect(usualSpot(steps(['waist'], ['waist', 'edge', 'edge', 'edge']))).toBe('waist');
  expect(usualSpot(steps(['waist'], ['edge'], ['edge', 'waist']))).toBe('waist');
  expect(usualSpot(steps(['waist'], ['edge']))).toBe('edge');
  expect(usualSpot(steps(['unread'], ['unread'], ['edge']))).toBe('edge');
});
