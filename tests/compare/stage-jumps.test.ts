// Truth by construction: every top falls by the same tenth when the box is closed, give or take.
import { describe, expect, test } from 'vitest';
import { aimBeforeStage, modeNow, namedReadings, type StageChange, stageJumps } from '../../src/compare/stage-jumps.ts';
import { estimate } from '../../src/quantity/estimate.ts';
import type { Support } from '../../src/record/record.ts';
import { earlierInstrument } from '../browser/earlier-instruments.ts';
import { story } from './story.ts';

const change: StageChange = { from: 'braced', to: 'closed', nameBefore: 'monopole', nameAfter: 'top' };

describe('what to aim for before a stage', () => {
  test('is the wish taken back through the jumps of the earlier instruments', () => {
    const earlier = [
      earlierInstrument('A', 200, 180),
      earlierInstrument('B', 180, 162),
      earlierInstrument('C', 190, 171),
    ];
    const aim = aimBeforeStage(earlier, change, estimate(171, 0));
    expect(aim).toMatchObject({ kind: 'expected', instruments: 3 });
    if (aim.kind !== 'expected') return;
    expect(aim.frequencyHz).toBeCloseTo(190, 9);
    expect(aim.high95Hz - aim.low95Hz).toBeCloseTo(0, 6);
  });

  test('is as wide as the jumps differ and as the wish is in doubt', () => {
    const earlier = [earlierInstrument('A', 200, 180), earlierInstrument('B', 180, 165)];
    const sure = aimBeforeStage(earlier, change, estimate(171, 0));
    const unsure = aimBeforeStage(earlier, change, estimate(171, 2));
    if (sure.kind !== 'expected' || unsure.kind !== 'expected') throw new Error('two instruments are enough');
    expect(sure.low95Hz).toBeLessThan(171 * (180 / 165));
    expect(sure.high95Hz).toBeGreaterThan(171 * (200 / 180));
    expect(unsure.high95Hz - unsure.low95Hz).toBeGreaterThan(sure.high95Hz - sure.low95Hz);
  });

  test('is not said from instruments that were never read at both stages', () => {
    const earlier = [earlierInstrument('A', 200, 180), earlierInstrument('B', 180, undefined)];
    expect(stageJumps(earlier, change)).toHaveLength(1);
    expect(aimBeforeStage(earlier, change, estimate(171, 0))).toEqual({ kind: 'too-few', have: 1, need: 2 });
  });
});

describe('readings of the piece itself', () => {
  const open: Support = { hold: 'box-open', bridge: 'glued', strung: false };
  const read = (support: Support, modesHz: readonly number[] = [180]) => story([{ modesHz, stage: 'closed', support }]);

  test.each<Support>([
    { ...open, addedMassG: 10 },
    { ...open, addedMassOnBackG: 10 },
    { ...open, hold: 'box-hole-blocked' },
    { ...open, hold: 'box-back-damped' },
  ])('with %o it is another thing', (support) => {
    expect(namedReadings(read(support))).toEqual([]);
  });

  test('as it is it counts, each named mode with its step', () => {
    expect(namedReadings(read(open, [180, 260]))).toMatchObject([
      { name: 'monopole', step: { id: 's0' }, frequencyHz: { value: 180 } },
    ]);
  });

  test('now is the last step of its stage that read it, not the first and not another stage', () => {
    const record = story([{ modesHz: [190] }, { modesHz: [186] }, { modesHz: [170], stage: 'closed', support: open }]);
    expect(modeNow(record, 'braced', 'monopole')?.value).toBe(186);
    expect(modeNow(record, 'braced', 'cross dipole')).toBeUndefined();
    expect(modeNow(record, 'strung', 'monopole')).toBeUndefined();
  });
});

test('a jump is from the last reading before to the first one after', () => {
  const open: Support = { hold: 'box-open', bridge: 'glued', strung: false };
  const told = story([
    { modesHz: [200] },
    { modesHz: [196] },
    { modesHz: [180], stage: 'closed', support: open },
    { modesHz: [177], stage: 'closed', support: open },
  ]);
  const pins = [...told.pins, { id: 'p2', stepId: 's2', mode: 'top', frequencyHz: 180 }];
  expect(stageJumps([{ ...told, pins }], change)).toMatchObject([{ fromHz: 196, toHz: 180 }]);
  // By the name it has on either side, and at that stage.
  expect(stageJumps([{ ...told, pins }], { ...change, nameAfter: 'monopole' })).toEqual([]);
  expect(stageJumps([{ ...told, pins }], { ...change, nameBefore: 'top' })).toEqual([]);
  expect(stageJumps([{ ...told, pins }], { ...change, from: 'on-rims' })).toEqual([]);
});
