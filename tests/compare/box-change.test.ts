import { describe, expect, test } from 'vitest';
import { boxModes } from '../../src/box/pistons.ts';
import { type BoxChange, changedBox } from '../../src/box/what-if.ts';
import { movedModes } from '../../src/compare/box-change.ts';
import { readBox } from '../../src/compare/box-reading.ts';
import { boxStates } from '../../src/compare/box-state.ts';
import { normals } from '../wood/seeded.ts';
import { boxRecord, holeRadiusM, trueBox } from './box-story.ts';

const change: BoxChange = {
  holeRadiusM: holeRadiusM - 0.003,
  depthChangeM: 0.004,
  planAreaM2: (2 * 16.5) / (116 + 96),
  bridgeMassChangeKg: 0.004,
  topStiffnessRatio: 0.9,
  backStiffnessRatio: 0.95,
};
const trueMoves = boxModes(changedBox(trueBox, change)).map(
  ({ frequencyHz }, i) => frequencyHz - boxModes(trueBox)[i]!.frequencyHz,
);

describe('what a change would do', () => {
  test('without noise the moves are those of the true box', () => {
    const record = boxRecord(boxStates);
    const forecast = movedModes(readBox(record, record.steps[0]!), change);
    expect(forecast.kind).toBe('moved');
    if (forecast.kind !== 'moved') return;
    forecast.modes.forEach(({ moveHz }, i) => {
      // the fit leaves a millionth of the constants
      expect(moveHz.value).toBeCloseTo(trueMoves[i]!, 3);
    });
  });

  test('with peaks read to 0.1 Hz the true moves lie within the stated 95 % at least 90 times in 100', () => {
    const normal = normals(61);
    let inside = 0;
    let all = 0;
    for (let trial = 0; trial < 40; trial++) {
      const record = boxRecord(['open', 'blocked', 'back-damped', 'mass'], { normal });
      const forecast = movedModes(readBox(record, record.steps[0]!), change);
      if (forecast.kind !== 'moved') continue;
      forecast.modes.forEach(({ moveHz }, i) => {
        all++;
        if (Math.abs(moveHz.value - trueMoves[i]!) <= 1.96 * moveHz.sigma) inside++;
      });
    }
    expect(all).toBeGreaterThan(100);
    // 120 draws: three standard deviations below 95 % are 89 %
    expect(inside / all).toBeGreaterThan(0.89);
  });

  test('a change that leaves no top is refused, not computed', () => {
    const record = boxRecord(boxStates);
    expect(movedModes(readBox(record, record.steps[0]!), { bridgeMassChangeKg: -0.089 })).toEqual({
      kind: 'impossible',
    });
  });

  test('without the round with the mass there is no model to move', () => {
    const record = boxRecord(['open', 'blocked']);
    expect(movedModes(readBox(record, record.steps[0]!), {})).toEqual({ kind: 'no-model' });
  });
});
