// Which modes' courses are drawn.
import { expect, test } from 'vitest';
import { courseUnder } from '../../src/compare/shown-course.ts';
import { inMould, story } from './story.ts';

const conditions = { stage: 'braced', support: inMould } as const;
const lastOf = (record: ReturnType<typeof story>) =>
  courseUnder(record, conditions).tracks.map(({ points }) => points.at(-1)!.mode.frequencyHz.value);

test('those that have a name, where there are any', () => {
  const record = story([{ modesHz: [194, 271] }, { modesHz: [189, 266] }]);
  expect(lastOf(record)).toEqual([189]);
});

test('without a name those that were heard at the most steps, six at most', () => {
  const record = { ...story([{ modesHz: [194, 271] }, { modesHz: [189] }, { modesHz: [184, 400] }]), pins: [] };
  expect(lastOf(record)).toEqual([184]);
  const many = Array.from({ length: 8 }, (_, i) => 100 * 1.3 ** i);
  expect(lastOf({ ...story([{ modesHz: many }]), pins: [] })).toEqual(many.slice(0, 6));
});

test('of the conditions asked for, with the targets of their stage', () => {
  const free = { ...inMould, hold: 'at-node' as const };
  const told = story([{ modesHz: [194] }, { modesHz: [120], support: free }, { modesHz: [170], stage: 'on-rims' }]);
  const target = (id: string, stage: 'braced' | 'on-rims') =>
    ({ id, stage, mode: 'monopole', frequencyHz: 176, toleranceHz: 2, origin: 'typed' }) as const;
  const record = { ...told, targets: [target('a', 'braced'), target('b', 'on-rims')] };
  const under = courseUnder(record, { stage: 'braced', support: free });
  expect(under.conditions).toEqual({ stage: 'braced', support: free });
  expect(under.tracks.map(({ points }) => points[0]!.mode.frequencyHz.value)).toEqual([120]);
  expect(under.targets.map(({ id }) => id)).toEqual(['a']);
  expect(courseUnder(record, { stage: 'on-rims', support: inMould }).targets.map(({ id }) => id)).toEqual(['b']);
  expect(courseUnder({ ...record, steps: [] }, conditions).tracks).toEqual([]);
});

test('of more than six named modes the lowest six', () => {
  const many = Array.from({ length: 8 }, (_, i) => 100 * 1.3 ** i);
  const pins = many.map((frequencyHz, i) => ({ id: `p${i}`, stepId: 's0', mode: `m${i}`, frequencyHz }));
  expect(lastOf({ ...story([{ modesHz: many }]), pins })).toEqual(many.slice(0, 6));
});
