import { describe, expect, test } from 'vitest';
import { TrustOfDay } from '../../src/app/trust-of-day.ts';
import { type InstrumentRecord, newRecord } from '../../src/record/record.ts';
import { roundOf, stepOf } from '../record/small-record.ts';

/** A stick read at these moments, each time at the frequency given. */
function stick(id: string, checks: readonly (readonly [atIso: string, frequencyHz: number])[]): InstrumentRecord {
  const mode = (value: number) => ({
    frequencyHz: { value, sigma: 0.1 },
    q: { value: 40, sigma: 1 },
    levelDb: -20,
    amplitudes: [],
    resolution: 'single' as const,
  });
  const read = (value: number) => ({
    method: 'test',
    modes: [mode(value)],
    used: [],
    setAside: [],
    scatterKnown: true,
  });
  return {
    ...newRecord({ id, createdAtIso: '2026-11-01T07:00:00.000Z', name: id, kind: 'reference-stick' }),
    steps: checks.map(([atIso, frequencyHz], i) => ({
      ...stepOf(`${id}-s${i}`, {
        rounds: [roundOf(`r${i}`, ['t'], { state: 'closed', fit: read(frequencyHz), atIso })],
      }),
      atIso,
    })),
  };
}
/** Five quiet days before, by which the sixth is judged. */
const before = [1, 2, 3, 4, 5].map((day) => [`2026-11-0${day}T08:00:00.000Z`, 400 + 0.1 * (day % 2)] as const);
const today = (hour: string, frequencyHz = 400) => [`2026-11-25T${hour}:00:00.000Z`, frequencyHz] as const;
const noon = '2026-11-25T12:00:00.000Z';

describe('the day’s trust check', () => {
  test('is the latest of that day, of whichever stick, in whatever order they are looked at', () => {
    const early = stick('early', [...before, today('07')]);
    const late = stick('late', [...before, today('09')]);
    for (const order of [
      [early, late],
      [late, early],
    ]) {
      const trust = new TrustOfDay();
      for (const each of order) trust.note(each);
      expect(trust.on(noon)).toEqual({ recordId: 'late', stepId: 'late-s5', verdict: 'go' });
      expect(trust.on('2026-11-26T12:00:00.000Z')).toBeUndefined();
      expect(trust.on('2026-11-05T12:00:00.000Z')).toBeUndefined();
    }
  });

  test('of a stick that was read again says what it says now', () => {
    const trust = new TrustOfDay();
    trust.note(stick('stick', [...before, today('07')]));
    expect(trust.on(noon)?.verdict).toBe('go');
    // 25 % off: no stick changes so, the machine must.
    trust.note(stick('stick', [...before, today('07', 300)]));
    expect(trust.on(noon)?.verdict).not.toBe('go');
  });

  test('is none of an instrument, of a stick in the bin, or of one that was never read', () => {
    const trust = new TrustOfDay();
    const good = stick('stick', [...before, today('07')]);
    trust.note({ ...good, kind: 'instrument' });
    trust.note({ ...good, deletedAtIso: '2026-11-25T08:00:00.000Z' });
    trust.note({ ...good, steps: [] });
    trust.note({ ...good, steps: good.steps.map((step) => ({ ...step, rounds: [] })) });
    expect(trust.on(noon)).toBeUndefined();
  });
});
