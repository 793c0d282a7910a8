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
