import { describe, expect, test } from 'vitest';
import { controlChart } from '../../src/compare/control-chart.ts';

describe('the trust check', () => {
  // Moving ranges 0.3, 0.2, 0.4, 0.1: mean 0.25, sigma 0.25 / 1.128 = 0.22163 (d2 of two values, ISO 7870-2).
  const history = [412.9, 413.2, 413.0, 412.6, 412.7];

  test('mean and sigma are those of the individuals chart', () => {
    const chart = controlChart([...history, 412.9], 0);
    expect(chart.meanHz).toBeCloseTo(412.88, 9);
    expect(chart.sigmaHz).toBeCloseTo(0.25 / 1.128, 9);
  });

  test('a reading inside two sigma is a go', () => {
    expect(controlChart([...history, 413.2], 0).verdict).toBe('go');
  });

  test('a reading beyond three sigma asks to look again', () => {
    expect(controlChart([...history, 413.6], 0).verdict).toBe('look-again');
  });

  test('two readings in a row beyond two sigma on the same side ask to look again, on opposite sides they do not', () => {
    const wide = [412.9, 413.2, 413.0, 412.6, 412.7, 413.0, 412.8, 412.9, 413.0];
    const { meanHz, sigmaHz } = controlChart([...wide, 413], 0);
    const high = meanHz + 2.6 * sigmaHz;
    expect(controlChart([...wide, high, high + 0.1], 0).verdict).toBe('look-again');
    expect(controlChart([...wide, high, meanHz], 0).verdict).toBe('go');
  });

  test('with fewer than four earlier checks nothing is judged', () => {
    expect(controlChart([412.9, 413.2, 413.0, 420], 0).verdict).toBe('too-few');
    expect(controlChart([412.9], 0.2)).toEqual({ meanHz: 412.9, sigmaHz: 0.2, latestSigmas: 0, verdict: 'too-few' });
  });

  test('identical readings do not make the chart blind to the uncertainty of one reading', () => {
    expect(controlChart([412, 412, 412, 412, 412, 412.3], 0.2).verdict).toBe('go');
  });

  test('no check at all is a mistake of the caller', () => {
    expect(() => controlChart([], 0)).toThrow('controlChart: 0 checks, need at least 1');
  });
});
