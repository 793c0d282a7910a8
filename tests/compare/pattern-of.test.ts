import { describe, expect, test } from 'vitest';
import { patternOf } from '../../src/compare/pattern-of.ts';
import { demoPlan } from '../../src/demo/demo-plan.ts';
import { mirroredPlan } from '../../src/record/plan-edit.ts';
import { patternBraces, patterns } from '../../src/record/plan-patterns.ts';
import type { PlanBrace } from '../../src/record/record.ts';

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

  /** A brace through a place, turned so many degrees away from the centre line. */
  const brace = (turn: number, xMm = 250, yMm = 0, halfMm = 60): PlanBrace => {
    const [dx, dy] = [halfMm * Math.cos((turn * Math.PI) / 180), halfMm * Math.sin((turn * Math.PI) / 180)];
    const [one] = demoPlan().braces;
    return { ...one!, from: { xMm: xMm - dx, yMm: yMm - dy }, to: { xMm: xMm + dx, yMm: yMm + dy } };
  };
  const apart = (turns: readonly number[]) => turns.map((turn, i) => brace(turn, 100 + 200 * i));
  const told = (...braces: readonly PlanBrace[]) => patternOf({ braces });

  test('across is from 65 degrees on, along below 40, on either side', () => {
    for (const side of [1, -1]) {
      expect(told(...apart([90, 65.5 * side]))).toBe('ladder');
      expect(told(...apart([90, 64.5 * side]))).toBeUndefined();
      expect(told(...apart([0, 20, 39.5 * side]))).toBe('fan');
      expect(told(...apart([0, 20, 40.5 * side]))).toBeUndefined();
      expect(told(brace(64.5 * side), brace(-60 * side))).toBe('x');
      expect(told(brace(66 * side), brace(-60 * side))).toBeUndefined();
    }
  });

  test('four crossings are a lattice, three are none; two that cross are an X whatever else lies there', () => {
    const across = [brace(90, 200, 0, 150), brace(90, 300, 0, 150)];
    const along = [-50, 50].map((yMm) => brace(0, 250, yMm, 150));
    expect(told(...across, ...along)).toBe('lattice');
    expect(told(across[0]!, ...along)).toBeUndefined();
    expect(told(across[0]!, ...along, brace(0, 250, 100, 150))).toBe('fan');
    expect(told(brace(45), brace(-45), ...apart([90, 90, 90]).map((one) => ({ ...one, id: 'across' })))).toBe('x');
  });

  test('braces across make a ladder from two on, where nothing runs along', () => {
    expect(told(brace(90))).toBeUndefined();
    expect(told(...apart([90, 90]))).toBe('ladder');
    expect(told(...apart([90, 90, 10]))).toBeUndefined();
    expect(told(...apart([90, 90, 10, 10]))).toBeUndefined();
    expect(told(...apart([90, 90, 10, 10, 10]))).toBe('fan');
  });
});
