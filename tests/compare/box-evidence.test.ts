// Which peaks of a round are candidates, what each is called, and what is handed on, by rounds with peaks of our choosing.
import { expect, test } from 'vitest';
import { boxRounds, partRounds, stateRounds } from '../../src/compare/box-evidence.ts';
import { type BoxState, boxSpots, supportOf } from '../../src/compare/box-state.ts';
import type { BoxPart, InstrumentRecord, Round, StoredMode } from '../../src/record/record.ts';
import { recordOf, roundOf } from '../record/small-record.ts';

type Heard = readonly [hz: number, levelDb: number];
const mode = ([value, levelDb]: Heard): StoredMode => ({
  frequencyHz: { value, sigma: 0.2 },
  q: { value: 0.2 * value, sigma: 1 },
  levelDb,
  amplitudes: [],
  resolution: 'single',
});
function heardIn(state: BoxState, heard: readonly Heard[], id: string = state): Round {
  const fit = { method: 'test', modes: heard.map(mode), used: [], setAside: [], scatterKnown: true };
  const support = supportOf(state, { hold: 'box-open', bridge: 'glued', strung: false }, 12);
  return { ...roundOf(id, []), support, spot: boxSpots[state], state: 'closed', fit };
}
const boxOf = (rounds: readonly Round[], box: BoxPart = {}): InstrumentRecord => ({ ...recordOf('box', rounds), box });
const read = (record: InstrumentRecord) => stateRounds(record, record.steps[0]!);
const labelled = (record: InstrumentRecord, state: BoxState = 'open') =>
  read(record)
    .find((round) => round.state === state)!
    .peaks.map(({ frequencyHz, label }) => [frequencyHz.value, label]);
const said = (roundId: string, frequencyHz: number, part: 'air' | 'top' | 'back' | 'other') => ({
  id: `${roundId} ${frequencyHz}`,
  roundId,
  frequencyHz,
  part,
});
const three: readonly Heard[] = [
  [100, -20],
  [180, -10],
  [220, -15],
];

test('a record that says nothing of its box is read as any other', () => {
  const { box: _, ...record } = boxOf([heardIn('open', three)]);
  expect(labelled(record).map(([, label]) => label)).toEqual(['air', 'top', 'back']);
});

test('the strongest three from 60 to 380 Hz are called in the order of their frequencies, whatever order they came in', () => {
  const heard: readonly Heard[] = [
    [300, -40],
    [380.5, -1],
    [220, -15],
    [59.5, -1],
    [180, -10],
    [140, -41],
    [100, -20],
  ];
  expect(labelled(boxOf([heardIn('open', heard)]))).toEqual([
    [100, 'air'],
    [140, 'other'],
    [180, 'top'],
    [220, 'back'],
    [300, 'other'],
  ]);
  const edges: readonly Heard[] = [
    [60, -10],
    [380, -10],
  ];
  expect(labelled(boxOf([heardIn('open', edges)]))).toEqual([
    [60, 'air'],
    [380, 'top'],
  ]);
});

test('a stopped hole shows no air, a held back no back, and a back that never answers is looked for nowhere', () => {
  const rounds = [heardIn('blocked', three), heardIn('back-damped', three), heardIn('mass', three)];
  const called = (box: BoxPart, state: BoxState) => labelled(boxOf(rounds, box), state).map(([, label]) => label);
  // Two parts for three peaks: the weakest, at 100 Hz, is none.
  expect(called({}, 'blocked')).toEqual(['other', 'top', 'back']);
  expect(called({}, 'back-damped')).toEqual(['other', 'air', 'top']);
  expect(called({}, 'mass')).toEqual(['air', 'top', 'back']);
  expect(called({ backAnswers: true }, 'mass')).toEqual(['air', 'top', 'back']);
  expect(called({ backAnswers: false }, 'mass')).toEqual(['other', 'air', 'top']);
  expect(called({ backAnswers: false }, 'blocked')).toEqual(['other', 'top', 'other']);
});

test('a word counts in its own round, for a peak within a thousandth of it', () => {
  const rounds = [heardIn('open', three), heardIn('mass', three)];
  const peaks = [said('open', 180.17, 'back'), said('mass', 220.3, 'top')];
  expect(labelled(boxOf(rounds, { peaks }))).toEqual([
    [100, 'air'],
    [180, 'back'],
    [220, 'top'],
  ]);
  // 220.3 lies 1.4 thousandths away, and the order is that of the open box.
  expect(labelled(boxOf(rounds, { peaks }), 'mass')).toEqual([
    [100, 'air'],
    [180, 'back'],
    [220, 'top'],
  ]);
  expect(labelled(boxOf(rounds, { peaks: [said('open', 179.83, 'other')] }))).toEqual([
    [100, 'air'],
    [180, 'other'],
    [220, 'top'],
  ]);
});

