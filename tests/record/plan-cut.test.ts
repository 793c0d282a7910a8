import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { afterEvenCut } from '../../src/brace/cut.ts';
import { belowFloors } from '../../src/brace/floor.ts';
import { heightAtMm } from '../../src/brace/profile.ts';
import { checkPlate } from '../../src/plate/plate-check.ts';
import { plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { appendStep, freshStep } from '../../src/record/edit.ts';
import { planBraceLengthMm } from '../../src/record/plan-brace.ts';
import { planCase } from '../../src/record/plan-case.ts';
import { cutOfStep, planAtStep, planNow } from '../../src/record/plan-course.ts';
import { evenCut, massOfCutG } from '../../src/record/plan-cut.ts';
import { moveBraceEnd, startPlan, withPlan } from '../../src/record/plan-edit.ts';
import { planMass } from '../../src/record/plan-mass.ts';
import { patternBraces, patterns } from '../../src/record/plan-patterns.ts';
import { newRecord } from '../../src/record/record.ts';

const plan = startPlan('right');
const brace = plan.braces[0]!;
const length = planBraceLengthMm(brace);

describe('a cut', () => {
  test('takes its depth off inside its stretch and nothing outside, and never adds wood', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: length, noNaN: true }),
        fc.double({ min: 0, max: length, noNaN: true }),
        fc.double({ min: 0, max: 20, noNaN: true }),
        fc.double({ min: 0, max: length, noNaN: true }),
        (from, to, off, at) => {
          const after = afterEvenCut(brace.profile, length, { fromMm: from, toMm: to, offMm: off });
          const [before, left] = [heightAtMm(brace.profile, at), heightAtMm(after, at)];
          // Heights are kept to hundredths, and places too.
          expect(left).toBeLessThanOrEqual(before + 0.02);
          expect(left).toBeGreaterThanOrEqual(Math.max(0, before - off) - 0.02);
          if (at < Math.min(from, to) - 0.02 || at > Math.max(from, to) + 0.02)
            expect(Math.abs(left - before)).toBeLessThan(0.02);
        },
      ),
    );
  });

  test('weighs width times area times density: 1 mm off 100 mm of a level rectangular brace', () => {
    const level = {
      ...brace,
      section: 'rectangle' as const,
      profile: [
        { atMm: 0, heightMm: 12 },
        { atMm: length, heightMm: 12 },
      ],
    };
    const after = afterEvenCut(level.profile, length, { fromMm: 100, toMm: 200, offMm: 1 });
    // The cut runs out over 4 mm at both ends: 96 mm of full depth in effect.
    const expected = 96 * 1 * level.widthMm * plan.braceWood.densityKgM3.value * 1e-6;
    expect(massOfCutG(plan, level, after) / expected).toBeCloseTo(1, 3);
  });

  test('below a floor is told with where and how much', () => {
    const floors = [{ fromMm: 100, toMm: 200, heightMm: 11 }];
    expect(belowFloors(floors, afterEvenCut(brace.profile, length, { fromMm: 150, toMm: 250, offMm: 4 }))).toEqual([
      expect.objectContaining({ floorMm: 11, heightMm: 10 }),
    ]);
    expect(belowFloors(floors, brace.profile)).toEqual([]);
  });
});

describe('the plan through the steps', () => {
  const first = { ...freshStep('s1', '2026-01-01T08:00:00.000Z', undefined), stage: 'braced' as const };
  const shaving = evenCut(plan, brace, 220, 320, 1);
  const second = { ...freshStep('s2', '2026-01-01T09:00:00.000Z', first), shavings: [shaving] };
  const bare = newRecord({ id: 'a', createdAtIso: '2026-01-01T00:00:00.000Z', name: 'Top' });
  const record = appendStep(appendStep(withPlan(bare, plan), first), second);

  test('is as glued before the cut, and cut from its step on', () => {
    expect(planAtStep(record, plan, 's1')).toBe(plan);
    const now = planNow(record, plan).braces[0]!;
    expect(heightAtMm(now.profile, 270)).toBeCloseTo(heightAtMm(brace.profile, 270) - 1, 6);
    expect(planAtStep(record, plan, 's2').braces[0]).toEqual(now);
  });

  test('loses the mass that the shaving weighs', () => {
    const lost = planMass(plan).totalG - planMass(planNow(record, plan)).totalG;
    // The shaving is told to hundredths of a gram.
    expect(Math.abs(lost - shaving.massOffG!)).toBeLessThan(0.02);
    expect(cutOfStep(record, plan, second, brace.id)!.massOffG).toBeCloseTo(lost, 2);
  });
});

describe('a drawn top', () => {
  test.each(patterns)('of the pattern %s has no fault, braces inside the rim, and the mass its mesh has', (pattern) => {
    const drawn = { ...plan, braces: [...patternBraces(pattern, plan)] };
    const { faults, solvable } = checkPlate(planCase(drawn, { hold: 'in-mould', bridge: 'off' }));
    expect(faults).toEqual([]);
    const answer = plateModes(preparePlate(solvable!), undefined, { count: 1 });
    expect(answer.kind).toBe('modes');
    // Blended half-laps and the straight sides of the drawn rim differ by less than 1 %.
    if (answer.kind === 'modes') expect(Math.abs(planMass(drawn).totalG / answer.massG - 1)).toBeLessThan(0.01);
  });

  test('with a brace moved keeps its tapered ends at the ends', () => {
    const moved = moveBraceEnd(brace, 'to', { xMm: brace.to.xMm + 30, yMm: brace.to.yMm });
    expect(moved.profile.at(-1)!.atMm).toBeCloseTo(planBraceLengthMm(moved), 0);
  });
});
