import { describe, expect, test } from 'vitest';
import { controlChart } from '../../src/compare/control-chart.ts';
import { randomFrom } from '../../src/demo/random.ts';

const read = (values: readonly number[], sigma = 0.05) => values.map((value) => ({ value, sigma }));

describe('the trust check', () => {
  // Differences of all pairs of 412.6, 412.7, 412.9, 413.0, 413.2, sorted: 0.1, 0.1, 0.2, 0.2, 0.3, 0.3, 0.3, 0.4, 0.5,
  // 0.6. Their median is 0.3, and 0.3 / (0.6745 sqrt 2) = 0.31450; about a median of five, times sqrt(1 + pi / 10) = 1.14637.
  const history = [412.9, 413.2, 413.0, 412.6, 412.7];

  test('centre and spread are the medians of the good days', () => {
    const chart = controlChart(read([...history, 412.9]));
    expect(chart.usualHz).toBeCloseTo(412.9, 9);
    expect(chart.sigmaHz).toBeCloseTo(0.36053, 4);
    expect(chart.goodDays).toBe(5);
  });

  test('a reading inside two sigma is a go, one beyond three asks to look again, on either side', () => {
    const verdict = (hz: number) => controlChart(read([...history, hz])).verdict;
    expect([412.3, 413.5].map(verdict)).toEqual(['go', 'go']);
    expect([411.8, 414].map(verdict)).toEqual(['look-again', 'look-again']);
  });

  test('two readings in a row beyond two sigma on the same side ask to look again, on opposite sides they do not', () => {
    const wide = [412.9, 413.2, 413.0, 412.6, 412.7, 413.0, 412.8, 412.9, 413.0];
    const { usualHz, sigmaHz } = controlChart(read([...wide, 413]));
    const high = usualHz + 2.6 * sigmaHz;
    expect(controlChart(read([...wide, high])).verdict).toBe('go');
    expect(controlChart(read([...wide, high, high + 0.02])).verdict).toBe('look-again');
    expect(controlChart(read([...wide, high, usualHz - 2.6 * sigmaHz])).verdict).toBe('go');
  });

  test('with fewer than four good days nothing is judged', () => {
    expect(controlChart(read([412.9, 413.2, 413.0, 420])).verdict).toBe('too-few');
    expect(controlChart(read([412.9]))).toEqual({ usualHz: 412.9, sigmaHz: 0, goodDays: 0, verdict: 'too-few' });
  });

  test('days that read alike do not make the chart blind to what one reading is worth', () => {
    expect(controlChart(read([412, 412, 412, 412, 412, 412.3], 0.2)).verdict).toBe('go');
  });

  test('a reading that is wide says nothing: neither of today nor of any later day', () => {
    const wide = { value: 440, sigma: 41 };
    expect(controlChart([...read(history), wide]).verdict).toBe('not-read');
    expect(controlChart([wide]).verdict).toBe('not-read');
    expect(controlChart([...read(history), { value: 440, sigma: Number.NaN }]).verdict).toBe('not-read');
    // One that is narrow by itself, and wide beside what the good days differ by.
    expect(controlChart([...read(history), { value: 413, sigma: 0.8 }]).verdict).toBe('not-read');
    const after = controlChart([...read(history), wide, ...read([414.5])]);
    expect(after).toEqual(controlChart(read([...history, 414.5])));
    expect(after.verdict).toBe('look-again');
  });

  test('days that failed do not become what is usual, however often they come', () => {
    const days = [...history];
    for (let day = 0; day < 20; day++) {
      days.push(415);
      expect(controlChart(read(days)).verdict).toBe('look-again');
    }
    expect(controlChart(read([...days, 412.9])).verdict).toBe('go');
  });

  test('one day that was off before there were enough to judge by does not blind it', () => {
    expect(controlChart(read([412.9, 418, 413.0, 412.6, 412.7, 412.8, 413.1, 416])).verdict).toBe('look-again');
  });

  test('good days are called so: at most one alarm in twenty from five good days, one in fifty from twenty', () => {
    const alarms = (days: number) => {
      let count = 0;
      for (let seed = 0; seed < 2000; seed++) {
        const chance = randomFrom(90_000 + seed);
        const values = Array.from({ length: days + 1 }, () => 412 + 0.3 * chance.normal());
        if (controlChart(read(values, 0.15)).verdict === 'look-again') count++;
      }
      return count / 2000;
    };
    expect(alarms(5)).toBeLessThan(0.05);
    expect(alarms(20)).toBeLessThan(0.02);
  });

  test('no check at all is a mistake of the caller', () => {
    expect(() => controlChart([])).toThrow('controlChart: 0 checks, need at least 1');
  });

  test('one good day is known as well as its reading; two by how they differ', () => {
    // The scatter of a median of n about the middle adds pi / 2n of the variance.
    const one = controlChart(read([412, 413], 0.05));
    expect(one).toEqual({ usualHz: 412, sigmaHz: 0.05 * Math.sqrt(1 + Math.PI / 2), goodDays: 1, verdict: 'too-few' });
    const two = controlChart(read([412, 413, 412], 0.05));
    expect(two.usualHz).toBe(412.5);
    // One Hz apart: 1 / (0.6745 sqrt 2).
    expect(two.sigmaHz).toBeCloseTo((1 / (0.6745 * Math.SQRT2)) * Math.sqrt(1 + Math.PI / 4), 3);
    // Days that read alike: the sigma of the middle one of 0.01, 0.05 and 0.2.
    const alike = [0.05, 0.2, 0.01].map((sigma) => ({ value: 412, sigma }));
    expect(controlChart([...alike, ...read([412])]).sigmaHz).toBeCloseTo(0.05 * Math.sqrt(1 + Math.PI / 6), 12);
  });

  test('four good days are enough to judge by', () => {
    const days = [412, 412.1, 411.9, 412.05];
    expect(controlChart(read([...days, 412])).verdict).toBe('go');
    expect(controlChart(read([...days, 420])).verdict).toBe('look-again');
    expect(controlChart(read([...days.slice(1), 420])).verdict).toBe('too-few');
  });

  test('what says nothing of the day: wider than 0.3 % of the frequency, or than two spreads of the good days', () => {
    const today = (sigma: number) => controlChart([...read(history), { value: 412.9, sigma }]).verdict;
    // Two spreads of this history are 0.72107 Hz; 0.3 % is 1.2387 Hz.
    expect([0.72, 0.722, 1.3].map(today)).toEqual(['go', 'not-read', 'not-read']);
    const first = (sigma: number) => controlChart([{ value: 400, sigma }]).verdict;
    expect([1.19, 1.2, 1.21].map(first)).toEqual(['too-few', 'too-few', 'not-read']);
  });

  test('a day between two and three sigma is a go, and remembered; one that was not read is not', () => {
    const days = [...history, ...history, ...history, ...history];
    const { usualHz, sigmaHz } = controlChart(read([...days, 412.9]));
    const low = (times: number) => usualHz - times * sigmaHz;
    const verdict = (...more: readonly number[]) => controlChart(read([...days, ...more])).verdict;
    expect([1.9, 2.1, 2.9].map((times) => verdict(low(times)))).toEqual(['go', 'go', 'go']);
    expect(verdict(low(3.1))).toBe('look-again');
    // The first of two becomes a good day itself: the spread hardly grows.
    expect(verdict(low(2.5), low(2.3))).toBe('look-again');
    expect(verdict(low(2.5), usualHz, low(2.3))).toBe('go');
    const unread = { value: 412.9, sigma: 40 };
    const between = [...read([...days, low(2.5)]), unread, ...read([low(2.9)])];
    expect(controlChart(between).verdict).toBe('look-again');
    // A day beyond three counts as the first of two as well.
    expect(verdict(low(4), low(2.5))).toBe('look-again');
  });
});
