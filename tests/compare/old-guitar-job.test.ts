// The list of a job on an old guitar, followed from the first photograph to the sheet.
import { describe, expect, test } from 'vitest';
import { nextThing } from '../../src/compare/next-thing.ts';
import { jobLines, mayBeOpened } from '../../src/compare/old-guitar-job.ts';
import { begun, changeStep } from '../../src/record/edit.ts';
import { changeRepair, keepAsOldTop, planJob, tickLine } from '../../src/record/job-edit.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { type InstrumentRecord, newRecord, type PlannedJob, type Round } from '../../src/record/record.ts';
import { withPhotos } from '../../src/record/step-photos.ts';
import { story } from './story.ts';

const atIso = '2026-11-25T08:00:00.000Z';
const start = (planned?: PlannedJob): InstrumentRecord =>
  begun(newRecord({ id: 'r', createdAtIso: atIso, name: 'n', begunWith: 'old-guitar', planned }), 'first');
const names = (record: InstrumentRecord) => jobLines(record).map(({ name }) => name);
const isDone = (record: InstrumentRecord, name: string) => jobLines(record).find((line) => line.name === name)!.isDone;

const tapped = story([{ modesHz: [100, 190] }]).steps[0]!.rounds[0]!;
const boxRounds = ['box-open', 'box-hole-blocked', 'box-back-damped'].map(
  (hold, i) =>
    ({
      ...tapped,
      id: `r${i}`,
      spot: 'bridge-centre',
      support: { hold, bridge: 'glued', strung: true },
    }) as Round,
);
const withRounds = (record: InstrumentRecord, stepId: string): InstrumentRecord =>
  changeStep(record, stepId, (step) => ({ ...step, rounds: boxRounds }));
const withStrings = (record: InstrumentRecord, read: object): InstrumentRecord => ({
  ...record,
  box: {
    ...record.box,
    strings: {
      ...{ setName: 'own', scaleMm: 640, tuning: 'E', saddleHeightMm: 11, breakAngleDeg: 20, neckAngleDeg: 1 },
      ...record.box?.strings,
      ...read,
    },
  },
});
const photo = (photoId: string) => ({ photoId, of: '' });

describe('what is planned', () => {
  test('decides which lines there are', () => {
    expect(names(start('new-top'))).toEqual(expect.arrayContaining(['strips', 'draw-new-top', 'string-up', 'heat']));
    expect(names(start('repair'))).toEqual(expect.arrayContaining(['heat', 'dust', 'copy', 'box-again']));
    expect(names(start('repair'))).not.toEqual(expect.arrayContaining(['strips']));
    for (const name of ['heat', 'strips', 'copy'] as const) expect(names(start('voicing'))).not.toContain(name);
    expect(names(start('voicing'))).toEqual(expect.arrayContaining(['photographs', 'tap-box', 'next-pass']));
  });

  test('is a new top where nobody was asked, and there is no list for any other piece', () => {
    expect(names(start())).toEqual(names(start('new-top')));
    const board = begun(newRecord({ id: 'b', createdAtIso: atIso, name: 'n', begunWith: 'board' }), 'first');
    expect(jobLines(board)).toEqual([]);
  });

  test('may change, and what was ticked stays ticked', () => {
    const changed = planJob(tickLine(start('repair'), 'dust', atIso), 'new-top');
    expect(isDone(changed, 'dust')).toBe(true);
    expect(names(changed)).toContain('strips');
  });
});

test('before it is opened, each line is done by what is entered, and the next is said', () => {
  let record = start('new-top');
  const doings: readonly ((r: InstrumentRecord) => InstrumentRecord)[] = [
    (r) => changeStep(r, 'first', (step) => withPhotos(step, ['a', 'b', 'c', 'd'].map(photo))),
    (r) => withStrings(r, { action12Mm: { first: 2, last: 3 }, bridgeTunedDeg: 2.5 }),
    (r) => changeRepair(r, (repair) => ({ ...repair, topDamage: ['cracked'] })),
    (r) => withStrings(r, { bridgeSlackDeg: 1 }),
    (r) => tickLine(r, 'same-air', atIso),
    (r) => withRounds(r, 'first'),
    (r) => ({ ...r, box: { ...r.box, peaks: [{ id: 'p', roundId: 'r0', frequencyHz: 100, part: 'air' }] } }),
    (r) => ({ ...r, box: { ...r.box, cavity: { from: 'volume' } } }),
    (r) => tickLine(r, 'copy', atIso),
  ];
  const said = [nextThing(record)];
  for (const doing of doings) {
    expect(mayBeOpened(record)).toBe(false);
    record = doing(record);
    said.push(nextThing(record));
  }
  expect(said).toEqual([
    ...['photographs', 'strings-on', 'damage', 'strings-slack', 'same-air', 'tap-box', 'name-box-peaks'],
    ...['measure-box', 'copy', 'heat'],
  ]);
  expect(mayBeOpened(record)).toBe(true);
});

test('three photographs are not all of it; no damage is said, not supposed', () => {
  const three = changeStep(start(), 'first', (step) => withPhotos(step, ['a', 'b', 'c'].map(photo)));
  expect(isDone(three, 'photographs')).toBe(false);
  const asked = start('repair');
  expect(isDone(asked, 'damage')).toBe(false);
  expect(
    isDone(
      changeRepair(asked, (repair) => ({ ...repair, isTopSound: true })),
      'damage',
    ),
  ).toBe(true);
});

test('rounds before the removal are not those of the new top', () => {
  const old = withRounds(start('new-top'), 'first');
  expect([isDone(old, 'tap-box'), isDone(old, 'box-again')]).toEqual([true, false]);
  const later = { ...old, steps: [...old.steps, { ...old.steps[0]!, id: 'later' }] };
  expect(isDone(later, 'box-again')).toBe(true);
});

test('a drawing is the old top’s until it is kept as such', () => {
  const drawn = { ...start('new-top'), plan: startPlan('right') };
  expect([isDone(drawn, 'old-braces'), isDone(drawn, 'draw-new-top')]).toEqual([false, false]);
  const kept = keepAsOldTop(drawn);
  expect(kept.box!.repair!.oldPlan).toEqual(drawn.plan);
  expect([isDone(kept, 'old-braces'), isDone(kept, 'draw-new-top')]).toEqual([true, true]);
});

test('a tick may be taken back; what is in the record may not be unticked', () => {
  const ticked = tickLine(start('new-top'), 'copy', atIso);
  expect(isDone(ticked, 'copy')).toBe(true);
  expect(isDone(tickLine(ticked, 'copy', undefined), 'copy')).toBe(false);
  const known = withRounds(start('new-top'), 'first');
  expect(isDone(tickLine(known, 'tap-box', undefined), 'tap-box')).toBe(true);
});

test('the bridge is read at ten minutes, a day and a week', () => {
  const turns = (...after: string[]) =>
    withStrings(start('repair'), { turns: after.map((at) => ({ after: at, turnDeg: 1 })) });
  expect(isDone(turns('10 min', '1 day'), 'string-up')).toBe(false);
  expect(isDone(turns('10 min', '1 day', '1 week'), 'string-up')).toBe(true);
});
