import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { afterEvenCut } from '../../src/brace/cut.ts';
import { belowFloors, floorsAlong } from '../../src/brace/floor.ts';
import { heightAtMm } from '../../src/brace/profile.ts';
import { checkPlate } from '../../src/plate/plate-check.ts';
import { plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { cutsMade, massBetweenG, planAtStep, planNow, removals, weightAt } from '../../src/record/cuts.ts';
import { appendStep, changeStep, freshStep } from '../../src/record/edit.ts';
import { planBraceLengthMm } from '../../src/record/plan-brace.ts';
import { planCase } from '../../src/record/plan-case.ts';
import { moveBraceEnd, startPlan, tieFloor, withPlan } from '../../src/record/plan-edit.ts';
import { planMass } from '../../src/record/plan-mass.ts';
import { patternBraces, patterns } from '../../src/record/plan-patterns.ts';
import { type Cut, type InstrumentRecord, newRecord } from '../../src/record/record.ts';

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
    expect(massBetweenG(plan, level, after) / expected).toBeCloseTo(1, 3);
  });

  test('below a floor is told with where and how much', () => {
    const floors = [{ fromMm: 100, toMm: 200, heightMm: 11 }];
    expect(belowFloors(floors, afterEvenCut(brace.profile, length, { fromMm: 150, toMm: 250, offMm: 4 }))).toEqual([
      expect.objectContaining({ floorMm: 11, heightMm: 10 }),
    ]);
    expect(belowFloors(floors, brace.profile)).toEqual([]);
  });

  test('a floor in words that is tied to braces is theirs where they stand as high, and in words no more', () => {
    const plan = startPlan('right');
    const [one, two] = plan.braces;
    const floors = [
      { id: 'f', brace: 'the legs', heightMm: 9 },
      { id: 'g', brace: 'the others', heightMm: 5 },
    ];
    const record = {
      ...withPlan(newRecord({ id: 'a', createdAtIso: '2026-11-25T08:00:00.000Z', name: 'A' }), plan),
      floors,
    };
    const tied = tieFloor(record, 'f', [one!.id, two!.id]);
    expect(tied.floors).toEqual([floors[1]]);
    for (const [i, brace] of tied.plan!.braces.entries()) {
      const added = i < 2 ? floorsAlong(brace.profile, planBraceLengthMm(brace), 9) : [];
      expect(brace.floors).toEqual([...plan.braces[i]!.floors, ...added]);
      expect(belowFloors(brace.floors, brace.profile)).toEqual([]);
    }
    expect(tieFloor(record, 'f', [])).toBe(record);
    expect(tieFloor(record, 'gone', [one!.id])).toBe(record);
  });
});