test('a round shows each state once, by its newest, in the order in which these were taken', () => {
  const rounds = [
    heardIn('open', three, 'a'),
    heardIn('blocked', three, 'b'),
    { ...roundOf('plate', []), state: 'closed' as const, fit: heardIn('open', three).fit! },
    heardIn('open', three, 'c'),
  ];
  expect(read(boxOf(rounds)).map(({ state, round }) => [state, round.id])).toEqual([
    ['blocked', 'b'],
    ['open', 'c'],
  ]);
});

test('a peak keeps its Q and level, and an exact one is given a hundred thousandth', () => {
  const exact = heardIn('open', three);
  const modes = exact.fit!.modes.map((one) => ({ ...one, frequencyHz: { value: one.frequencyHz.value, sigma: 0 } }));
  const [air] = read(boxOf([{ ...exact, fit: { ...exact.fit!, modes } }]))[0]!.peaks;
  expect(air).toEqual({
    frequencyHz: { value: 100, sigma: 0.001 },
    q: { value: 20, sigma: 1 },
    levelDb: -20,
    label: 'air',
    isConfirmed: false,
  });
  expect(read(boxOf([exact]))[0]!.peaks[0]!.frequencyHz).toEqual({ value: 100, sigma: 0.2 });
});

test('the inverse is told what was done to hole, back and masses, with a scale’s 50 mg, and the peaks of the parts', () => {
  const four: readonly Heard[] = [...three, [300, -50]];
  const states = ['open', 'blocked', 'back-damped', 'mass', 'tap-on-back', 'mass-on-back'] as const;
  const rounds = boxRounds(read(boxOf(states.map((state) => heardIn(state, four)))));
  const lump = { value: 0.012, sigma: 5e-5 };
  expect(rounds.map(({ peaksHz: _, ...done }) => done)).toEqual([
    { hole: 'open', back: 'free' },
    { hole: 'blocked', back: 'free' },
    { hole: 'open', back: 'held' },
    { hole: 'open', back: 'free', addedAtBridgeKg: lump },
    { hole: 'open', back: 'free' },
    { hole: 'open', back: 'free', addedAtBackKg: lump },
  ]);
  const hz = (value: number) => ({ value, sigma: 0.2 });
  expect(rounds[0]!.peaksHz).toEqual({ air: hz(100), top: hz(180), back: hz(220) });
  expect(rounds[1]!.peaksHz).toEqual({ top: hz(180), back: hz(220) });
  expect(rounds[2]!.peaksHz).toEqual({ air: hz(180), top: hz(220) });
});

test('the evidence is the open box’s peaks, named where the maker named them, and what each doing showed', () => {
  const four: readonly Heard[] = [...three, [300, -50]];
  const states = ['open', 'blocked', 'back-damped', 'mass', 'tap-on-back', 'mass-on-back'] as const;
  const rounds = states.map((state) => heardIn(state, four));
  const { base, done } = partRounds(read(boxOf(rounds, { peaks: [said('open', 180, 'top')] })))!;
  const peak = (value: number, levelDb: number) => ({
    frequencyHz: { value, sigma: 0.2 },
    q: { value: 0.2 * value, sigma: 1 },
    levelDb,
  });
  expect(base).toEqual([peak(100, -20), { ...peak(180, -10), label: 'top' }, peak(220, -15)]);
  expect(done.map(({ doing }) => doing)).toEqual(['hole-blocked', 'back-damped', 'mass-at-bridge', 'tapped-on-back']);
  expect(done[0]!.peaks).toEqual([peak(180, -10), peak(220, -15)]);
  expect(done[2]!.peaks).toEqual([peak(100, -20), peak(180, -10), peak(220, -15)]);
});

test('without the box as it is, or with one peak of it, there is nothing to tell apart', () => {
  expect(partRounds(read(boxOf([heardIn('blocked', three)])))).toBeUndefined();
  expect(partRounds(read(boxOf([heardIn('open', three.slice(0, 1))])))).toBeUndefined();
  expect(partRounds(read(boxOf([heardIn('open', three.slice(0, 2))])))?.base).toHaveLength(2);
});
