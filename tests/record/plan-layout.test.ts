// Braces that a changed plan leaves behind, laid out anew: where they go is told by the pattern laid on the changed plan itself.
import { describe, expect, test } from 'vitest';
import { mirroredPlan, moveBraceEnd, startPlan } from '../../src/record/plan-edit.ts';
import { changedUnderBraces, laidAnew, laidBraces, settledPlan } from '../../src/record/plan-layout.ts';
import { patternBraces, patterns } from '../../src/record/plan-patterns.ts';
import type { Plan, PlanBrace } from '../../src/record/record.ts';

const none: ReadonlySet<string> = new Set();
const places = (braces: readonly PlanBrace[]) =>
  braces.map(({ id, from, to }) => [id, from.xMm, from.yMm, to.xMm, to.yMm]);
const longer = (plan: Plan): Plan => ({ ...plan, scaleMm: 660 });
const lowerHole = (plan: Plan): Plan => ({ ...plan, soundhole: { ...plan.soundhole!, xMm: plan.soundhole!.xMm - 12 } });
const laid = (pattern: (typeof patterns)[number]): Plan => {
  const start = startPlan('right');
  return { ...start, braces: [...patternBraces(pattern, start)] };
};

describe('braces that a changed plan leaves behind', () => {
  test.each(patterns)('%s: laid out anew they stand where the pattern puts them on the changed plan', (pattern) => {
    const changed = changedUnderBraces(changedUnderBraces(laid(pattern), longer), lowerHole);
    expect(places(changed.braces)).toEqual(places(laid(pattern).braces));
    const anew = laidAnew(changed, 'right', none)!;
    expect(places(anew.braces)).toEqual(places(patternBraces(pattern, lowerHole(longer(laid(pattern))))));
    expect(anew.laidFor).toBeUndefined();
    expect(laidAnew(anew, 'right', none)).toBeUndefined();
  });

  test('for a left-handed player they go as on the mirrored plan', () => {
    const left = mirroredPlan(laid('x'));
    const anew = laidAnew(changedUnderBraces(left, lowerHole), 'left', none)!;
    const right = laidAnew(changedUnderBraces(laid('x'), lowerHole), 'right', none)!;
    expect(places(anew.braces)).toEqual(places(mirroredPlan(right).braces));
    expect(places(laidBraces('x', left, 'left'))).toEqual(places(left.braces));
  });

  test('what was moved by hand keeps its distance, and its heights stretch with it', () => {
    const start = laid('x');
    const [first, ...others] = start.braces;
    const byHand = moveBraceEnd(first!, 'to', { xMm: first!.to.xMm + 7, yMm: first!.to.yMm - 5 });
    const changed = changedUnderBraces({ ...start, braces: [byHand, ...others] }, lowerHole);
    const [moved] = laidAnew(changed, 'right', none)!.braces;
    const [pattern] = patternBraces('x', lowerHole(start));
    expect([moved!.to.xMm, moved!.to.yMm]).toEqual([pattern!.to.xMm + 7, pattern!.to.yMm - 5]);
    const length = Math.hypot(moved!.to.xMm - moved!.from.xMm, moved!.to.yMm - moved!.from.yMm);
    expect(Math.abs(moved!.profile.at(-1)!.atMm - length)).toBeLessThan(0.3);
  });

  test('a brace that was shaved stays, and one of no pattern', () => {
    const start = laid('x');
    const own: PlanBrace = { ...start.braces[0]!, id: 'my-own' };
    const changed = changedUnderBraces({ ...start, braces: [...start.braces, own] }, lowerHole);
    const anew = laidAnew(changed, 'right', new Set(['x-treble']))!;
    const at = (id: string) => places(anew.braces.filter((brace) => brace.id === id));
    expect(at('x-treble')).toEqual(places(start.braces.filter(({ id }) => id === 'x-treble')));
    expect(at('my-own')).toEqual(places([own]));
    expect(at('x-bass')).not.toEqual(places(start.braces.filter(({ id }) => id === 'x-bass')));
  });

  test('what moves no brace, or is taken back, or is wanted so, leaves none behind', () => {
    const start = laid('x');
    const thinner = changedUnderBraces(start, (plan) => ({ ...plan, thicknessMm: 2.5 }));
    expect(thinner.laidFor).toBeUndefined();
    const back = changedUnderBraces(changedUnderBraces(start, longer), (plan) => ({ ...plan, scaleMm: start.scaleMm }));
    expect(laidAnew(back, 'right', none)).toBeUndefined();
    expect(laidAnew(settledPlan(changedUnderBraces(start, lowerHole)), 'right', none)).toBeUndefined();
    expect(laidAnew(start, 'right', none)).toBeUndefined();
  });

  test('mirroring the plan mirrors what the braces were laid for: nothing more is behind than before', () => {
    const changed = changedUnderBraces(laid('fan'), lowerHole);
    const anew = laidAnew(mirroredPlan(changed), 'left', none)!;
    expect(places(mirroredPlan(anew).braces)).toEqual(places(laidAnew(changed, 'right', none)!.braces));
  });
});
