import { describe, expect, it } from 'vitest';
import { healthOf } from '../../src/record/health.ts';
import { type InstrumentRecord, newRecord, type Round } from '../../src/record/record.ts';
import { isRoving, leaveTapOut, moveTap, roundOfModes, rovingRounds, tapsAt } from '../../src/record/roving-edit.ts';

const AT = '2026-01-02T03:04:05.000Z';
const mode = {
  frequencyHz: { value: 100, sigma: 0.1 },
  q: { value: 40, sigma: 1 },
  levelDb: -20,
  amplitudes: [],
  resolution: 'single',
} as const;
const ordinary: Round = {
  id: 'ordinary',
  atIso: AT,
  support: { hold: 'in-mould', bridge: 'off', strung: false },
  spot: 'waist',
  source: '',
  state: 'closed',
  taps: [],
  fit: { method: 'm', modes: [mode], used: [], setAside: [], scatterKnown: true },
};
const tap = (id: string, rovingSpot: number) => ({
  id,
  atIso: AT,
  sampleRateHz: 48_000,
  aboveRoomDb: 30,
  hold: 0,
  rovingSpot,
});
const { fit: _fit, ...unread } = ordinary;
const roving: Round = {
  ...unread,
  id: 'roving',
  roving: { spots: [{ xMm: 1, yMm: 2 }, {}] },
  taps: [tap('a', 0), tap('b', 1)],
};
const record: InstrumentRecord = {
  ...newRecord({ id: 'r', createdAtIso: AT, name: 'Top' }),
  steps: [
    { id: 's', atIso: AT, stage: 'braced', done: '', cuts: [], climate: {}, heard: '', rounds: [ordinary, roving] },
  ],
};
const place = { stepId: 's', roundId: 'roving' };
const rovingIn = (changed: InstrumentRecord) => changed.steps[0]!.rounds[1]!;

describe('a roving round', () => {
  it('is told from an ordinary one, which tells its modes', () => {
    const step = record.steps[0]!;
    expect(isRoving(ordinary)).toBe(false);
    expect(rovingRounds(step)).toEqual([roving]);
    expect(roundOfModes(step, () => true)).toBe(ordinary);
    expect(roundOfModes(step, () => false)).toBeUndefined();
  });

  it('is not concluded from while it goes on, nor once it was set aside', () => {
    for (const state of ['open', 'set-aside'] as const)
      expect(rovingRounds({ ...record.steps[0]!, rounds: [{ ...roving, state }] })).toEqual([]);
  });

  it('has a tap moved to another spot', () => {
    const changed = moveTap(record, place, 'a', 1);
    expect(tapsAt(rovingIn(changed), 0)).toEqual([]);
    expect(tapsAt(rovingIn(changed), 1).map(({ id }) => id)).toEqual(['a', 'b']);
  });

  it('has a tap left out and taken back in', () => {
    const out = leaveTapOut(record, place, 'a', true);
    expect(tapsAt(rovingIn(out), 0)).toEqual([]);
    expect(rovingIn(out).taps).toHaveLength(2);
    expect(leaveTapOut(out, place, 'a', false)).toEqual(record);
  });

  it('does not wait to be read as an ordinary round would', () => {
    const wanted = { tapsPerHold: 3, holdsPerRound: 3, nowIso: AT };
    const here = { taps: new Set(['a', 'b']), photos: new Set<string>() };
    expect(healthOf(record, here, wanted).unread).toEqual([]);
  });
});