describe('the plan through the steps', () => {
  const first = { ...freshStep('s1', '2026-01-01T08:00:00.000Z', undefined), stage: 'braced' as const };
  const cut = { id: 'c1', brace: brace.name, braceIds: [brace.id], fromMm: 220, toMm: 320, offMm: 1 };
  const second = { ...freshStep('s2', '2026-01-01T09:00:00.000Z', first), stage: 'braced' as const, cuts: [cut] };
  const bare = newRecord({ id: 'a', createdAtIso: '2026-01-01T00:00:00.000Z', name: 'Top' });
  const record = appendStep(appendStep(withPlan(bare, plan), first), second);
  const withCut = (part: Partial<Cut>): InstrumentRecord =>
    changeStep(record, 's2', (step) => ({ ...step, cuts: [{ ...cut, ...part }] }));
  /** Grams of an even cut that runs out over 4 mm at both ends, by hand: a rounded section is 1/2 + pi/8 of its box. */
  const gramsOf = (offMm: number) =>
    offMm * (320 - 220 - 4) * brace.widthMm * (0.5 + Math.PI / 8) * plan.braceWood.densityKgM3.value * 1e-6;

  test('is as glued before the cut, and cut from its step on', () => {
    expect(planAtStep(record, plan, 's1')).toBe(plan);
    const now = planNow(record, plan).braces[0]!;
    expect(heightAtMm(now.profile, 270)).toBeCloseTo(heightAtMm(brace.profile, 270) - 1, 9);
    expect(planAtStep(record, plan, 's2').braces[0]).toEqual(now);
  });

  test('loses the mass that the cut is worked out to weigh, as the course counts it', () => {
    const lost = planMass(plan).totalG - planMass(planNow(record, plan)).totalG;
    // Slices of 2 mm against an integral.
    expect(lost).toBeCloseTo(gramsOf(1), 2);
    expect(removals(record)[1]!.massOffG).toBeCloseTo(gramsOf(1), 9);
    expect(removals(record)[1]!.heightOffMm).toBe(1);
  });

  test('a depth corrected in the diary corrects plan, grams and course at once', () => {
    const corrected = withCut({ offMm: 1.5 });
    const now = planNow(corrected, plan).braces[0]!;
    expect(heightAtMm(now.profile, 270)).toBeCloseTo(heightAtMm(brace.profile, 270) - 1.5, 9);
    expect(removals(corrected)[1]).toMatchObject({ heightOffMm: 1.5 });
    expect(removals(corrected)[1]!.massOffG).toBeCloseTo(gramsOf(1.5), 9);
  });

  test('a cut that is deleted gives its wood back', () => {
    const without = changeStep(record, 's2', (step) => ({ ...step, cuts: [] }));
    expect(planNow(without, plan)).toBe(plan);
    expect(removals(without)[1]).toEqual({ stepId: 's2', massOffG: undefined, heightOffMm: undefined });
  });

  test('a cut in words only takes nothing off the plan until it is tied to a brace, and then counts', () => {
    const inWords = withCut({ braceIds: [], weighedG: 0.4 });
    expect(planNow(inWords, plan)).toBe(plan);
    expect(removals(inWords)[1]).toMatchObject({ massOffG: 0.4, heightOffMm: 1 });
    const tied = withCut({ weighedG: 0.4 });
    expect(planNow(tied, plan)).toEqual(planNow(record, plan));
    // What was weighed counts before what is worked out.
    expect(removals(tied)[1]!.massOffG).toBe(0.4);
  });

  test('heights measured at places and a profile drawn by hand are cuts too', () => {
    const flat = { ...plan, braces: plan.braces.map((b) => ({ ...b, profile: [{ atMm: 0, heightMm: 12 }] })) };
    const cutOn = (part: Partial<Cut>) => {
      const { fromMm: _from, toMm: _to, offMm: _off, ...bareCut } = cut;
      const changed = changeStep({ ...record, plan: flat }, 's2', (step) => ({
        ...step,
        cuts: [{ ...bareCut, ...part }],
      }));
      return { now: planNow(changed, flat).braces[0]!, made: cutsMade(changed)[0]! };
    };
    const heights = [
      { atMm: 100, heightMm: 12 },
      { atMm: 150, heightMm: 9 },
      { atMm: 200, heightMm: 12 },
    ];
    const measured = cutOn({ heights });
    expect([90, 125, 150, 210].map((atMm) => heightAtMm(measured.now.profile, atMm))).toEqual([12, 10.5, 9, 12]);
    expect(measured.made).toMatchObject({ heightOffMm: 3, heightLeftMm: 9 });
    const drawn = cutOn({ drawn: [{ braceId: brace.id, profile: [{ atMm: 0, heightMm: 7 }] }] });
    expect(heightAtMm(drawn.now.profile, 50)).toBe(7);
  });

  test('a weight is a fact where it was typed; elsewhere it is the last one less what was cut since', () => {
    const weighed = changeStep(record, 's1', (step) => ({ ...step, massG: 193.9 }));
    expect(weightAt(weighed, 's1')).toEqual({ kind: 'weighed', massG: 193.9 });
    expect(weightAt(weighed, 's2')).toMatchObject({ kind: 'carried', weighedAt: 1, weighedG: 193.9 });
    const carried = weightAt(weighed, 's2')!;
    expect(carried.massG).toBeCloseTo(193.9 - gramsOf(1), 9);
    // 15 % of what was worked out, one sigma.
    expect(carried.kind === 'carried' && carried.sigmaG).toBeCloseTo(0.15 * gramsOf(1), 9);
    expect(weightAt(record, 's2')).toBeUndefined();
    const third = appendStep(weighed, freshStep('s3', '2026-01-01T10:00:00.000Z', weighed.steps[1]));
    expect(third.steps[2]!.massG).toBeUndefined();
    // On the rims it carries more than its braces.
    const later = changeStep(third, 's3', (step) => ({ ...step, stage: 'on-rims' }));
    expect(weightAt(later, 's3')).toBeUndefined();
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
