// Means of readings that scatter, by hand.
import { expect, test } from 'vitest';
import { scatteringMean, studentWidening, weightedMean } from '../../../src/signal/agree/random-effects.ts';

test('readings weigh by one over their variance and the scatter added to it', () => {
  const readings = [
    { value: 10, variance: 1 },
    { value: 13, variance: 4 },
  ];
  // (10 + 13 / 4) / 1.25, and 1 / 1.25; with 2 added: (10 / 3 + 13 / 6) / (1 / 3 + 1 / 6).
  expect(weightedMean(readings, 0)).toEqual({ value: 10.6, variance: 0.8 });
  expect(weightedMean(readings, 2).value).toBeCloseTo(11, 12);
  expect(weightedMean(readings, 2).variance).toBeCloseTo(2, 12);
});

test('a variance from few degrees of freedom is widened to Student’s interval', () => {
  // Half widths of the 95 % interval: 12.7062, 4.3027, 2.2281 for 1, 2, 10 degrees (any table of Student's t).
  for (const [degrees, t] of [
    [1, 12.7062],
    [2, 4.3027],
    [10, 2.2281],
  ] as const)
    expect(Math.sqrt(studentWidening(degrees)) * 1.959964).toBeCloseTo(t, 3);
});

test('the scatter is what the readings differ by beyond their own (DerSimonian and Laird 1986)', () => {
  // Weights 1, 1/4, 1/4: mean 1.5, Q = 7.875; scatter = (7.875 - 2) / (1.5 - 1.125 / 1.5).
  const scatter = (7.875 - 2) / 0.75;
  const [near, far] = [1 / (1 + scatter), 1 / (4 + scatter)];
  const mean = scatteringMean([
    { value: 0, variance: 1 },
    { value: 3, variance: 4 },
    { value: 6, variance: 4 },
  ]);
  expect(mean.value).toBeCloseTo((9 * far) / (near + 2 * far), 12);
  expect(mean.variance).toBeCloseTo(studentWidening(2) / (near + 2 * far), 12);
});

test('readings that differ by less than their own ± say of no scatter', () => {
  const mean = scatteringMean([
    { value: 10, variance: 1 },
    { value: 10.5, variance: 1 },
  ]);
  expect(mean.value).toBeCloseTo(10.25, 12);
  expect(mean.variance).toBeCloseTo(studentWidening(1) / 2, 12);
});
