import { describe, expect, test } from 'vitest';
import { patternOf } from '../../src/compare/pattern-of.ts';
import { demoPlan } from '../../src/demo/demo-plan.ts';
import { mirroredPlan } from '../../src/record/plan-edit.ts';
import { patternBraces, patterns } from '../../src/record/plan-patterns.ts';

describe('the pattern that braces make', () => {
  test.each(patterns)('%s is told from its drawing, mirrored or not, in any order of the braces', (pattern) => {
    const bare = demoPlan();
    const plan = { ...bare, braces: [...patternBraces(pattern, bare)] };
    expect(patternOf(plan)).toBe(pattern);
    expect(patternOf(mirroredPlan(plan))).toBe(pattern);
    expect(patternOf({ braces: plan.braces.toReversed() })).toBe(pattern);
  });

  test('a bare plate and a single brace are no pattern', () => {
    expect(patternOf({ braces: [] })).toBeUndefined();
    expect(patternOf({ braces: demoPlan().braces.slice(0, 1) })).toBeUndefined();
  });
});
