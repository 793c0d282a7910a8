import { describe, expect, test } from 'vitest';
import { courseToward } from '../../src/compare/course.ts';
import { tracks } from '../../src/compare/tracks.ts';
import { removals } from '../../src/record/cuts.ts';
import type { Target } from '../../src/record/record.ts';
import { type Chapter, inMould, story } from './story.ts';

const target: Target = {
  id: 't',
  mode: 'monopole',
  stage: 'braced',
  frequencyHz: 176,
  toleranceHz: 2,
  origin: 'typed',
};

function courseOf(chapters: readonly Chapter[], wanted = target) {
  const record = story(chapters);
  const track = tracks(record, 'braced', inMould).find((known) => known.name === 'monopole')!;
  return courseToward(track, removals(record), wanted);
}

describe('the course toward the target', () => {
  // Exactly 5 Hz a gram: 194, 189 (1 g), 184 (1 g).
  const even: readonly Chapter[] = [
    { modesHz: [194, 270] },
    { modesHz: [189, 266], massOffG: 1 },
    { modesHz: [184, 265], massOffG: 1 },
  ];

  test('says how far is left and what a gram has moved the mode', () => {
    const course = courseOf(even);
    expect(course.leftHz.value).toBe(-8);
    expect(course.perGram).toMatchObject({ kind: 'rate' });
    if (course.perGram.kind === 'rate') {
      expect(course.perGram.perUnit.value).toBeCloseTo(-5, 9);
      // Weighted straight line through x = 0, 1, 2 with sigma 0.1: sigma of the slope is 0.1 / sqrt(2) (Bevington eq. 6.22).
      expect(course.perGram.perUnit.sigma).toBeCloseTo(0.1 / Math.SQRT2, 9);
    }
  });

  test('says how many more such passes, and where the next one leads', () => {
    const { verdict } = courseOf(even);
    expect(verdict.kind).toBe('keep-going');
    if (verdict.kind === 'keep-going') {
      expect(verdict.passesLeft.value).toBeCloseTo(8 / 5, 9);
      expect(verdict.nextHz.value).toBeCloseTo(179, 9);
    }
  });

  test('warns when the next pass like the last would overshoot the far edge of the target', () => {
    const { verdict } = courseOf([
      { modesHz: [194] },
      { modesHz: [189], massOffG: 1 },
      { modesHz: [178.5], massOffG: 2.1 },
    ]);
    expect(verdict.kind).toBe('next-overshoots');
    if (verdict.kind === 'next-overshoots') expect(verdict.nextHz.value).toBeCloseTo(168, 1);
  });

  test('says stop inside the target, and whether its uncertainty reaches outside', () => {
    expect(courseOf([{ modesHz: [176.5] }]).verdict).toEqual({ kind: 'within', surely: true });
    expect(courseOf([{ modesHz: [177.9] }]).verdict).toEqual({ kind: 'within', surely: false });
    // Its 95 % interval decides, two sigma of 0.1 Hz: 1.75 + 0.2 lies inside the 2 Hz, 1.85 + 0.2 does not.
    expect(courseOf([{ modesHz: [177.75] }]).verdict).toEqual({ kind: 'within', surely: true });
    expect(courseOf([{ modesHz: [177.85] }]).verdict).toEqual({ kind: 'within', surely: false });
  });

  test('says past the target below it, since wood cannot be put back', () => {
    expect(courseOf([{ modesHz: [173] }]).verdict).toEqual({ kind: 'past' });
  });

  test('never forecasts from too few steps, and says what is missing', () => {
    expect(courseOf(even.slice(0, 2)).verdict).toEqual({
      kind: 'cannot-say',
      because: { what: 'steps', have: 2, need: 3 },
    });
    const unweighed = courseOf([{ modesHz: [194] }, { modesHz: [189] }, { modesHz: [184] }]);
    expect(unweighed.verdict).toEqual({ kind: 'cannot-say', because: { what: 'amounts' } });
  });

  test('a removal between two measurements counts even where that step was not measured', () => {
    const record = story([...even.slice(0, 2), { modesHz: [184], massOffG: 1 }]);
    const second = record.steps[1]!;
    const cuts = second.cuts.map((cut) => ({ ...cut, id: 'extra-cut' }));
    const unmeasured = { ...second, id: 'extra', rounds: [], cuts };
    const steps = [record.steps[0]!, record.steps[1]!, unmeasured, record.steps[2]!];
    const track = tracks({ ...record, steps }, 'braced', inMould)[0]!;
    const course = courseToward(track, removals({ ...record, steps }), target);
    // 0 g, 1 g, 3 g: slope of the straight line through 194, 189, 184.
    if (course.perGram.kind === 'rate') expect(course.perGram.perUnit.value).toBeCloseTo(-45 / 14, 6);
    expect(course.perGram.kind).toBe('rate');
  });

  test('a pass that took nothing off is neither a pass nor the last one', () => {
    const { perGram, verdict } = courseOf([...even, { modesHz: [184.02, 265], massOffG: 0 }]);
    if (perGram.kind !== 'rate' || verdict.kind !== 'keep-going') throw new Error(verdict.kind);
    // 0, 1, 2, 2 g against 194, 189, 184, 184.02 Hz, all of one sigma: sxy = -13.735, sxx = 2.75.
    expect(perGram.perUnit.value).toBeCloseTo(-13.735 / 2.75, 9);
    expect(verdict.nextHz.value).toBeCloseTo(184.02 - 13.735 / 2.75, 9);
    // One pass and one of nothing tell no rate.
    const once = courseOf([...even.slice(0, 2), { modesHz: [188.9], massOffG: 0 }]);
    expect(once.perGram).toEqual({ kind: 'missing', because: { what: 'amounts' } });
  });

  test('passes that moved nothing give no forecast', () => {
    const { verdict } = courseOf([
      { modesHz: [194] },
      { modesHz: [194.05], massOffG: 1 },
      { modesHz: [194], massOffG: 1 },
    ]);
    expect(verdict).toEqual({ kind: 'cannot-say', because: { what: 'effect' } });
  });
});
