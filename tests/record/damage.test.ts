// Damage of an instrument before its repair: what is ticked and what is marked are one list; the outline the marks lie on.
import { expect, test } from 'vitest';
import type { BoxRepair } from '../../src/record/box-edit.ts';
import { type DamageMark, damagesOf, markedOutline, withMark, withoutMark } from '../../src/record/damage.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { planOutline } from '../../src/record/plan-outline.ts';
import { newRecord } from '../../src/record/record.ts';

const atIso = '2026-11-25T08:00:00.000Z';
const repair: BoxRepair = {
  ...{ recordId: 'r', stepId: 's', topDamage: ['sunken'], isTopSound: true, isBackSound: true },
  ...{ oldWood: {}, newWood: {}, matchBy: 'both' },
};
const mark = (id: string, face: 'top' | 'back', damage: DamageMark['damage']): DamageMark => ({
  ...{ id, face, damage, xMm: 120, yMm: -40, note: '', atIso },
});

test('what is marked counts beside what is ticked, each once, and a marked part is not sound', () => {
  const marked = [mark('a', 'top', 'cracked'), mark('b', 'top', 'cracked'), mark('c', 'back', 'loose-brace')].reduce(
    withMark,
    repair,
  );
  expect(damagesOf(marked, 'top')).toEqual(['sunken', 'cracked']);
  expect(damagesOf(marked, 'back')).toEqual(['loose-brace']);
  expect([marked.isTopSound, marked.isBackSound]).toEqual([undefined, undefined]);
  expect(damagesOf(repair, 'back')).toEqual([]);
});

test('a mark is changed where it stands, and the last one taken out leaves none', () => {
  const two = withMark(withMark(repair, mark('a', 'top', 'cracked')), mark('b', 'back', 'cracked'));
  const noted = withMark(two, { ...mark('a', 'top', 'cracked'), note: '80 mm long' });
  expect(noted.marks!.map(({ id, note }) => [id, note])).toEqual([
    ['a', '80 mm long'],
    ['b', ''],
  ]);
  expect(withoutMark(withoutMark(noted, 'a'), 'b')).not.toHaveProperty('marks');
});

test('marks lie on the outline as drawn, the old top’s first, else by the inside sizes, else a usual one', () => {
  const bare = newRecord({ id: 'r', createdAtIso: atIso, name: 'n' });
  const widest = (outline: readonly (readonly [number, number])[]) => 2 * Math.max(...outline.map(([, y]) => y));
  const longest = (outline: readonly (readonly [number, number])[]) => Math.max(...outline.map(([x]) => x));
  // The concert body of ours: 487 long, 384 at the lower bout.
  expect(longest(markedOutline(bare))).toBeCloseTo(487, 0);
  expect(widest(markedOutline(bare))).toBeCloseTo(384, 0);
  const sized = { ...bare, box: { cavity: { from: 'outline' as const, bodyLengthMm: 500, lowerBoutMm: 400 } } };
  expect(longest(markedOutline(sized))).toBeCloseTo(500, 0);
  expect(widest(markedOutline(sized))).toBeCloseTo(400, 0);
  const plan = startPlan('right');
  expect(markedOutline({ ...sized, plan })).toEqual(planOutline(plan));
  const body = plan.outline as Extract<typeof plan.outline, { kind: 'body' }>;
  const oldPlan = { ...plan, outline: { ...body, lengthMm: 470 } };
  const kept = { ...sized, plan, box: { ...sized.box, repair: { ...repair, oldPlan } } };
  expect(longest(markedOutline(kept))).toBeCloseTo(470, 0);
});
