import { afterEach, expect, test } from 'vitest';
import { localDay } from '../../src/quantity/day.ts';

const zone = process.env['TZ'];
afterEach(() => {
  if (zone === undefined) delete process.env['TZ'];
  else process.env['TZ'] = zone;
});

// Offsets from UTC in November, from memory: Los Angeles -8 h, Tokyo +9 h.
test.each([
  ['America/Los_Angeles', '2026-11-30T01:30:00Z', '2026-11-29'],
  ['America/Los_Angeles', '2026-11-29T16:00:00Z', '2026-11-29'],
  ['Asia/Tokyo', '2026-11-29T16:00:00Z', '2026-11-30'],
  ['UTC', '2026-01-02T23:59:59Z', '2026-01-02'],
])('in %s %s is of %s', (place, iso, day) => {
  process.env['TZ'] = place;
  expect(localDay(iso)).toBe(day);
});
