import fc from 'fast-check';
import { expect, test } from 'vitest';
import { tickDecimals, ticksWithin } from '../../src/views/parts/ticks.ts';

test('ticks are round, even, within the interval, and no more than asked for', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -1e4, max: 1e4, noNaN: true }),
      fc.double({ min: 1e-3, max: 1e4, noNaN: true }),
      fc.integer({ min: 2, max: 12 }),
      (from, span, most) => {
        const to = from + span;
        const ticks = ticksWithin(from, to, most);
        expect(ticks.length).toBeLessThanOrEqual(most);
        for (const tick of ticks) {
          expect(tick).toBeGreaterThanOrEqual(from - 1e-6 * span);
          expect(tick).toBeLessThanOrEqual(to + 1e-6 * span);
        }
        if (ticks.length < 2) return;
        const step = ticks[1]! - ticks[0]!;
        const mantissa = step / 10 ** Math.floor(Math.log10(step) + 1e-3);
        expect([1, 2, 5].some((round) => Math.abs(mantissa - round) < 1e-3)).toBe(true);
        // Written with the decimals given, neighbours differ.
        expect(new Set(ticks.map((tick) => tick.toFixed(tickDecimals(ticks)))).size).toBe(ticks.length);
      },
    ),
  );
});

test('an axis that is usual', () => {
  expect(ticksWithin(40, 800, 11)).toEqual([100, 200, 300, 400, 500, 600, 700, 800]);
  expect(() => ticksWithin(5, 5, 4)).toThrow('need to > from');
});
