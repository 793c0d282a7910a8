import { describe, expect, test } from 'vitest';
import { moveSince, type SinceWhen } from '../../src/compare/last-pass.ts';
import { inMould, story } from './story.ts';

const series = { stage: 'braced', support: inMould } as const;
const day = (iso: string) => iso.slice(0, 10);

/** Two days: the last three steps are of the second; the step between did not hear the second mode. */
const told = story([
  { modesHz: [200, 300], humidityPercent: 45 },
  { modesHz: [196, 297], massOffG: 1, humidityPercent: 45 },
  { modesHz: [193], massOffG: 0.5, humidityPercent: 45 },
  { modesHz: [190, 291], massOffG: 0.25, humidityPercent: 45 },
]);
const record = {
  ...told,
  steps: told.steps.map((step, i) => ({ ...step, atIso: `2026-11-2${i === 0 ? 4 : 5}T0${i}:00:00.000Z` })),
};

describe('what happened since an earlier measurement', () => {
  test.each([
    ['last', 's2', 0.25, [-3, undefined]],
    ['morning', 's1', 0.75, [-6, -6]],
    ['start', 's0', 1.75, [-10, -9]],
  ] as const)('since the %s', (when: SinceWhen, from, offG, [first, second]) => {
    const since = moveSince(record, series, when, day)!;
    expect([since.from.id, since.to.id, since.massOffG]).toEqual([from, 's3', offG]);
    const moved = since.moves.map(({ move }) => move.hz.value);
    expect(moved[0]).toBeCloseTo(first, 9);
    // Between the last two it was not heard before: that is no move.
    if (second === undefined) expect(moved).toHaveLength(1);
    else expect(moved[1]).toBeCloseTo(second, 9);
    // Both readings of 0.1 Hz are in it.
    expect(since.moves[0]!.move.hz.sigma).toBeCloseTo(Math.hypot(0.1, 0.1), 9);
  });

  test('one measurement, or none of its series, or none earlier that day, is held against nothing', () => {
    expect(moveSince(story([{ modesHz: [200] }]), series, 'last', day)).toBeUndefined();
    expect(moveSince(record, { ...series, stage: 'closed' }, 'start', day)).toBeUndefined();
    const apart = { ...record, steps: [record.steps[0]!, record.steps[1]!] };
    expect(moveSince(apart, series, 'morning', day)).toBeUndefined();
  });
});

describe('a pass that was not entered', () => {
  const unexplained = (after: number, more: object = {}, before: object = {}) =>
    moveSince(
      story([
        { modesHz: [200], humidityPercent: 45, ...before },
        { modesHz: [after], humidityPercent: 45, ...more },
      ]),
      series,
      'last',
      day,
    )!.unexplained.length;

  test('is noticed by a mode that came down by more than holding explains', () => {
    expect(unexplained(197)).toBe(1);
    // 1.96 sqrt(2) 0.1 Hz is 0.28 Hz.
    expect(unexplained(199.8)).toBe(0);
    // Shaving lowers: what rose was not cut.
    expect(unexplained(203)).toBe(0);
  });

  test('is none where a cut is entered, or where the air explains the move', () => {
    expect(unexplained(197, { massOffG: 0.5 })).toBe(0);
    // From 30 to 60 %RH wood takes up about 5 % of water: a plate falls by several per cent (Wood Handbook, chapter 5).
    expect(unexplained(197, { humidityPercent: 60 }, { humidityPercent: 30 })).toBe(0);
    // Nobody noted the air: 1.5 % may be the weather, 4 % may not.
    expect(unexplained(197.5, { humidityPercent: undefined })).toBe(0);
    expect(unexplained(192, { humidityPercent: undefined })).toBe(1);
  });
});
