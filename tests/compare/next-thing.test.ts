// The one next thing: a job followed from what is on the bench to where it ends, each thing done in turn.
import { describe, expect, test } from 'vitest';
import { nextThing } from '../../src/compare/next-thing.ts';
import { begun } from '../../src/record/edit.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { type Beginning, type InstrumentRecord, newRecord, type Stage } from '../../src/record/record.ts';
import { story } from './story.ts';

const start = (begunWith?: Beginning): InstrumentRecord =>
  begun(newRecord({ id: 'r', createdAtIso: '2026-11-25T08:00:00.000Z', name: 'n', begunWith }), 'first');
const inStage = (record: InstrumentRecord, stage: Stage): InstrumentRecord => ({
  ...record,
  steps: [...record.steps, { ...story([{ modesHz: [180] }]).steps[0]!, id: stage, stage, rounds: [] }],
});
const tapped = (record: InstrumentRecord): InstrumentRecord => ({
  ...record,
  steps: [...record.steps, { ...story([{ modesHz: [180] }]).steps[0]!, id: 'tapped', stage: 'braced' }],
});
const withTarget = (record: InstrumentRecord): InstrumentRecord => ({
  ...record,
  targets: [{ id: 't', stage: 'braced', mode: 'monopole', frequencyHz: 170, toleranceHz: 2, origin: '' }],
});
const drawn = (record: InstrumentRecord): InstrumentRecord => ({ ...record, plan: startPlan('right') });

describe('the one next thing', () => {
  test('of a record that nobody was asked about is nothing', () => {
    expect(nextThing(start())).toBeUndefined();
    expect(start().steps).toEqual([]);
  });

  test('leads a joined top to its passes', () => {
    let record = start('joined-top');
    expect(record.steps.map(({ stage }) => stage)).toEqual(['joined']);
    const said = [nextThing(record)];
    for (const done of [(r: InstrumentRecord) => inStage(r, 'thicknessed'), drawn, tapped, withTarget]) {
      record = done(record);
      said.push(nextThing(record));
    }
    expect(said).toEqual(['thin-top', 'draw-plan', 'tap-top', 'set-target', 'next-pass']);
  });

  test('does not ask again for what was left out on the way', () => {
    expect(nextThing(tapped(start('joined-top')))).toBe('set-target');
    expect(nextThing(inStage(start('board'), 'braced'))).toBe('draw-plan');
  });

  test.each([
    ['board', 'board', 'read-board'],
    ['braced-top', 'braced', 'tap-top'],
    ['closed-guitar', 'strung', 'measure-box'],
    ['old-guitar', 'strung', 'photographs'],
  ] as const)('%s begins in the stage %s with: %s', (beginning, stage, first) => {
    expect(start(beginning).steps[0]!.stage).toBe(stage);
    expect(nextThing(start(beginning))).toBe(first);
  });

  test('asks for the rounds of a box until it was tapped in three of its states', () => {
    const boxed: InstrumentRecord = { ...start('closed-guitar'), box: { cavity: { from: 'volume' } } };
    const round = story([{ modesHz: [100, 190] }]).steps[0]!.rounds[0]!;
    const states = [
      { spot: 'bridge-centre', hold: 'box-open' },
      { spot: 'bridge-centre', hold: 'box-hole-blocked' },
      { spot: 'bridge-centre', hold: 'box-back-damped' },
    ] as const;
    const after = (count: number): InstrumentRecord => ({
      ...boxed,
      steps: [
        {
          ...boxed.steps[0]!,
          rounds: states.slice(0, count).map(({ spot, hold }, i) => ({
            ...round,
            id: `r${i}`,
            spot,
            support: { hold, bridge: 'glued', strung: true },
          })),
        },
      ],
    });
    expect([0, 1, 2, 3].map((count) => nextThing(after(count)))).toEqual([
      'tap-box',
      'tap-box',
      'tap-box',
      'name-box-peaks',
    ]);
  });
});
