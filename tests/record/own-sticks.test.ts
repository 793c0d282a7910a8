// A brace of a stick of its own, and a top joined from two halves that differ: what the plan reckons with, by hand.
import { describe, expect, test } from 'vitest';
import { fitParameters } from '../../src/forecast/plan-question.ts';
import { massBetweenG } from '../../src/record/cuts.ts';
import { planCase } from '../../src/record/plan-case.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { planMass } from '../../src/record/plan-mass.ts';
import { planWoodOf, planWoodOfHalves, woodConstants } from '../../src/record/plan-wood.ts';
import type { Piece, Plan } from '../../src/record/record.ts';
import { freshPiece } from '../../src/record/wood-edit.ts';
import { atIso } from './small-record.ts';

const read = (id: string, kind: Piece['kind'], eLong: number, density: number, share = 0.02): Piece => ({
  ...freshPiece(id, kind, id, 'sitka-spruce'),
  reading: {
    ...{ method: 'test', atIso },
    eLongGpa: { value: eLong, sigma: share * eLong },
    densityKgM3: { value: density, sigma: share * density },
  },
});
const plan = startPlan('right');
const stick = planWoodOf(read('stick', 'brace-stock', 14, 500));
const [first, ...others] = plan.braces;
const own: Plan = { ...plan, braces: [{ ...first!, wood: stick }, ...others] };

describe('a brace of its own stick', () => {
  test('is of that stick in the plate, the others of the wood of all', () => {
    const braces = planCase(own, { hold: 'at-node', bridge: 'off' }).braces!;
    expect(braces[0]!.material).toEqual(woodConstants(stick));
    expect(braces[1]!.material).toEqual(woodConstants(plan.braceWood));
  });

  test('weighs as that stick, whole and as shavings', () => {
    const lighter = {
      ...own,
      braces: [{ ...first!, wood: { ...stick, densityKgM3: { value: 400, sigma: 8 } } }, ...others],
    };
    const of = (given: Plan) => planMass(given).totalG;
    // What a hundred kilograms a cubic metre make is the volume of that brace.
    const volumeMm3 = (of(own) - of(lighter)) / (100 * 1e-6);
    expect(volumeMm3).toBeGreaterThan(0);
    expect(of(own) - of(plan)).toBeCloseTo(volumeMm3 * (500 - plan.braceWood.densityKgM3.value) * 1e-6, 9);
    const low = first!.profile.map(({ atMm, heightMm }) => ({ atMm, heightMm: 0.9 * heightMm }));
    expect(massBetweenG(own, own.braces[0]!, low) / massBetweenG(plan, first!, low)).toBeCloseTo(
      500 / plan.braceWood.densityKgM3.value,
      9,
    );
  });

  test('narrows what a fit takes all braces to be known to', () => {
    const sigma = (given: Plan) =>
      fitParameters(given, { hold: 'at-node', bridge: 'off', strung: false }).find(
        ({ property }) => property === 'brace eL',
      )!.relativeSigma;
    const { value, sigma: one } = plan.braceWood.eLongGpa;
    const n = plan.braces.length;
    expect(sigma(plan)).toBeCloseTo(one / value, 9);
    expect(sigma(own)).toBeCloseTo(((n - 1) * (one / value) + 0.02) / n, 9);
  });
});

describe('a top joined from two halves', () => {
  const joined = planWoodOfHalves(read('a', 'top', 10, 400), read('b', 'top', 12, 420));

  test('is their mean; each half’s own error goes in by half, what they differ by as a uniform spread', () => {
    expect(joined.eLongGpa.value).toBeCloseTo(11, 9);
    expect(joined.eLongGpa.sigma).toBeCloseTo(Math.sqrt((0.2 ** 2 + 0.24 ** 2) / 4 + 2 ** 2 / 12), 9);
    expect(joined.densityKgM3.value).toBeCloseTo(410, 9);
    expect([joined.pieceId, joined.otherPieceId]).toEqual(['a', 'b']);
  });

  test('of two alike is that wood, better known', () => {
    const alike = planWoodOfHalves(read('a', 'top', 10, 400), read('b', 'top', 10, 400));
    expect(alike.eLongGpa.value).toBe(10);
    expect(alike.eLongGpa.sigma).toBeCloseTo(0.2 / Math.SQRT2, 9);
  });
});
