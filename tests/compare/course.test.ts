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

  test('what is left has the sigma of the reading, and its sign tells the side', () => {
    const { leftHz } = courseOf([{ modesHz: [194] }, { modesHz: [171], sigmaHz: 0.4, massOffG: 1 }]);
    expect(leftHz).toEqual({ value: 5, sigma: 0.4 });
  });

  test('the edge of the target belongs to it', () => {
    expect(courseOf([{ modesHz: [178] }]).verdict.kind).toBe('within');
    expect(courseOf([{ modesHz: [174] }]).verdict.kind).toBe('within');
    expect(courseOf([{ modesHz: [173.9] }]).verdict.kind).toBe('past');
    expect(courseOf([{ modesHz: [178.1] }]).verdict.kind).toBe('cannot-say');
    const below = (hz: number) => courseOf([{ modesHz: [hz], sigmaHz: 0.5 }]).verdict;
    expect(below(175.1)).toEqual({ kind: 'within', surely: true });
    expect(below(174.9)).toEqual({ kind: 'within', surely: false });
    expect(below(175)).toEqual({ kind: 'within', surely: true });
  });

  test('where the next pass leads and how many are left are as sure as the rate and the reading', () => {
    const { verdict } = courseOf(even);
    if (verdict.kind !== 'keep-going') throw new Error(verdict.kind);
    // One gram moves it by -5, sigma 0.1 / sqrt 2; it stands at 184 with 0.1, 8 above the target.
    const ofRate = 0.1 / Math.SQRT2;
    expect(verdict.nextHz.sigma).toBeCloseTo(Math.sqrt(0.1 ** 2 + ofRate ** 2), 9);
    expect(verdict.passesLeft.sigma).toBeCloseTo(1.6 * Math.sqrt((0.1 / 8) ** 2 + (ofRate / 5) ** 2), 9);
  });

  test('the pass to come is like the last one, not like the first', () => {
    // On the line of 5 Hz a gram: 0, 1, 3.5 g.
    const chapters = [{ modesHz: [203.5] }, { modesHz: [198.5], massOffG: 1 }, { modesHz: [186], massOffG: 2.5 }];
    const { verdict } = courseOf(chapters, { ...target, toleranceHz: 4 });
    if (verdict.kind !== 'keep-going') throw new Error(verdict.kind);
    expect(verdict.nextHz.value).toBeCloseTo(186 - 12.5, 9);
    expect(verdict.passesLeft.value).toBeCloseTo(10 / 12.5, 9);
  });

  test('a pass is too much from one chance in ten to go past the far edge, by the spread of where it leads', () => {
    const to = (toleranceHz: number) => {
      const { verdict } = courseOf(even, { ...target, frequencyHz: 181, toleranceHz });
      return 'chancePast' in verdict ? [verdict.kind, Math.round(1000 * verdict.chancePast)] : [verdict.kind];
    };
    // 184 less 5 is 179, sigma sqrt(0.1^2 + 0.1^2 / 2) = 0.12247. A normal lies below -1.3064 sigma (178.84) in 0.0957, below
    // -1.2247 (178.85) in 0.1103, below -0.8165 (178.9) in 0.2071 (any table of the normal distribution).
    expect([2.16, 2.15, 2.1].map(to)).toEqual([
      ['keep-going', 96],
      ['next-overshoots', 110],
      ['next-overshoots', 207],
    ]);
  });

  test('readings of unlike worth count by their worth, and scatter that they do not explain widens the rate', () => {
    const { perGram } = courseOf([
      { modesHz: [194], sigmaHz: 0.1 },
      { modesHz: [190], sigmaHz: 0.2, massOffG: 1 },
      { modesHz: [184], sigmaHz: 0.4, massOffG: 1 },
    ]);
    if (perGram.kind !== 'rate') throw new Error(perGram.kind);
    // Normal equations of a weighted line with w = 100, 25, 6.25 at x = 0, 1, 2 (Bevington eq. 6.12, 6.22).
    const [w, x, y] = [
      [100, 25, 6.25],
      [0, 1, 2],
      [194, 190, 184],
    ];
    const sum = (of: (i: number) => number) => [0, 1, 2].reduce((total, i) => total + of(i), 0);
    const [s, sx, sy] = [sum((i) => w[i]!), sum((i) => w[i]! * x[i]!), sum((i) => w[i]! * y[i]!)];
    const [sxx, sxy] = [sum((i) => w[i]! * x[i]! ** 2), sum((i) => w[i]! * x[i]! * y[i]!)];
    const delta = s * sxx - sx ** 2;
    const slope = (s * sxy - sx * sy) / delta;
    const start = (sxx * sy - sx * sxy) / delta;
    const chi2 = sum((i) => w[i]! * (y[i]! - start - slope * x[i]!) ** 2);
    expect(chi2).toBeGreaterThan(1);
    expect(perGram.perUnit.value).toBeCloseTo(slope, 9);
    // Three points and two constants leave one to judge the scatter by.
    expect(perGram.perUnit.sigma).toBeCloseTo(Math.sqrt((s / delta) * chi2), 9);
  });

  test('four points leave two to judge the scatter by', () => {
    const { perGram } = courseOf([
      { modesHz: [194] },
      { modesHz: [189], massOffG: 1 },
      { modesHz: [185], massOffG: 1 },
      { modesHz: [179], massOffG: 1 },
    ]);
    if (perGram.kind !== 'rate') throw new Error(perGram.kind);
    // Slope -4.9 about x = 1.5, y = 186.75: left over -0.1, -0.2... squared 0.7 in all, over 0.01, over 2; sxx = 5 / 0.01.
    const left = [194, 189, 185, 179].map((y, i) => y - 186.75 + 4.9 * (i - 1.5));
    const chi2 = left.reduce((total, one) => total + (one / 0.1) ** 2, 0);
    expect(perGram.perUnit.value).toBeCloseTo(-4.9, 9);
    expect(perGram.perUnit.sigma).toBeCloseTo(Math.sqrt(chi2 / 2) * Math.sqrt(0.01 / 5), 9);
  });

  test('where nothing was weighed, millimetres tell', () => {
    const record = story(even);
    const inMm = (step: (typeof record.steps)[number]) => ({
      ...step,
      cuts: step.cuts.map(({ weighedG: _, ...cut }) => ({ ...cut, offMm: 0.5 })),
    });
    const steps = record.steps.map(inMm);
    const track = tracks({ ...record, steps }, 'braced', inMould)[0]!;
    const { perGram, perMm, verdict } = courseToward(track, removals({ ...record, steps }), target);
    expect(perGram).toEqual({ kind: 'missing', because: { what: 'amounts' } });
    expect(perMm.kind === 'rate' && perMm.perUnit.value).toBeCloseTo(-10, 9);
    expect(verdict.kind === 'keep-going' && verdict.nextHz.value).toBeCloseTo(179, 9);
  });

  test('grams are believed before millimetres, and each has its own rate', () => {
    const record = story(even);
    const steps = record.steps.map((step) => ({ ...step, cuts: step.cuts.map((cut) => ({ ...cut, offMm: 0.25 })) }));
    const track = tracks({ ...record, steps }, 'braced', inMould)[0]!;
    const { perGram, perMm, verdict } = courseToward(track, removals({ ...record, steps }), target);
    expect(perGram.kind === 'rate' && perGram.perUnit.value).toBeCloseTo(-5, 9);
    expect(perMm.kind === 'rate' && perMm.perUnit.value).toBeCloseTo(-20, 9);
    expect(verdict.kind === 'keep-going' && verdict.nextHz.value).toBeCloseTo(179, 9);
  });

  test('three readings at two weights make no line', () => {
    const { perGram } = courseOf([{ modesHz: [194] }, { modesHz: [193.9] }, { modesHz: [189], massOffG: 1 }]);
    expect(perGram).toEqual({ kind: 'missing', because: { what: 'amounts' } });
  });

  test('a rate whose interval reaches nought gives no forecast, one that is clearly downward does', () => {
    const falls = (byHz: number) =>
      courseOf([{ modesHz: [194 + 2 * byHz] }, { modesHz: [194 + byHz], massOffG: 1 }, { modesHz: [194], massOffG: 1 }])
        .verdict;
    // Sigma of the rate is 0.0707: two of it are 0.1414.
    expect(falls(0.13)).toEqual({ kind: 'cannot-say', because: { what: 'effect' } });
    expect(falls(0.15).kind).toBe('keep-going');
    expect(falls(-3)).toEqual({ kind: 'cannot-say', because: { what: 'effect' } });
  });
});
