// @vitest-environment happy-dom
// Every figure of a target's course against the record by another line of arithmetic.
import { describe, expect, test } from 'vitest';
import { courseToward } from '../../src/compare/course.ts';
import { tracks } from '../../src/compare/tracks.ts';
import { removals } from '../../src/record/cuts.ts';
import type { InstrumentRecord } from '../../src/record/record.ts';
import { Course, verdictWords } from '../../src/views/steps/course.tsx';
import { inMould, story } from '../compare/story.ts';
import { beside, expectFigure, figureIn, show } from './shown.tsx';

// Two passes of unlike grams per millimetre, 194, 189, 184.5 Hz with sigmas of their own: x in g 0, 0.8, 2; in mm 0, 0.5, 1.5.
const hz = [194, 189, 184.5];
const sigmas = [0.1, 0.2, 0.15];
const grams = [0, 0.8, 1.2];
const mm = [0, 0.5, 1];
const target = { frequencyHz: 176, toleranceHz: 2 };

const told = story(hz.map((value, i) => ({ modesHz: [value], sigmaHz: sigmas[i]! })));
const record: InstrumentRecord = {
  ...told,
  targets: [{ id: 't', mode: 'monopole', stage: 'braced', origin: 'typed', ...target }],
  steps: told.steps.map((step, i) => ({
    ...step,
    cuts: i === 0 ? [] : [{ id: `c${i}`, brace: 'X', braceIds: [], offMm: mm[i]!, weighedG: grams[i]! }],
  })),
};

/** Slope of a weighted line and its sigma from the normal equations, by Cramer's rule. Source: Bevington eq. 6.12, 6.21 to 6.23. */
function slope(taken: readonly number[]): { readonly value: number; readonly sigma: number } {
  const x = taken.map((_, i) => taken.slice(0, i + 1).reduce((a, b) => a + b));
  const w = sigmas.map((s) => s ** -2);
  const sum = (of: (i: number) => number) => w.reduce((all, each, i) => all + each * of(i), 0);
  const [s, sx, sy] = [sum(() => 1), sum((i) => x[i]!), sum((i) => hz[i]!)];
  const [sxx, sxy] = [sum((i) => x[i]! ** 2), sum((i) => x[i]! * hz[i]!)];
  const delta = s * sxx - sx ** 2;
  const value = (s * sxy - sx * sy) / delta;
  const at = (sxx * sy - sx * sxy) / delta;
  const chi2 = sum((i) => (hz[i]! - at - value * x[i]!) ** 2);
  return { value, sigma: Math.sqrt((s / delta) * Math.max(1, chi2 / (x.length - 2))) };
}

describe('where a target stands', () => {
  const conditions = { stage: 'braced', support: inMould } as const;
  const page = (settings = {}) => show(<Course record={record} conditions={conditions} />, settings);

  test('now, wanted and what is left', () => {
    const shown = page();
    expectFigure(beside(shown, 'Now'), hz[2]!, sigmas[2]!, 'Hz');
    const wanted = figureIn(beside(shown, 'Wanted'));
    expect([wanted.value, wanted.halfWidth]).toEqual([target.frequencyHz, target.toleranceHz]);
    // The target is a wish and has no doubt of its own.
    expectFigure(beside(shown, 'Left'), target.frequencyHz - hz[2]!, sigmas[2]!, 'Hz');
  });

  test('what a gram and what a millimetre moved it are two figures, each with its own interval', () => {
    const shown = page();
    const [perGram, perMm] = [slope(grams), slope(mm)];
    expect(Math.abs(perGram.value - perMm.value)).toBeGreaterThan(1);
    expectFigure(beside(shown, 'A gram moved it'), perGram.value, perGram.sigma, 'Hz');
    expectFigure(beside(shown, '1\u00a0mm off moved it'), perMm.value, perMm.sigma, 'Hz');
  });

  test('where the next pass like the last leads, and how many are left', () => {
    const perGram = slope(grams);
    const move = { value: perGram.value * grams[2]!, sigma: perGram.sigma * grams[2]! };
    const [track] = tracks(record, 'braced', inMould);
    const words = verdictWords(courseToward(track!, removals(record), { ...record.targets[0]! }));
    const [passes, next] = [...words.matchAll(/\d[\d.]*\u00a0±\u00a0[\d.]+(\u00a0Hz)?/g)].map(([text]) => text);
    const away = hz[2]! - target.frequencyHz;
    expectFigure(
      passes!,
      -away / move.value,
      Math.abs(away / move.value) * Math.sqrt((sigmas[2]! / away) ** 2 + (move.sigma / move.value) ** 2),
      '',
    );
    expectFigure(next!, hz[2]! + move.value, Math.sqrt(sigmas[2]! ** 2 + move.sigma ** 2), 'Hz');
  });

  test.each([
    ['mm', 'g', 'mm', 'g', 1, 1],
    ['inch', 'oz', 'in', 'oz', 1 / 25.4, 16 / 453.59237],
  ] as const)('what each step took off, in %s and %s', (length, mass, lengthUnit, massUnit, perMm, perG) => {
    const rows = [...page({ length, mass }).querySelectorAll('tbody tr')].map((row) => ({
      off: row.querySelector('.hint')?.textContent ?? '',
      moved: row.querySelector('td')!.textContent!,
    }));
    expect(rows.map(({ off }) => off).at(-1)).toBe('');
    for (const [at, row] of rows.slice(0, 2).entries()) {
      const i = 2 - at;
      const [off, weight] = row.off.split(' · ').map(figureIn);
      expect([off!.unit, weight!.unit]).toEqual([lengthUnit, massUnit]);
      expect(Math.abs(off!.value - mm[i]! * perMm)).toBeLessThanOrEqual(off!.digit / 2);
      expect(Math.abs(weight!.value - grams[i]! * perG)).toBeLessThanOrEqual(weight!.digit / 2);
      const [, moved] = /Hz(.*)$/s.exec(row.moved)!;
      expectFigure(moved!, hz[i]! - hz[i - 1]!, Math.sqrt(sigmas[i]! ** 2 + sigmas[i - 1]! ** 2), 'Hz');
    }
  });
});
