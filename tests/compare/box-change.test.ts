import { describe, expect, test } from 'vitest';
import { boxModes } from '../../src/box/pistons.ts';
import { type BoxChange, changedBox } from '../../src/box/what-if.ts';
import { movedModes } from '../../src/compare/box-change.ts';
import { readBox } from '../../src/compare/box-reading.ts';
import { boxStates } from '../../src/compare/box-state.ts';
import { HALF_WIDTH_95 } from '../../src/quantity/estimate.ts';
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
const trueThen = boxModes(changedBox(trueBox, change)).map(({ frequencyHz }) => frequencyHz);
const trueMoves = boxModes(trueBox).map(({ frequencyHz }, i) => trueThen[i]! - frequencyHz);

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

  test('with peaks read to 0.1 Hz and a volume read to 4 % the true moves lie within the stated 95 %, mode by mode', () => {
    const normal = normals(61);
    const inside = [0, 0, 0];
    const thenInside = [0, 0, 0];
    const squares = [0, 0, 0];
    const trials = 80;
    for (let trial = 0; trial < trials; trial++) {
      const told = boxRecord(['open', 'blocked', 'back-damped', 'mass'], { normal });
      const volumeL = 1000 * trueBox.volumeM3 * (1 + (0.04 / HALF_WIDTH_95) * normal());
      const record = { ...told, box: { ...told.box, cavity: { ...told.box!.cavity!, volumeL } } };
      const forecast = movedModes(readBox(record, record.steps[0]!), change);
      expect(forecast.kind).toBe('moved');
      if (forecast.kind !== 'moved') return;
      forecast.modes.forEach(({ moveHz, thenHz }, i) => {
        if (Math.abs(moveHz.value - trueMoves[i]!) <= HALF_WIDTH_95 * moveHz.sigma) inside[i]!++;
        if (Math.abs(thenHz.value - trueThen[i]!) <= HALF_WIDTH_95 * thenHz.sigma) thenInside[i]!++;
        squares[i]! += ((thenHz.value - trueThen[i]!) / thenHz.sigma) ** 2;
      });
    }
    // 80 draws of 95 %: three standard deviations are 7.3 %
    for (const each of [...inside, ...thenInside]) expect(each / trials).toBeGreaterThan(0.95 - 0.073);
    // nor is the ± wider than the scatter: chi squared of 80 draws is 80 ± 3 sqrt(160); with the peak and its move taken as
    // independent the middle mode's ± came out 30 % too wide
    for (const each of squares) expect(Math.abs(each - trials)).toBeLessThan(38);
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
