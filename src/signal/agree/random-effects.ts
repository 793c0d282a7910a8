// Means of readings that scatter more than each of them says.
import { HALF_WIDTH_95 } from '../../quantity/estimate.ts';
import { studentHalfWidth95 } from '../../quantity/quantile.ts';

/** A value and its variance, of one tap or one hold. */
export interface Reading {
  readonly value: number;
  readonly variance: number;
}

/** Factor on a variance from few readings, so that 1.96 standard deviations hold 95 % of Student's t. */
export const studentWidening = (degrees: number): number => (studentHalfWidth95(degrees) / HALF_WIDTH_95) ** 2;

/** Mean of readings weighed by 1 / (own variance + scatter), and its variance. */
export function weightedMean(readings: readonly Reading[], scatter: number): Reading {
  let sum = 0;
  let weight = 0;
  for (const { value, variance } of readings) {
    sum += value / (variance + scatter);
    weight += 1 / (variance + scatter);
  }
  return { value: sum / weight, variance: 1 / weight };
}

/**
 * Mean of at least two readings that scatter beyond their own variances (random effects), the variance widened for the few
 * readings it is known from.
 * Source: DerSimonian & Laird, Controlled Clinical Trials 7 (1986) 177.
 */
export function scatteringMean(readings: readonly Reading[]): Reading {
  const plain = weightedMean(readings, 0);
  const weights = readings.map(({ variance }) => 1 / variance);
  const sum = weights.reduce((a, b) => a + b, 0);
  const squares = weights.reduce((a, b) => a + b * b, 0);
  const q = readings.reduce((a, { value }, i) => a + weights[i]! * (value - plain.value) ** 2, 0);
  const degrees = readings.length - 1;
  const scatter = Math.max(0, (q - degrees) / (sum - squares / sum));
  const { value, variance } = weightedMean(readings, scatter);
  return { value, variance: variance * studentWidening(degrees) };
}
