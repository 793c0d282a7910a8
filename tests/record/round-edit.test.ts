import { describe, expect, test } from 'vitest';
import { photoIds, tapIds } from '../../src/record/archive.ts';
import { applyChanges } from '../../src/record/change.ts';
import { appendStep, freshStep } from '../../src/record/edit.ts';
import { newRecord, type Round } from '../../src/record/record.ts';
import {
  changeRound,
  homeOf,
  keptRound,
  moveRound,
  removeRound,
  roundChanges,
  roundsOf,
} from '../../src/record/round-edit.ts';
import { freshPiece, putPiece, removePiece, stampGluing } from '../../src/record/wood-edit.ts';

const atIso = '2026-11-25T08:00:00.000Z';
const round: Round = {
  id: 'r1',
  atIso,
  support: { hold: 'at-node', bridge: 'off', strung: false },
  spot: 'edge',
  source: '',
  state: 'open',
  taps: [],
};
const base = putPiece(
  appendStep(newRecord({ id: 'rec', createdAtIso: atIso, name: 'One' }), freshStep('s1', atIso, undefined)),
  { ...freshPiece('p1', 'top', 'A top', ''), photoId: 'photo1' },
);

test.each([
  ['a step', { stepId: 's1' }, { pieceId: 'p1' }, ['steps', '#s1', 'rounds', '#r1']],
  ['a piece', { pieceId: 'p1' }, { stepId: 's1' }, ['pieces', '#p1', 'rounds', '#r1']],
] as const)('a round of %s is found, changed and removed there and nowhere else', (_what, home, elsewhere, path) => {
  const place = { ...home, roundId: 'r1' };
  const tap = { id: 't1', atIso, sampleRateHz: 48_000, aboveRoomDb: 40, hold: 0 };
  const where = homeOf(base, home)!;
  const begun = keptRound(base, place, where, round);
  const grown = keptRound(begun, place, where, { ...round, taps: [tap] });
  expect(roundsOf(grown, home)).toEqual([{ ...round, taps: [tap] }]);
  expect(roundsOf(grown, elsewhere)).toEqual([]);
  const came = roundChanges(place, undefined, { ...round, taps: [tap] }, 0);
  expect(came.map((change) => change.path)).toEqual([path]);
  expect(applyChanges(base, came)).toEqual({ kind: 'changed', document: grown });
  // what an archive carries along
  expect(tapIds(grown)).toEqual(['t1']);
  expect(photoIds(grown)).toEqual(['photo1']);
  expect(
    roundsOf(
      changeRound(grown, place, (r) => ({ ...r, state: 'closed' })),
      home,
    )[0]?.state,
  ).toBe('closed');
  expect(removeRound(begun, place)).toEqual(base);
});

test('putting a piece twice changes it in its place, and a gluing stamp stays with its step', () => {
  const twice = putPiece(putPiece(base, freshPiece('p2', 'back', 'B', '')), freshPiece('p1', 'side', 'C', ''));
  expect(twice.pieces?.map(({ id, kind }) => `${id} ${kind}`)).toEqual(['p1 side', 'p2 back']);
  expect(removePiece(twice, 'p1').pieces?.map(({ id }) => id)).toEqual(['p2']);
  expect(stampGluing(base, 's1', { humidityPercent: 45 }).steps[0]?.gluing).toEqual({ humidityPercent: 45 });
});

describe('a round is kept whatever was done to the record meanwhile', () => {
  const tap = (id: string) => ({ id, atIso, sampleRateHz: 48_000, aboveRoomDb: 40, hold: 0 });
  const place = { stepId: 's1', roundId: 'r1' };
  const step = base.steps[0]!;
  const tapped = { ...round, taps: [tap('t1'), tap('t2')] };

  test('its step was deleted: the step comes back with it', () => {
    expect(keptRound({ ...base, steps: [] }, place, step, tapped).steps).toEqual([{ ...step, rounds: [tapped] }]);
  });

  test('its piece of wood was deleted: the piece comes back with it', () => {
    const piece = base.pieces![0]!;
    const kept = keptRound(removePiece(base, 'p1'), { pieceId: 'p1', roundId: 'r1' }, piece, tapped);
    expect(kept.pieces).toEqual([{ ...piece, rounds: [tapped] }]);
  });

  test('the round was deleted: it comes back; another tab added a tap: that tap stays', () => {
    expect(roundsOf(keptRound(base, place, step, tapped), place)).toEqual([tapped]);
    const theirs = keptRound(base, place, step, { ...round, taps: [tap('t1'), tap('theirs')] });
    const taps = roundsOf(keptRound(theirs, place, step, tapped), place)[0]?.taps.map(({ id }) => id);
    expect(taps).toEqual(['theirs', 't1', 't2']);
  });

  test('done twice it changes nothing more', () => {
    const once = keptRound(base, place, step, tapped);
    expect(keptRound(once, place, step, tapped)).toEqual(once);
  });
});

describe('a round given to another step', () => {
  const steps = ['a', 'b'].map((id) => freshStep(id, '2026-11-25T08:00:00.000Z', undefined));
  const of = (id: string, atIso: string) => ({ ...round, id, atIso });
  const rounds = [of('early', '2026-11-25T08:00:00.000Z'), of('late', '2026-11-25T10:00:00.000Z')];
  const moved = of('moved', '2026-11-25T09:00:00.000Z');
  const record = {
    ...newRecord({ id: 'r', createdAtIso: '2026-11-25T08:00:00.000Z', name: 'n' }),
    steps: [
      { ...steps[0]!, rounds: [moved] },
      { ...steps[1]!, rounds },
    ],
  };

  test('stands there among the others by time, as it was', () => {
    const after = moveRound(record, { stepId: 'a', roundId: 'moved' }, 'b');
    expect(after.steps[0]!.rounds).toEqual([]);
    expect(after.steps[1]!.rounds).toEqual([rounds[0], moved, rounds[1]]);
  });

  test('of a step or to a step that is not there stays where it is', () => {
    expect(moveRound(record, { stepId: 'a', roundId: 'moved' }, 'gone')).toBe(record);
    expect(moveRound(record, { stepId: 'a', roundId: 'gone' }, 'b')).toBe(record);
  });
});
